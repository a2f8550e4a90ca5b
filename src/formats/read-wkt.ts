/** One bracketed node of the text form of a coordinate system: `UNIT["Degree",0.0174532925199433]`. */
export interface WktNode {
  readonly keyword: string;
  readonly values: readonly (string | number | WktNode)[];
}

/** The root node of well-known text (OGC 01-009, both bracket forms), or undefined when it cannot be read. */
export function readWkt(text: string): WktNode | undefined {
  const tokens = text.match(/"(?:[^"]|"")*"|[[\](),]|[^\s[\](),"]+/g) ?? [];
  let at = 0;
  const node = (depth: number): WktNode | undefined => {
    const keyword = tokens[at];
    if (keyword === undefined || !/^[a-z][a-z0-9_]*$/i.test(keyword)) return undefined;
    const opening = tokens[at + 1];
    if ((opening !== "[" && opening !== "(") || depth > 20) return undefined;
    at += 2;
    const values: (string | number | WktNode)[] = [];
    for (;;) {
      const token = tokens[at];
      if (token === undefined) return undefined;
      if (token.startsWith('"')) {
        values.push(token.slice(1, -1).replaceAll('""', '"'));
        at += 1;
      } else if (/^[a-z]/i.test(token)) {
        const opens = tokens[at + 1] === "[" || tokens[at + 1] === "(";
        const value = opens ? node(depth + 1) : token;
        if (value === undefined) return undefined;
        values.push(value);
        if (!opens) at += 1;
      } else {
        const value = Number(token);
        if (!Number.isFinite(value)) return undefined;
        values.push(value);
        at += 1;
      }
      const after = tokens[at];
      at += 1;
      if (after === "]" || after === ")") return { keyword: keyword.toUpperCase(), values };
      if (after !== ",") return undefined;
    }
  };
  const root = node(0);
  return at === tokens.length ? root : undefined;
}

/** The name of a coordinate system: the first text of its node. */
export function wktName(root: WktNode): string {
  const first = root.values[0];
  return typeof first === "string" ? first : root.keyword;
}

/** The first child node with one of the keywords. */
export function wktChild(node: WktNode, ...keywords: readonly string[]): WktNode | undefined {
  return node.values.find((value) => typeof value === "object" && keywords.includes(value.keyword)) as
    | WktNode
    | undefined;
}
