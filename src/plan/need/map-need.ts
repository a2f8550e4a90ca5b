import { elementOf, type Nutrient } from "../../agronomy/index.ts";
import type { Notice } from "../../errors/index.ts";
import { expectedNeed, needQuantile, withoutRepeats } from "../../need/index.ts";
import { numberText } from "../../units/index.ts";
import type { Answers } from "../document/answers.ts";
import type { PlanField, PlanNeed } from "../document/document-types.ts";
import type { PlanNeedSlice } from "../document/need-slice.ts";
import { needsSamples } from "../document/samples-paths.ts";
import { flatRate, sampleNeeds, sumOver } from "../results/field-sums.ts";
import type {
  CheckedField,
  FieldGrid,
  NeedFigures,
  NeedMap,
  OxideNeed,
  SoilMap,
  SoilMaps,
} from "../results/result-types.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { adviserRates } from "./adviser-rates.ts";
import { type FieldRule, fieldRule } from "./field-rule.ts";
import { isMeanOfMany, needOverSamples, samplesBelowCritical } from "./need-at-samples.ts";
import { belowCritical, needRule, priorityOf } from "./need-rule.ts";
import { soilFactNotices } from "./soil-facts.ts";
import { yieldNotices } from "./yield-notices.ts";
import { fieldYields } from "./yield-over-cells.ts";

/** Figures part when they differ by more than this share of the field's mean need. */
const PARTED = 0.05;

/**
 * What every cell of the field needs, lb oxide/ac, not rounded: by the field's guide, or typed, or the adviser's own.
 * By a guide three readings stand beside each other: at the mapped test, expected over what the test may be, and
 * weighed by what a missing and an excess pound cost; the plan says which drives the rates. Zero in a season that an
 * earlier application covers. Throws what `fieldRule` and `adviserRates` throw.
 */
export function mapNeed(
  slice: PlanNeedSlice,
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
  soil: SoilMaps,
  inputs: Inputs,
): NeedMap {
  if (!needsSamples(field)) return withoutGuide(field, checked, cells, inputs);
  const { bushels: yields, notices: goalNotices } = fieldYields(field, checked, cells, inputs);
  const P2O5 = byGuide(slice, field, "P2O5", checked, cells, soil, yields, inputs.answers);
  const K2O = byGuide(slice, field, "K2O", checked, cells, soil, yields, inputs.answers);
  const notices = [
    ...yieldNotices(field),
    ...goalNotices,
    ...withoutRepeats([...P2O5.notices, ...K2O.notices]),
    ...soilFactNotices(checked, cells, soil, K2O.need.rule?.yearsCovered ?? 1),
  ];
  return {
    from: field.needFrom?.kind ?? "grid",
    p2o5LbPerAc: P2O5.lbPerAc,
    k2oLbPerAc: K2O.lbPerAc,
    figures: { P2O5: P2O5.figures, K2O: K2O.figures },
    hasAllReadings: !slice.onlyDriving,
    P2O5: P2O5.need,
    K2O: K2O.need,
    notices: notices.map((one) => ({
      ...one,
      where: one.where === field.id ? one.where : `${field.id}: ${one.where}`,
    })),
  };
}

interface ByGuide {
  readonly lbPerAc: Float64Array;
  readonly figures: NeedFigures;
  readonly need: OxideNeed;
  readonly notices: readonly Notice[];
}

function byGuide(
  slice: PlanNeedSlice,
  field: PlanField,
  nutrient: Nutrient,
  checked: CheckedField,
  cells: FieldGrid,
  soil: SoilMaps,
  yields: number | Float64Array,
  answers: Answers,
): ByGuide {
  const map = soil.maps[elementOf(nutrient)];
  if (!map) throw new Error(`field ${field.id} was mapped without the test of ${nutrient}`);
  const rule = fieldRule(slice, field, nutrient, checked, yields, answers);
  const cec = soil.maps.CEC?.estimate;
  const atTests = rule.needOver(map.estimate, cec);
  const isFlat = field.needFrom?.kind === "flat";
  // A flat rate comes from the expected need, so that one is asked for always.
  const asked = isFlat ? { ...slice, onlyDriving: false } : slice;
  const { figures, drives } = needFigures(rule, cec, asked, map, atTests.lbPerAc, checked, cells);
  const lbPerAc = isFlat ? drives.map((rate) => (Number.isNaN(rate) ? rate : figures.flatLbPerAc)) : drives;
  const isMean = isMeanOfMany(map);
  const parted = isFlat ? null : partedNotice(field, nutrient, figures, isMean, slice.need.drivenBy);
  const made = needRule(rule, atTests.yearsCovered, map.estimate, cec, lbPerAc, cells);
  const samples = samplesBelowCritical(rule, map, cec, cells);
  return {
    lbPerAc,
    figures,
    need: {
      rule:
        samples && made.belowCritical ? { ...made, belowCritical: { ...made.belowCritical, samples } } : made,
      cover: rule.coverOf(atTests.yearsCovered),
      priority: priorityOf(rule, map.estimate, cec, lbPerAc),
      isBelow: belowCritical(rule, map.estimate, cec),
    },
    notices: [
      ...atTests.notices.map((one) => ofField(field, nutrient, one)),
      ...(parted ? [parted] : []),
      ...ownTableOfZero(slice, field, nutrient, rule),
    ],
  };
}

/** A table of one's own with the rate 0 alone: begun and not filled in, or nothing is wanted. */
function ownTableOfZero(
  { ownGuides }: PlanNeedSlice,
  field: PlanField,
  nutrient: Nutrient,
  { guide, crops }: FieldRule,
): Notice[] {
  const own = ownGuides.find(({ id }) => id === guide.id);
  if (own === undefined) return [];
  const test = elementOf(nutrient);
  const { tables, lineTables = [] } = own;
  return crops.flatMap(({ crop }): Notice[] => {
    const isOf = (one: { readonly test: string; readonly crop: string }): boolean =>
      one.test === test && one.crop === crop;
    const rates = [
      ...tables.filter(isOf).flatMap((one) => one.lbPerAc),
      ...lineTables.filter(isOf).flatMap(({ points }) => points.map((point) => point.lbPerAc)),
    ];
    if (rates.length === 0 || rates.some((rate) => rate > 0)) return [];
    const message = `${field.name}: the table “${own.name}” has no rate above 0 lb ${nutrient}/ac for ${crop}, so none is wanted; where it was begun and not filled in, type its rates, or choose another guide for ${nutrient}`;
    return [{ code: "own-table-of-zero", message, where: field.id }];
  });
}

/** What the user chose for this field's test names the field and the test; what the guide says of itself does not. */
const CHOSEN_FOR_FIELD: ReadonlySet<string> = new Set(["critical-level-typed", "conversion-used"]);

const ofField = (field: PlanField, nutrient: Nutrient, one: Notice): Notice =>
  CHOSEN_FOR_FIELD.has(one.code)
    ? { ...one, message: `${field.name}, ${elementOf(nutrient)}: ${one.message}` }
    : one;

/** Typed rates and the adviser's own: no guide is read, and that is said. */
function withoutGuide(field: PlanField, checked: CheckedField, cells: FieldGrid, inputs: Inputs): NeedMap {
  const from = field.needFrom!;
  const rates = from.kind === "rates" ? adviserRates(field, from, checked, cells, inputs) : null;
  const typed = (nutrient: Nutrient) =>
    cells.areaM2.map((areaM2) =>
      areaM2 > 0 && from.kind === "flat" ? from.lbPerAc![nutrient] : areaM2 > 0 ? 0 : Number.NaN,
    );
  const need = (nutrient: Nutrient) => rates?.lbPerAc[nutrient] ?? typed(nutrient);
  const [p2o5LbPerAc, k2oLbPerAc] = [need("P2O5"), need("K2O")];
  const figures = (lbPerAc: Float64Array): NeedFigures => {
    const lb = sumOver(cells, lbPerAc);
    return {
      mappedTestLb: lb,
      expectedLb: null,
      weightedLb: null,
      atSamplesLb: Number.NaN,
      flatLbPerAc: flatRate(cells, lbPerAc, lbPerAc, null),
      partedAc: 0,
    };
  };
  const oxide = (lbPerAc: Float64Array): OxideNeed => ({
    rule: null,
    cover: { coveredThrough: null, by: null },
    priority: lbPerAc.map((rate) => (Number.isNaN(rate) ? rate : Number.POSITIVE_INFINITY)),
    isBelow: new Uint8Array(lbPerAc.length),
  });
  const what = from.kind === "rates" ? `the adviser's own rates of ${from.source}` : "one typed rate";
  return {
    from: from.kind === "rates" ? "rates" : "flat",
    p2o5LbPerAc,
    k2oLbPerAc,
    figures: { P2O5: figures(p2o5LbPerAc), K2O: figures(k2oLbPerAc) },
    hasAllReadings: true,
    P2O5: oxide(p2o5LbPerAc),
    K2O: oxide(k2oLbPerAc),
    notices: [
      {
        code: "guide-bypassed",
        message: `${field.name}: the need is ${what}; no guide was read`,
        where: field.id,
      },
      ...(rates?.notices ?? []),
    ],
  };
}

function needFigures(
  rule: FieldRule,
  cec: Float64Array | undefined,
  { need: choice, onlyDriving }: PlanNeedSlice,
  map: SoilMap,
  atTest: Float64Array,
  checked: CheckedField,
  cells: FieldGrid,
): { readonly figures: NeedFigures; readonly drives: Float64Array } {
  const atCell = (test: number, cell: number) => rule.rate(test, cec?.[cell] ?? Number.NaN, cell);
  const predictive = { mean: map.estimate, variance: map.variance };
  const isMean = isMeanOfMany(map);
  const isAsked = (figure: PlanNeed["drivenBy"]) =>
    (map.variance.length > 0 || isMean) && (!onlyDriving || choice.drivenBy === figure);
  const over = (at: number | null) =>
    isMean
      ? needOverSamples(rule, map, cec, at)
      : at === null
        ? expectedNeed(predictive, atCell)
        : needQuantile(predictive, atCell, at);
  const expected = isAsked("expected") ? over(null) : null;
  const { usdPerLbMissing: missing, usdPerLbExcess: excess } = choice;
  const share = missing !== undefined && excess !== undefined ? missing / (missing + excess) : null;
  const weighted = share !== null && isAsked("weighted") ? over(share) : null;
  const wanted =
    choice.drivenBy === "expected" ? expected : choice.drivenBy === "weighted" ? weighted : atTest;
  const drives = wanted ?? atTest;
  const mean = sumOver(cells, atTest) / checked.areaAc;
  const figures: NeedFigures = {
    mappedTestLb: sumOver(cells, atTest),
    expectedLb: expected && sumOver(cells, expected),
    weightedLb: weighted && sumOver(cells, weighted),
    atSamplesLb: sampleNeeds(rule.rate, map, cells, cec) * checked.areaAc,
    flatLbPerAc: flatRate(cells, expected ?? atTest, drives, share),
    partedAc: expected === null ? 0 : partedAcres(cells, atTest, expected, PARTED * mean),
  };
  return { figures, drives };
}

function partedAcres(cells: FieldGrid, one: Float64Array, other: Float64Array, by: number): number {
  const apart = one.map((value, i) => (Math.abs(value - other[i]!) > by ? 1 : 0));
  return sumOver(cells, apart);
}

function partedNotice(
  field: PlanField,
  nutrient: Nutrient,
  figures: NeedFigures,
  isMean: boolean,
  drivenBy: PlanNeed["drivenBy"],
): Notice | null {
  const { mappedTestLb, expectedLb, partedAc } = figures;
  if (expectedLb === null || Math.abs(expectedLb - mappedTestLb) <= PARTED * Math.max(mappedTestLb, 1))
    return null;
  const lb = (value: number) => numberText(value, 0);
  if (isMean) {
    const follows = (figure: PlanNeed["drivenBy"]) => (drivenBy === figure ? ", which the rates follow" : "");
    const first = follows("mapped-test");
    const other =
      drivenBy === "expected"
        ? ""
        : "need.drivenBy expected in the plan, for all its fields, spreads the second; ";
    const message =
      `${field.name}: ${nutrient} is ${lb(mappedTestLb)} lb read off the mean of the samples${first}${first && ","} and ${lb(expectedLb)} lb as the mean of the ` +
      `needs at them${follows("expected")}; there are too few for a map. ${other}${other === "" ? "Sample" : "sample"} more densely to place it.`;
    return { code: "need-figures-part", message, where: field.id };
  }
  return {
    code: "need-figures-part",
    message:
      `${field.name}: ${nutrient} is ${lb(mappedTestLb)} lb read off the mapped test and ${lb(expectedLb)} lb expected ` +
      `over what the test may be; they part on ${partedAc.toFixed(1)} ac. A guide that steps, or ends at nothing, within what the test may be does this.`,
    where: field.id,
  };
}
