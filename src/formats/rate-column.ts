import { InputError, type Notice, type Question } from "../errors/index.ts";
import { KG_PER_HA_PER_LB_PER_AC } from "../units/index.ts";
import { type Feature, type Layer, namedOnes, type Skipped } from "./feature.ts";
import { isMissingMark, isNotDetected } from "./missing-marks.ts";
import { type NumberCell, numberIn, numberMarks } from "./number-marks.ts";
import { plainName } from "./plain-name.ts";
import type { FileAnswers } from "./settle-system.ts";

/** Units a file may give rates in. */
export type RateUnit = "lb/ac" | "kg/ha";

/** lb/ac in one of each. */
export const LB_PER_AC_IN: Readonly<Record<RateUnit, number>> = {
  "lb/ac": 1,
  "kg/ha": 1 / KG_PER_HA_PER_LB_PER_AC,
};

/** Rates of a layer's features, lb/ac, in the order of `layer.features`. */
export interface Rates {
  readonly column: string;
  /** Unit of the file's values. */
  readonly readUnit: RateUnit;
  readonly lbPerAc: readonly number[];
}

interface RateReading {
  /** The layer without the features that an answer leaves out. */
  readonly layer: Layer;
  /** Null while a question is open, or when there is no rate column. */
  readonly rates: Rates | null;
  readonly questions: readonly Question[];
}

/** The column our own prescriptions carry; it is taken before all others. */
export const OWN_RATE_COLUMN = "RATE_LBAC";

/** Words of columns that name a feature or say its size, and words that may stand beside them (common practice). */
const NAMING = wordSet(
  "zone id fid no num number record rec sample name objectid gid oid label acres ac acre area ha hectares length leng len width perimeter",
);
const FILLER = wordSet("shape shp ogc field poly polygon calc gis m m2 ft sq sqft");

function wordSet(words: string): ReadonlySet<string> {
  return new Set(words.split(" "));
}

/**
 * Columns that may hold rates: numeric ones, and texts that hold only numbers and missing marks, that are neither
 * identifiers nor areas or lengths by name.
 */
export function rateCandidates(layer: Pick<Layer, "columns" | "features">): string[] {
  return layer.columns
    .filter(({ name, kind }) => {
      if (isNaming(name) || kind === "boolean" || kind === "date") return false;
      if (kind === "number") return true;
      const texts = layer.features.map(({ properties }) => String(properties[name] ?? ""));
      const numbers = texts.filter((text) => !isMissingMark(text) && !isNotDetected(text));
      return numbers.length > 0 && numbers.every((text) => /^[+-]?[\d.,]*\d[\d.,]*$/.test(text.trim()));
    })
    .map(({ name }) => name);
}

function isNaming(name: string): boolean {
  const tokens = name
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .map((token) => token.replace(/\d+$/, ""))
    .filter((token) => token !== "");
  return (
    tokens.some((token) => NAMING.has(token)) &&
    tokens.every((token) => NAMING.has(token) || FILLER.has(token))
  );
}

/** The unit a column's name carries (`P2O5_LBAC`, `Applied_lb_ac`); null when it carries none. */
function rateUnitOf(name: string): RateUnit | null {
  const plain = plainName(name);
  if (/(lbs?|pounds)(per)?(ac|acre|a)$/.test(plain)) return "lb/ac";
  return /kg(per)?ha$/.test(plain) ? "kg/ha" : null;
}

/** Whether a column's name says rate, unit of a rate, oxide or fertilizer (common practice). */
const saysRate = (name: string): boolean =>
  rateUnitOf(name) !== null ||
  /rate|dose|target|appl|(^|[^a-z])(lbs?|kg)([^a-z]|$)|p2o5|k2o|phosph|potash|dap|tsp|mop|urea|\d+-\d+-\d+/i.test(
    name,
  );

/** The unit of rates: what every name carries, else the question `unit.rate`; null while it is open. */
export function settleRateUnit(
  path: string,
  names: readonly string[],
  shown: string,
  answers: FileAnswers,
  questions: Question[],
): RateUnit | null {
  const stated = new Set(names.map(rateUnitOf));
  const [only] = stated;
  if (stated.size === 1 && only !== null && only !== undefined) return only;
  const answer = answers["unit.rate"];
  if (answer === "lb/ac" || answer === "kg/ha") return answer;
  const wrong = answer === undefined ? "" : ` “${answer}” is not one of the choices.`;
  questions.push({
    key: "unit.rate",
    text: `In which unit are the rates?${wrong}`,
    choices: ["lb/ac", "kg/ha"],
    seen: `${path}, column ${names.join(" and ")}: ${shown}`,
  });
  return null;
}

/**
 * The rates of zones (`needed` false: only where a heading says that it holds some) or of a prescription. Column: our own, else the only candidate, else the question `rate-column`.
 * A missing rate is the question `missing-rate` (`leave-out` or a number) and never 0; the unit `unit.rate`.
 * Throws `negative-rate`, and `no-rate-column` when `needed` and there is none.
 */
export function readRates(layer: Layer, answers: FileAnswers, needed: boolean): RateReading {
  // Of zones a number may be a yield, a class or a slope: rates are what a heading calls so.
  const candidates = rateCandidates(layer).filter((name) => needed || saysRate(name));
  const own = candidates.find((name) => name.toUpperCase() === OWN_RATE_COLUMN);
  const answered = layer.columns.find(({ name }) => name === answers["rate-column"])?.name;
  const column = answered ?? own ?? (candidates.length === 1 ? candidates[0] : undefined);
  if (column === undefined && candidates.length === 0) {
    if (!needed) return { layer, rates: null, questions: [] };
    const has = layer.columns.map(({ name }) => name).join(", ") || "no attribute table";
    throw new InputError(
      "no-rate-column",
      `${layer.path}: no column with rates (${has})`,
      "Choose the file with the rates, or name the column.",
    );
  }
  if (column === undefined) {
    const rows = candidates.map((name) => `${name}: ${valuesShown(layer, name)}`);
    const wrong =
      answers["rate-column"] === undefined ? "" : ` There is no column “${answers["rate-column"]}”.`;
    const text = `Which column holds the rates?${wrong}`;
    const seen = `${layer.path}; ${rows.join("; ")}`;
    return { layer, rates: null, questions: [{ key: "rate-column", text, choices: candidates, seen }] };
  }
  return readColumn(layer, column, answers);
}

function readColumn(layer: Layer, column: string, answers: FileAnswers): RateReading {
  const questions: Question[] = [];
  const notices: Notice[] = [];
  const marks = numberMarks(textCells(layer, [column]), layer.path, answers);
  questions.push(...marks.questions);
  notices.push(...marks.notices);
  const values = layer.features.map(({ properties }) => numberIn(properties[column], marks));
  layer.features.forEach(({ record }, index) => {
    refuseNegativeRate(layer, record, column, values[index]!);
  });
  const missing = layer.features.filter((_, index) => values[index] === null);
  const filled = settleMissing(layer, column, missing, answers, questions);
  const unit = settleRateUnit(layer.path, [column], valuesShown(layer, column), answers, questions);
  const skipped: Skipped[] =
    filled === null ? missing.map(({ record }) => ({ record, reason: "no rate" })) : [];
  if (missing.length > 0 && questions.every(({ key }) => key !== "missing-rate")) {
    const named = namedOnes(
      layer.one,
      missing.map(({ record }) => record),
    );
    const done = filled === null ? "left out" : `taken as ${filled}`;
    notices.push({
      code: "missing-rate",
      message: `${named}: no rate in ${column}; ${done}`,
      where: layer.path,
    });
  }
  const kept = layer.features.filter((_, index) => values[index] !== null || filled !== null);
  const left: Layer = {
    ...layer,
    features: kept,
    skipped: [...layer.skipped, ...skipped],
    notices: [...layer.notices, ...notices],
  };
  if (unit === null || questions.length > 0) return { layer: left, rates: null, questions };
  const lbPerAc = values.flatMap((value) =>
    value === null && filled === null ? [] : [(value ?? filled!) * LB_PER_AC_IN[unit]],
  );
  return { layer: left, rates: { column, readUnit: unit, lbPerAc }, questions };
}

/** The rate to be used where none is given; null when those features are left out, or while that is asked. */
function settleMissing(
  layer: Layer,
  column: string,
  missing: readonly Feature[],
  answers: FileAnswers,
  questions: Question[],
): number | null {
  if (missing.length === 0) return null;
  const answer = answers["missing-rate"];
  const value = answer === undefined || answer.trim() === "" ? Number.NaN : Number(answer);
  if (Number.isFinite(value) && value >= 0) return value;
  if (answer === "leave-out") return null;
  const named = namedOnes(
    layer.one,
    missing.map(({ record }) => record),
  );
  const shown = missing.slice(0, 6).map(({ record, properties }) => {
    return `${layer.one} ${record}: ${String(properties[column] ?? "").trim() || "blank"}`;
  });
  questions.push({
    key: "missing-rate",
    text: `${named} of ${layer.path} ${missing.length === 1 ? "has" : "have"} no rate. Leave them out, or which rate?`,
    choices: [],
    seen: `column ${column}; ${shown.join("; ")} (no rate is never 0; leave-out or a number)`,
  });
  return null;
}

/** Throws `negative-rate`. */
export function refuseNegativeRate(
  { path, one }: Pick<Layer, "path" | "one">,
  record: number,
  column: string,
  rate: number | null,
): void {
  if (rate === null || rate >= 0) return;
  throw new InputError(
    "negative-rate",
    `${path}, ${one} ${record}: ${column} is ${rate}, below zero`,
    "Mend the rate in the file.",
  );
}

/** The texts that columns hold, feature by feature, with the words that name them. */
export function textCells({ features, one }: Layer, columns: readonly string[]): NumberCell[] {
  return features.flatMap(({ record, properties }) =>
    columns.flatMap((column) => {
      const text = properties[column];
      return typeof text === "string" ? [{ text, where: `${one} ${record}, column ${column}` }] : [];
    }),
  );
}

function valuesShown(layer: Layer, column: string): string {
  const shown = layer.features
    .slice(0, 5)
    .map(({ properties }) => String(properties[column] ?? "").trim() || "blank");
  return `${shown.join(", ")}${layer.features.length > 5 ? ", ..." : ""}`;
}
