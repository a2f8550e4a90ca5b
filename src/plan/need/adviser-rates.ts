import { type Notice, type Question, QuestionError } from "../../errors/index.ts";
import type { Layer } from "../../formats/index.ts";
import { cellAreas } from "../../geo/index.ts";
import { productById } from "../../products/index.ts";
import { acres, KG_PER_HA_PER_LB_PER_AC } from "../../units/index.ts";
import type { Oxide, PlanNeedFrom, PlanRateColumn } from "../document/document-need-types.ts";
import type { PlanField } from "../document/document-types.ts";
import { oxideIn } from "../document/field-products.ts";
import type { CheckedField, FieldGrid } from "../results/result-types.ts";
import { fieldZones, zoneNumber } from "../sources/field-zones.ts";
import { rateQuestions } from "../sources/rate-questions.ts";
import type { Inputs } from "../sources/read-sources.ts";

interface AdviserRates {
  /** lb oxide/ac, a cell each; NaN off the field. */
  readonly lbPerAc: Readonly<Record<Oxide, Float64Array>>;
  readonly notices: readonly Notice[];
}

/** What the clipper's rounding may take from or give to the ground of a cell, m2. */
const ROUNDING_M2 = 0.01;
/** Ground in no polygon, acres, from which it is said. */
const GAP_AC = 0.05;

/**
 * The adviser's own rates over the cells: each cell takes its polygons' rates by area, so that the pounds of every
 * polygon are kept; ground in no polygon gets nothing and is named, and so is ground in several, which gets both. What
 * the plan leaves out of a column (`rate-column.P2O5`, `rate-of.P2O5`, `rate-unit.P2O5`) is asked.
 */
export function adviserRates(
  field: PlanField,
  from: Extract<PlanNeedFrom, { kind: "rates" }>,
  checked: CheckedField,
  cells: FieldGrid,
  inputs: Inputs,
): AdviserRates {
  const { layers } = inputs.file(from.source);
  const named = (Object.keys(from.rates) as Oxide[]).map((nutrient) => ({
    nutrient,
    ...settle(nutrient, from.rates[nutrient]!, from.source, layers, inputs),
  }));
  const questions = named.flatMap((one) => one.questions);
  if (questions.length > 0) throw new QuestionError(questions);
  const lbPerAc = {
    P2O5: cells.areaM2.map((areaM2) => (areaM2 > 0 ? 0 : Number.NaN)),
    K2O: cells.areaM2.map((areaM2) => (areaM2 > 0 ? 0 : Number.NaN)),
  };
  const notices: Notice[] = [];
  for (const { nutrient, column, factor } of named) {
    const zones = fieldZones(from.source, layers, column, checked.boundary, checked.frame.toPlane);
    const covered = new Float64Array(cells.areaM2.length);
    const weighted = new Float64Array(cells.areaM2.length);
    for (const zone of zones) {
      const rate = zoneNumber(from.source, column, zone) * factor;
      cellAreas(zone.ground, cells.grid).forEach((areaM2, cell) => {
        weighted[cell]! += rate * areaM2;
        covered[cell]! += areaM2;
      });
    }
    cells.areaM2.forEach((areaM2, cell) => {
      if (!(areaM2 > 0) || covered[cell] === 0) return;
      const isWhole = Math.abs(covered[cell]! - areaM2) <= ROUNDING_M2 || areaM2 <= ROUNDING_M2;
      lbPerAc[nutrient][cell] = weighted[cell]! / (isWhole ? covered[cell]! : areaM2);
    });
    notices.push(...coverNotices(field, nutrient, from.source, cells, covered));
  }
  for (const nutrient of ["P2O5", "K2O"] as const) {
    if (from.rates[nutrient] !== undefined) continue;
    const message = `${field.name}: ${from.source} was given no column for ${nutrient}; its need is zero`;
    notices.push({ code: "rates-without-nutrient", message, where: field.id });
  }
  return { lbPerAc, notices };
}

interface SettledColumn {
  readonly column: string;
  /** lb oxide/ac in one unit of the column. */
  readonly factor: number;
  readonly questions: readonly Question[];
}

function settle(
  nutrient: Oxide,
  typed: PlanRateColumn,
  source: string,
  layers: readonly Layer[],
  { answers }: Inputs,
): SettledColumn {
  const questions: Question[] = [];
  const columns = layers.flatMap((layer) => layer.columns);
  const asked = rateQuestions(source, nutrient, columns);
  const ask = (key: keyof typeof asked, value: string | undefined): string => {
    const answer = value ?? answers[`${key}.${nutrient}`];
    const { text, choices } = asked[key];
    if (answer !== undefined && choices.includes(answer)) return answer;
    const seen = `${source}: ${columns.map((one) => one.name).join(", ")}${answer === undefined ? "" : `; answered “${answer}”`}`;
    questions.push({ key: `${key}.${nutrient}`, text, choices, seen });
    return "";
  };
  const column = typed.column ?? ask("rate-column", undefined);
  const of = ask("rate-of", typed.of);
  const unit = ask("rate-unit", typed.unit);
  const share = of === "oxide" || of === "" ? 1 : oxideIn(productById(of).grade, nutrient);
  return { column, factor: share / (unit === "kg/ha" ? KG_PER_HA_PER_LB_PER_AC : 1), questions };
}

function coverNotices(
  field: PlanField,
  nutrient: Oxide,
  source: string,
  cells: FieldGrid,
  covered: Float64Array,
): Notice[] {
  let [gapM2, twiceM2] = [0, 0];
  cells.areaM2.forEach((areaM2, cell) => {
    gapM2 += Math.max(0, areaM2 - covered[cell]!);
    twiceM2 += Math.max(0, covered[cell]! - areaM2);
  });
  const notices: Notice[] = [];
  const say = (code: string, text: string) =>
    notices.push({ code, message: `${field.name}: ${text}`, where: field.id });
  if (acres(gapM2) > GAP_AC)
    say(
      "rates-leave-gaps",
      `${acres(gapM2).toFixed(1)} ac lie in no polygon of ${source} and get no ${nutrient}`,
    );
  if (acres(twiceM2) > GAP_AC)
    say(
      "rates-overlap",
      `${acres(twiceM2).toFixed(1)} ac lie in several polygons of ${source}; their ${nutrient} adds up there`,
    );
  return notices;
}
