import {
  type Guide,
  guideById,
  type Nutrient,
  ownGuide,
  readyRule,
  type TestReading,
  testMethodFrom,
} from "../agronomy/index.ts";
import { InputError, type Notice } from "../errors/index.ts";
import { expectedNeed, needOverCells, needQuantile } from "../need/index.ts";
import type { PlanField, PlanNeed, PlanOwnGuide } from "./document-types.ts";
import { flatRate, sampleNeeds, sumNeed } from "./need-sums.ts";
import type { CheckedField, FieldGrid, NeedFigures, NeedMap, SoilMap, SoilMaps } from "./result-types.ts";

/** Figures part when they differ by more than this share of the field's mean need. */
const PARTED = 0.05;

/**
 * What every cell of the field needs by the field's guide, lb oxide/ac, not rounded. Three readings stand beside
 * each other: at the mapped test, expected over what the test may be, and weighed by what a missing and an excess
 * pound cost; the plan says which drives the rates.
 */
export function mapNeed(
  field: PlanField,
  own: readonly PlanOwnGuide[],
  choice: PlanNeed,
  checked: CheckedField,
  cells: FieldGrid,
  soil: SoilMaps,
): NeedMap {
  const { P, K, CEC } = soil.maps;
  if (!P || !K) throw new Error(`field ${field.id} was mapped without P or K`);
  const typed = own.find((guide) => guide.id === field.guide);
  const guide = typed ? ownGuide(typed) : guideById(field.guide);
  const readings = { P2O5: readingOf(checked, "P"), K2O: readingOf(checked, "K") };
  const mapped = needOverCells(
    guide,
    {
      crop: field.crop,
      yieldBuPerAc: field.yieldBuPerAc,
      p: readings.P2O5,
      k: readings.K2O,
      ...(field.guideOptions ? { options: field.guideOptions } : {}),
    },
    { p: P.estimate, k: K.estimate, ...(CEC ? { cec: CEC.estimate } : {}) },
  );
  const notices: Notice[] = mapped.notices.map((one) => ({ ...one, where: `${field.id}: ${one.where}` }));
  const read = (nutrient: Nutrient, test: SoilMap, atTest: Float64Array) => {
    const rate = rateOf(guide, field, nutrient, readings[nutrient]);
    const cec = (cell: number) => CEC?.estimate[cell] ?? Number.NaN;
    const figures = needFigures(rate, cec, choice, test, atTest, checked, cells);
    const parted = partedNotice(field, nutrient, figures);
    if (parted) notices.push(parted);
    return figures;
  };
  const P2O5 = read("P2O5", P, mapped.p2o5LbPerAc);
  const K2O = read("K2O", K, mapped.k2oLbPerAc);
  return {
    p2o5LbPerAc: P2O5.drives,
    k2oLbPerAc: K2O.drives,
    figures: { P2O5: P2O5.figures, K2O: K2O.figures },
    notices,
  };
}

type Rate = (test: number, cecMeq: number) => number;

function rateOf(guide: Guide, field: PlanField, nutrient: Nutrient, reading: TestReading): Rate {
  const ready = readyRule(guide, {
    crop: field.crop,
    nutrient,
    reading,
    ...(field.guideOptions ? { options: field.guideOptions } : {}),
  });
  return (test, cecMeq) => ready.rule.rate(ready.test.toGuideTest(test), cecMeq, field.yieldBuPerAc);
}

function needFigures(
  rate: Rate,
  cec: (cell: number) => number,
  choice: PlanNeed,
  map: SoilMap,
  atTest: Float64Array,
  checked: CheckedField,
  cells: FieldGrid,
): { readonly figures: NeedFigures; readonly drives: Float64Array } {
  const atCell = (test: number, cell: number) => rate(test, cec(cell));
  const predictive = { mean: map.estimate, variance: map.variance };
  const expected = map.variance.length === 0 ? null : expectedNeed(predictive, atCell);
  const { usdPerLbMissing: missing, usdPerLbExcess: excess } = choice;
  const share = missing !== undefined && excess !== undefined ? missing / (missing + excess) : null;
  const weighted =
    map.variance.length === 0 || share === null ? null : needQuantile(predictive, atCell, share);
  const wanted =
    choice.drivenBy === "expected" ? expected : choice.drivenBy === "weighted" ? weighted : atTest;
  const drives = wanted ?? atTest;
  const mean = sumNeed(cells, atTest) / checked.areaAc;
  const figures: NeedFigures = {
    mappedTestLb: sumNeed(cells, atTest),
    expectedLb: expected && sumNeed(cells, expected),
    weightedLb: weighted && sumNeed(cells, weighted),
    atSamplesLb: sampleNeeds(rate, map, cells, cec) * checked.areaAc,
    flatLbPerAc: flatRate(cells, expected ?? atTest, drives, share),
    partedAc: expected === null ? 0 : partedAcres(cells, atTest, expected, PARTED * mean),
  };
  return { figures, drives };
}

function partedAcres(cells: FieldGrid, one: Float64Array, other: Float64Array, by: number): number {
  const apart = one.map((value, i) => (Math.abs(value - other[i]!) > by ? 1 : 0));
  return sumNeed(cells, apart);
}

function partedNotice(
  field: PlanField,
  nutrient: Nutrient,
  { figures }: { readonly figures: NeedFigures },
): Notice | null {
  const { mappedTestLb, expectedLb, partedAc } = figures;
  if (expectedLb === null || Math.abs(expectedLb - mappedTestLb) <= PARTED * Math.max(mappedTestLb, 1))
    return null;
  const lb = (value: number) => Math.round(value).toLocaleString("en-US");
  return {
    code: "need-figures-part",
    message:
      `${field.name}: ${nutrient} is ${lb(mappedTestLb)} lb read off the mapped test and ${lb(expectedLb)} lb expected ` +
      `over what the test may be; they part on ${partedAc.toFixed(1)} ac. A guide with steps on a smooth map does this.`,
    where: field.id,
  };
}

function readingOf(checked: CheckedField, test: "P" | "K"): TestReading {
  return {
    method: testMethodFrom(checked.methods[test], test === "P" ? "P2O5" : "K2O"),
    unit: "ppm",
    basis: "element",
    ...depthOf(checked.depth),
  };
}

/** Bottom of the cores in inches from a depth such as `0-8in`; nothing when it was not stated. */
function depthOf(depth: string): { depthIn?: number } {
  if (depth === "") return {};
  const read = /^(?:0-)?(\d+(?:\.\d+)?)in$/.exec(depth);
  if (read) return { depthIn: Number(read[1]) };
  throw new InputError(
    "depth-not-read",
    `Sampling depth “${depth}” is not a depth.`,
    "Give it as 0-6in or 0-8in.",
  );
}
