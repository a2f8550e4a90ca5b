/** A part of a JSON text that is open: its keys so far, or how many values of a list went before. */
interface Open {
  readonly keys: Set<string> | null;
  /** The key or place that stands now. */
  at: string | number;
}

const TOKENS = /"(?:[^"\\]|\\.)*"(\s*:)?|[{}[\],]/g;

/**
 * The first key that an object of a JSON text holds twice, with the way to it, such as `fields[0].crop`; null without one.
 * A reader of JSON takes the last of them and says nothing. The text must be JSON.
 */
export function keyTwice(text: string): string | null {
  const open: Open[] = [];
  for (const [token, colon] of text.matchAll(TOKENS)) {
    const here = open.at(-1);
    if (token === "{") open.push({ keys: new Set(), at: "" });
    else if (token === "[") open.push({ keys: null, at: 0 });
    else if (token === "}" || token === "]") open.pop();
    else if (token === ",") {
      if (here !== undefined && typeof here.at === "number") here.at += 1;
    } else if (colon !== undefined && here?.keys) {
      here.at = JSON.parse(token.slice(0, -colon.length)) as string;
      if (here.keys.has(here.at)) return pathOf(open);
      here.keys.add(here.at);
    }
  }
  return null;
}

const pathOf = (open: readonly Open[]): string =>
  open
    .map(({ at }) => (typeof at === "number" ? `[${at}]` : `.${at}`))
    .join("")
    .slice(1);
