import { placeMeaning } from "../formats/index.ts";

/** What one heading of a lab table says about its column; null where it does not say. */
export interface LabHeading {
  readonly heading: string;
  readonly column: number;
  readonly means: LabMeaning;
  readonly unit: LabUnit | null;
  /** Extractant and finish, such as `mehlich-3-icp`. */
  readonly method: string | null;
}

export type LabUnit = "ppm" | "mg/L" | "lb/ac" | "meq/100g" | "%" | "in" | "cm";

/** What a column of a lab table holds. */
export type LabMeaning =
  | "sample"
  | "labNumber"
  | "field"
  | "latitude"
  | "longitude"
  | "depth"
  | "depthTop"
  | "depthBottom"
  | "date"
  | "analyte"
  | "value"
  | "unit"
  | "method"
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
  const means = placeMeaning(heading) ?? meaningOf(text, tokens);
  const method = methodOf(means, text);
  return { heading, column, means, unit: unitOf(text), method };
}

const NAMES: readonly (readonly [LabMeaning, readonly string[]])[] = [
  [
    "sample",
    [
      ...[
        "sample",
        "sampleid",
        "samplenumber",
        "sampleno",
        "sampno",
        "sampnum",
        "samp",
        "id",
        "point",
        "pointid",
      ],
      ...["pointno", "pt", "probe", "no", "probenr", "probennr", "probenummer", "probennummer"],
    ],
  ],
  ["labNumber", ["labno", "labnumber", "labnum", "labid"]],
  ["field", ["field", "fieldid", "fieldname", "schlag", "schlagname"]],
  ["depth", ["depth", "depthin", "depthcm", "sampledepth", "sampledepthin", "tiefe", "tiefecm"]],
  ["depthTop", ["depthtop", "depthtopin", "depthtopcm", "startdepth", "startingdepth", "topdepth"]],
  [
    "depthBottom",
    ["depthbottom", "depthbottomin", "depthbottomcm", "enddepth", "endingdepth", "bottomdepth"],
  ],
  [
    "date",
    [
      "date",
      "sampledate",
      "datesampled",
      "sampledon",
      "sampled",
      "datecollected",
      "collected",
      "datum",
      "probedatum",
    ],
  ],
  ["analyte", ["analyte", "element", "nutrient", "parameter", "constituent", "test", "testname"]],
  ["value", ["value", "result", "testresult"]],
  ["unit", ["unit", "units", "uom", "valueunit"]],
  ["method", ["method", "extractant", "extraction", "testmethod"]],
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
  if (["cec", "kak", "kationenaustauschkapazit"].includes(first)) return "CEC";
  if (["om", "organic"].includes(first)) return "OM";
  if (["k", "potassium", "kalium"].includes(first) || /^(k[ _-]?m3|m3[ _-]?k|exch\w*[ _-]k)\b/.test(text))
    return "K";
  const phosphorus = /^(p[ _-]?m3|m3[ _-]?p|mehlich\S*[ _-]p|(weak )?bray|olsen)\b/;
  if (["p", "phosphorus", "phosphor", "p1"].includes(first) || phosphorus.test(text)) return "P";
  return "other";
}

/** The unit a heading or a cell of units states. `pp2m` is pounds in two million: lb/ac. */
export function unitOf(words: string): LabUnit | null {
  const text = words.toLowerCase();
  if (/ppm|mg ?\/ ?kg|mg_kg/.test(text)) return "ppm";
  if (/mg ?\/ ?l\b/.test(text)) return "mg/L";
  if (/(lbs?|#)[ _]?\/[ _]?(ac?|acre)\b|lbs?_?ac\b|pp2m/.test(text)) return "lb/ac";
  if (/meq|cmol/.test(text)) return "meq/100g";
  if (/%|\bpct\b|_pct\b|\bpercent\b/.test(text)) return "%";
  if (/(^|[^a-z])(in|inch|inches)([^a-z]|$)/.test(text)) return "in";
  return /(^|[^a-z])cm([^a-z]|$)/.test(text) ? "cm" : null;
}

/** The extractant words state for P or K; null when they state none, or one that no guide here knows. */
export function methodOf(means: LabMeaning, words: string): string | null {
  const text = words.toLowerCase();
  if (means === "P" || means === "P2O5") return methodOfP(text);
  return means === "K" || means === "K2O" ? methodOfK(text) : null;
}

const MEHLICH_3 = /mehlich[^a-z0-9]*(3|iii)\b|\bm[ _-]?3\b|_m3/;

function methodOfP(text: string): string | null {
  if (MEHLICH_3.test(text)) {
    if (/icp/.test(text)) return "mehlich-3-icp";
    return /color/.test(text) ? "mehlich-3-colorimetric" : "mehlich-3";
  }
  // Bray alone may be the weak extract (P1, 1:10) or the strong one (P2, 1:7): it must say which.
  if (/bray/.test(text)) return /\bp[ _-]?1\b|bray[ _-]?1\b|weak|1:10/.test(text) ? "bray-p1" : null;
  return /olsen|bicarb/.test(text) ? "olsen" : null;
}

function methodOfK(text: string): string | null {
  if (MEHLICH_3.test(text)) return "mehlich-3";
  return /nh4oac|ammonium[ _-]?acetate|\baa\b/.test(text) ? "ammonium-acetate" : null;
}
