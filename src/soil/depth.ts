import { CM_PER_IN } from "../units/index.ts";
/** Top and bottom of a core with its unit, `0-6in`; null when the text does not say all three. `unit` is one stated
 * elsewhere, such as in the heading. */
export function readDepth(text: string, unit: "in" | "cm" | null): string | null {
  const found =
    /^\s*(\d+(?:\.\d+)?)\s*(?:in|cm|")?\s*(?:-|–|to|_)\s*(\d+(?:\.\d+)?)\s*(in|inch|inches|"|cm)?\.?\s*$/i.exec(
      text,
    );
  if (found === null) return null;
  const [top, bottom] = [Number(found[1]), Number(found[2])];
  const stated = found[3] === undefined ? unit : found[3].toLowerCase() === "cm" ? "cm" : "in";
  return stated === null || top >= bottom ? null : `${top}-${bottom}${stated}`;
}

/** Whether a core `0-7in` is the furrow slice of 6 to 7 in. that weighs two million pounds an acre. */
export function isFurrowSlice(depth: string): boolean {
  const found = /^0-(\d+(?:\.\d+)?)(in|cm)$/.exec(depth);
  if (found === null) return false;
  const inches = Number(found[1]) / (found[2] === "cm" ? CM_PER_IN : 1);
  return inches >= 5.9 && inches <= 7.1;
}
