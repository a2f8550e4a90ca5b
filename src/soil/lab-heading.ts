/** What one heading of a lab table says about its column; null where it does not say. */
export interface LabHeading {
  readonly heading: string;
  readonly column: number;
  readonly means: LabMeaning;
  readonly unit: "ppm" | "mg/L" | "lb/ac" | "meq/100g" | "%" | null;
  /** Extractant and finish, such as `mehlich-3-icp`. */
  readonly method: string | null;
}

export type LabMeaning =
  | "sample"
  | "field"
  | "latitude"
  | "longitude"
  | "depth"
  | "P"
  | "K"
  | "CEC"
  | "pH"
  | "bufferPH"
  | "OM"
  | "P2O5"
  | "K2O"
  | "other";

/**
 * Read one heading. Element, unit and extractant are only taken when the heading states them; nothing is
 * guessed. Synonyms: common practice.
 */
export function readHeading(heading: string, column: number): LabHeading {
  const text = heading.toLowerCase();
  const tokens = text.split(/[^a-z0-9%#]+/).filter((token) => token !== "");
  const means = meaningOf(text, tokens);
  const method = means === "P" ? methodOfP(text) : means === "K" ? methodOfK(text) : null;
  return { heading, column, means, unit: unitOf(text, tokens), method };
}

const NAMES: readonly (readonly [LabMeaning, readonly string[]])[] = [
  [
    "sample",
    ["id", "sample", "sampleid", "samplenumber", "sampno", "point", "pt", "probe", "labno", "labnumber"],
  ],
  ["field", ["field", "fieldid", "fieldname"]],
  ["latitude", ["lat", "latitude", "latdd", "y"]],
  ["longitude", ["lon", "lng", "long", "longitude", "londd", "x"]],
  ["depth", ["depth", "depthin", "sampledepth"]],
  ["OM", ["om", "organicmatter", "ompct", "om%", "organicmatterpct", "organicmatter%"]],
];

function meaningOf(text: string, tokens: readonly string[]): LabMeaning {
  const joined = tokens.join("");
  for (const [meaning, names] of NAMES) if (names.includes(joined)) return meaning;
  if (/\bbuffer\b|\bbph\b|buffer_?ph/.test(text)) return "bufferPH";
  const first = tokens[0] ?? "";
  if (first === "ph") return "pH";
  if (tokens.includes("p2o5")) return "P2O5";
  if (tokens.includes("k2o")) return "K2O";
  if (first === "cec") return "CEC";
  if (["om", "organic"].includes(first)) return "OM";
  if (["k", "potassium"].includes(first) || /^(k[ _-]?m3|m3[ _-]?k|exch\w*[ _-]k)\b/.test(text)) return "K";
  const phosphorus = /^(p[ _-]?m3|m3[ _-]?p|mehlich\S*[ _-]p|(weak )?bray|olsen)\b/;
  if (["p", "phosphorus", "p1"].includes(first) || phosphorus.test(text)) return "P";
  return "other";
}

function unitOf(text: string, tokens: readonly string[]): LabHeading["unit"] {
  if (/ppm|mg ?\/ ?kg|mg_kg/.test(text)) return "ppm";
  if (/mg ?\/ ?l\b/.test(text)) return "mg/L";
  if (/(lbs?|#)[ _]?\/[ _]?ac?\b|lbs?_?ac\b|pp2m/.test(text)) return "lb/ac";
  if (/meq|cmol/.test(text)) return "meq/100g";
  if (tokens.includes("%") || tokens.includes("pct") || text.includes("%")) return "%";
  return null;
}

function methodOfP(text: string): string | null {
  if (/mehlich|\bm[ _-]?3\b|_m3/.test(text)) {
    if (/icp/.test(text)) return "mehlich-3-icp";
    return /color/.test(text) ? "mehlich-3-colorimetric" : "mehlich-3";
  }
  if (/bray|\bp1\b/.test(text)) return "bray-p1";
  return /olsen|bicarb/.test(text) ? "olsen" : null;
}

function methodOfK(text: string): string | null {
  if (/mehlich|\bm[ _-]?3\b|_m3/.test(text)) return "mehlich-3";
  return /nh4oac|ammonium[ _-]?acetate|\baa\b/.test(text) ? "ammonium-acetate" : null;
}
