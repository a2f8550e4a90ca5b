/** What a controller's memory stick can hold: letters, digits and underscore, 20 characters at most, unique
 * without regard to case (common practice). */
const MOST = 20;
const CODE_MOST = 9;

/**
 * A short code a field: its id in capitals without hyphens, cut to nine characters; where two would be the
 * same the later one ends in a number. Codes follow the order given.
 */
export function fieldCodes(ids: readonly string[]): Map<string, string> {
  const codes = new Map<string, string>();
  const taken = new Set<string>();
  for (const id of ids) {
    const plain = id.replaceAll(/[^A-Za-z0-9]/g, "").toUpperCase();
    let code = plain.slice(0, CODE_MOST);
    for (let n = 2; taken.has(code); n++) code = `${plain.slice(0, CODE_MOST - String(n).length)}${n}`;
    taken.add(code);
    codes.set(id, code);
  }
  return codes;
}

/** Stands before the product in the stem of a map of what is left of a field, and before the products in its task's name. */
export const REMAINDER = "REM";

/** The stem of a remainder's map: `KETTLE_L_REM1152`, which no display takes for the whole field's. */
export const remainderStem = (code: string, bin: string, product: string): string =>
  fileStem(code, "strip", bin, `${REMAINDER}${product}`);

/** Begin of the names of a field's strip maps of one bin, where a stem is a remainder's: `KETTLE_L_`; else null. */
export const remainderOf = (stem: string): string | null =>
  new RegExp(`^([A-Z0-9]+_[A-Z0-9]+_)${REMAINDER}`).exec(stem)?.[1] ?? null;

/**
 * The stem of a map's files: field, where it goes, product. `KETTLE_L_1152` is the strip map of bin L,
 * `KETTLE_BC_1152` the broadcast map of the same product. A long product name is cut to the room there is.
 */
export function fileStem(code: string, pass: "strip" | "broadcast", bin: string, product: string): string {
  const analysis = product
    .replace(/-0$/, "")
    .replaceAll(/[^A-Za-z0-9]/g, "")
    .toUpperCase();
  const before = `${code}_${pass === "strip" ? bin.toUpperCase() : "BC"}_`;
  const stem = before + analysis.slice(0, MOST - before.length);
  if (stem.length > MOST || !/^[A-Z0-9_]+$/.test(stem))
    throw new Error(`file stem “${stem}” breaks the rule`);
  return stem;
}

/** A stem with another field's code in place of its own, cut to the room there is. */
export const stemWithCode = (stem: string, code: string): string =>
  stem.replace(/^[^_]+/, code).slice(0, MOST);
