/** An element as the strict reader below saw it. */
export interface Seen {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
}

const NAME = /^[A-Za-z][A-Za-z0-9:-]*/;
const ENTITY = /^&(?:amp|lt|gt|quot|#\d+|#x[0-9a-f]+);/i;

/**
 * Reads markup more strictly than a browser: every element closed in order, attributes quoted and given once, no
 * bare & or <, known entities alone. Throws with the place of the first fault. `<!DOCTYPE html>` may begin it.
 */
export function readStrictly(markup: string): Seen[] {
  const seen: Seen[] = [];
  const open: string[] = [];
  let at = markup.startsWith("<!DOCTYPE html>") ? 15 : 0;
  const fail = (what: string): never => {
    throw new Error(`${what} at ${at}: ${JSON.stringify(markup.slice(Math.max(0, at - 40), at + 40))}`);
  };
  while (at < markup.length) {
    if (markup[at] !== "<") {
      if (markup[at] === "&" && !ENTITY.test(markup.slice(at, at + 12))) fail("bare &");
      if (markup[at] === ">") fail("bare >");
      if (open.length === 0 && /\S/.test(markup[at]!)) fail("text outside the root");
      at++;
      continue;
    }
    if (markup[at + 1] === "/") {
      const end = markup.indexOf(">", at);
      const name = markup.slice(at + 2, end);
      if (open.pop() !== name) fail(`</${name}> closes another`);
      at = end + 1;
      continue;
    }
    at++;
    const name = NAME.exec(markup.slice(at, at + 40))?.[0] ?? fail("no name");
    at += name.length;
    const attributes = new Map<string, string>();
    while (markup[at] === " " && markup[at + 1] !== "/") {
      at++;
      const key = NAME.exec(markup.slice(at, at + 40))?.[0] ?? fail("no attribute name");
      at += key.length;
      if (markup.slice(at, at + 2) !== '="') fail("attribute without quotes");
      const end = markup.indexOf('"', at + 2);
      const value = markup.slice(at + 2, end);
      if (value.includes("<")) fail("bare < in an attribute");
      for (const [i, character] of [...value].entries()) {
        if (character === "&" && !ENTITY.test(value.slice(i))) fail("bare & in an attribute");
      }
      if (attributes.has(key)) fail(`${key} given twice`);
      attributes.set(key, value);
      at = end + 1;
    }
    seen.push({ name, attributes });
    if (markup[at] === "/" && markup[at + 1] === ">") at += 2;
    else if (markup[at] === ">") {
      open.push(name);
      at++;
      if (name === "style") at = markup.indexOf("</style>", at);
    } else fail("tag not ended");
  }
  if (open.length > 0) fail(`${open.join(", ")} left open`);
  return seen;
}

/** What a drawing or a sheet may not have; empty when all is well. */
export function faultsOf(seen: readonly Seen[], isSvg: boolean): string[] {
  const faults: string[] = [];
  const ids = new Set<string>();
  for (const { name, attributes } of seen) {
    if (
      ["script", "iframe", "object", "embed", "link", "image", "img", "use", "foreignObject"].includes(name)
    ) {
      faults.push(`<${name}>`);
    }
    if (isSvg && name === "style") faults.push("<style>");
    for (const [key, value] of attributes) {
      if (key === "style" || key.startsWith("on") || (isSvg && key === "class"))
        faults.push(`${name} ${key}`);
      if (/https?:|\/\//.test(value) && !(key === "xmlns" && value === "http://www.w3.org/2000/svg")) {
        faults.push(`${name} ${key}=${value}`);
      }
      if (/NaN|Infinity|undefined/.test(value)) faults.push(`${name} ${key}=${value.slice(0, 60)}`);
      if (key === "id" && ids.has(value)) faults.push(`id ${value} twice`);
      if (key === "id") ids.add(value);
    }
  }
  for (const { name, attributes } of seen) {
    for (const [key, value] of attributes) {
      const to =
        /^url\(#(.*)\)$/.exec(value)?.[1] ?? (key === "href" ? /^#(.*)$/.exec(value)?.[1] : undefined);
      if (to !== undefined && !ids.has(to)) faults.push(`${name} ${key} leads to no #${to}`);
    }
  }
  return faults;
}
