import { placeMeaning, unitOf } from "../formats/index.ts";
import { isBufferHeading } from "./buffer-ph.ts";
import type { LabHeading, LabMeaning } from "./sample-types.ts";

/**
 * Read one heading. Element, unit and extractant are only taken when the heading states them; nothing is
 * guessed. Synonyms: common practice.
 */
export function readHeading(heading: string, column: number): LabHeading {
  const text = withoutDots(heading.toLowerCase());
  const tokens = text.split(/[^a-z0-9%#]+/).filter((token) => token !== "");
  const means = placeMeaning(heading) ?? meaningOf(text, tokens);
  const method = methodOf(means, text);
  return { heading, column, means, unit: unitOf(text), method };
}

/** Letters with dots are one word, and a word's last dot says nothing: `C.E.C.`, `O.M. (%)`, `lbs./ac`. */
const withoutDots = (text: string): string =>
  text
    .replaceAll(/(?<![a-z0-9])[a-z](?:\.[a-z])+(?![a-z0-9])/g, (letters) => letters.replaceAll(".", ""))
    .replaceAll(/(?<=[a-z])\.(?![a-z0-9])/g, "");

/** A depth's end as labs word it: `Beg Depth`, `Depth Top (in)`. */
function depthNames(ends: readonly string[]): string[] {
  return ends.flatMap((end) =>
    ["", "in", "inch", "inches", "cm"].flatMap((unit) => [`${end}depth${unit}`, `depth${end}${unit}`]),
  );
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
      ...["smpid", "smpno", "smpnum", "smpnumber", "ptid", "ptno"],
      ...[
        "pointno",
        "pointnumber",
        "pt",
        "probe",
        "no",
        "probenr",
        "probennr",
        "probenummer",
        "probennummer",
      ],
    ],
  ],
  ["labNumber", ["labno", "labnumber", "labnum", "labid"]],
  [
    "field",
    [
      ...["field", "fieldid", "fieldname", "fld", "fieldno", "schlag", "schlagname"],
      ...["clientfield", "growerfield", "farmfield", "fieldtract"],
    ],
  ],
  ["depth", [...depthNames(["", "sample", "sampling", "core"]), "tiefe", "tiefecm"]],
  ["depthTop", depthNames(["top", "beg", "begin", "beginning", "start", "starting", "from", "upper"])],
  ["depthBottom", depthNames(["bottom", "end", "ending", "to", "lower"])],
  [
    "date",
    [
      "date",
      "sampledate",
      "sampdate",
      "samplingdate",
      "dateofsampling",
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
  ["OM", ["om", "ompct"]],
];

function meaningOf(text: string, tokens: readonly string[]): LabMeaning {
  const joined = tokens.join("").replace(/#$/, "no");
  for (const [meaning, names] of NAMES) if (names.includes(joined)) return meaning;
  if (isBufferHeading(tokens)) return "bufferPH";
  const first = testNamed(tokens);
  if (first === "ph") return "pH";
  if (tokens.includes("p2o5")) return "P2O5";
  if (tokens.includes("k2o")) return "K2O";
  if (["cec", "ecec", "kak", "kationenaustauschkapazit"].includes(first)) return "CEC";
  if (/^(cation[ _-]exchange[ _-]cap|sum[ _-]of[ _-]cations)/.test(text)) return "CEC";
  if (isOrganicMatter(tokens)) return "OM";
  if (tokens.some((token) => NO_TEST.test(token)) || /^(mehlich[ _-]?(1|i)|m1)\b/.test(text)) return "other";
  if (["k", "potassium", "kalium"].includes(first)) return "K";
  const phosphorus = /^(p[ _-]?m3|m3[ _-]?p|mehlich\S*[ _-]p|(weak )?bray|olsen)\b/;
  if (["p", "phosphorus", "phosphor", "p1"].includes(first) || phosphorus.test(text)) return "P";
  return "other";
}

/** `Org. Matter`, `% OM`, `Organic (LOI)`; organic carbon or nitrogen are other tests. */
function isOrganicMatter(tokens: readonly string[]): boolean {
  const words = tokens.filter(
    (token) => !BEFORE_A_TEST.has(token) && !["%", "pct", "percent", "loi"].includes(token),
  );
  const [first = "", next = ""] = words;
  if (first === "organic") return !/^(c|carbon|n|nitrogen|p|phosphorus|s|sulfur)$/.test(next);
  if (first === "org") return /^mat(ter)?%?$/.test(next);
  return (first === "o" && next === "m") || /^(om|org(anic)?mat(ter)?)(%|pct)?$/.test(first);
}

/** Words of a heading that stand before the test they belong to: extractant, finish, unit, the soil itself. */
const BEFORE_A_TEST = new Set([
  ...["nh4oac", "nh4ac", "nh4", "oac", "ammonium", "amm", "acetate", "acet", "aa", "neutral", "1n"],
  ...["mehlich", "mehlich3", "m3", "3", "iii", "icp", "colorimetric", "color", "bray", "bray1", "weak"],
  ...["olsen", "sodium", "bicarb", "bicarbonate", "nahco3", "extractable", "ext", "available", "avail"],
  ...["soil", "test", "1", "2", "water", "h2o", "ppm", "mg", "kg", "lb", "lbs", "ac", "a", "est", "calc"],
  ...["moist", "slurry"],
]);

/** What a lab says about a nutrient beside its test: share of the cations, recommendation, rating. */
const NO_TEST = /^(sat\w*|bs|base|ratio|rec|recs|recomm\w*|rating|removal|uptake)$/;

/** The word that names the test: the first that is neither extractant nor unit, without what is written onto it. */
function testNamed(tokens: readonly string[]): string {
  const word = tokens.find((token) => !BEFORE_A_TEST.has(token) && !token.startsWith("exch")) ?? "";
  const bare = word
    .replace(/(ppm|mgkg|lbac|lbsac|pp2m)$/, "")
    .replace(/^(m3|bray1?|olsen|nh4oac)(?=[pk]1?$)/, "");
  return /^(k|p|p1)(m3)?$/.exec(bare)?.[1] ?? word;
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
  if (/bray/.test(text))
    return /\bp[ _-]?1\b(?!:)|bray[ _-]?p?[ _-]?1(?![\d:])|weak|1:10/.test(text) ? "bray-p1" : null;
  return /olsen|bicarb/.test(text) ? "olsen" : null;
}

function methodOfK(text: string): string | null {
  const moist = saysMoist(text) ? "-moist" : "";
  if (MEHLICH_3.test(text)) return `mehlich-3${moist}`;
  return /nh4[ _-]?o?ac|amm(onium)?[ ._-]*acet|(^|[^a-z0-9])aa([^a-z0-9]|$)/.test(text)
    ? `ammonium-acetate${moist}`
    : null;
}

/** Whether words say that the soil was not dried before it was extracted; K reads another value then. */
export const saysMoist = (words: string): boolean => /(^|[^a-z])moist([^a-z]|$)|slurry/i.test(words);
