import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { readCsv } from "../../src/formats/index.ts";

/** One row of tests/data/agronomy/check-values.csv, its inputs taken apart. */
export interface CheckRow {
  readonly line: number;
  readonly guide: string;
  readonly crop: string;
  readonly nutrient: string;
  readonly inputs: Readonly<Record<string, string>>;
  readonly expected: string;
  readonly source: string;
  readonly verified: "text" | "memory";
}

const name = "check-values.csv";
const table = readCsv(readFileSync(resolve(import.meta.dirname, "../data/agronomy", name)), name);

export const checkRows: readonly CheckRow[] = table.rows.map(({ line, cells }) => {
  const cell = (heading: string): string => cells[table.headings.indexOf(heading)]!;
  const pairs = cell("inputs")
    .split(";")
    .filter((part) => part !== "")
    .map((part) => [part.slice(0, part.indexOf("=")).trim(), part.slice(part.indexOf("=") + 1).trim()]);
  return {
    line,
    guide: cell("guide"),
    crop: cell("crop"),
    nutrient: cell("nutrient"),
    inputs: Object.fromEntries(pairs) as Record<string, string>,
    expected: cell("expected"),
    source: cell("source"),
    verified: cell("verified") as CheckRow["verified"],
  };
});

/** Names of the rows' guides and tests, as the tool has them. */
export const guideIdOf: Readonly<Record<string, string>> = {
  "tri-state-1995": "tri-state-1995",
  "tri-state-2020": "tri-state-2020",
  "isu-pm1688-2013": "iowa-2013",
  "kstate-sufficiency": "kansas-sufficiency",
  "sdsu-ec750": "south-dakota",
  "unl-ec117": "nebraska",
  "unl-critical-levels": "nebraska",
  "illinois-handbook": "illinois",
};

export const methodsOf: Readonly<Record<string, readonly string[]>> = {
  BrayP1: ["bray-p1"],
  Olsen: ["olsen"],
  Mehlich3: ["mehlich-3"],
  "Mehlich3-ICP": ["mehlich-3-icp"],
  "Mehlich3-col or BrayP1": ["mehlich-3-colorimetric", "bray-p1"],
  "BrayP1 or Mehlich3-col": ["bray-p1", "mehlich-3-colorimetric"],
  NH4OAc: ["ammonium-acetate"],
  "NH4OAc or Mehlich3": ["ammonium-acetate", "mehlich-3"],
  "NH4OAc or Mehlich3, dried": ["ammonium-acetate", "mehlich-3"],
  "moist or slurry": ["ammonium-acetate-moist", "mehlich-3-moist"],
  "BrayP1 lb/ac": ["bray-p1"],
  "NH4OAc lb/ac": ["ammonium-acetate"],
  "BrayP1 ppm": ["bray-p1"],
};

/** Rows with the names of their tests; each says whether it proves the guide or only our arithmetic. */
export const named = (rows: readonly CheckRow[]): [string, CheckRow][] =>
  rows.map((row) => {
    const weight = row.verified === "text" ? "read in its source" : "from memory: arithmetic only";
    const inputs = Object.entries(row.inputs).map(([key, value]) => `${key} ${value}`);
    const what = [row.guide, row.crop, row.nutrient, ...inputs].join(", ");
    return [`line ${row.line}: ${what} = ${row.expected} (${weight})`, row];
  });
