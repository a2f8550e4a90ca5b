import { acresNearJumps } from "../../need/index.ts";
import { acres } from "../../units/index.ts";
import type { NeedBand, NeedRule } from "../results/need-result-types.ts";
import type { FieldGrid } from "../results/result-types.ts";
import { guideShown } from "./field-guide.ts";
import type { FieldRule } from "./field-rule.ts";

/** What a field's rule is and what it makes of the cells: bands with their acres and pounds, what lies below critical. */
export function needRule(
  rule: FieldRule,
  yearsCovered: number,
  tests: Float64Array,
  cecMeq: Float64Array | undefined,
  lbPerAc: Float64Array,
  cells: FieldGrid,
): NeedRule {
  const { first, guide, options, reading, nutrient } = rule;
  const bands = new Map<string, { areaAc: number; lb: number }>();
  const below = { areaAc: 0, lb: 0 };
  let hasCritical = false;
  cells.areaM2.forEach((areaM2, cell) => {
    if (!(areaM2 > 0)) return;
    const test = first.test.toGuideTest(tests[cell]!);
    const cec = cecMeq?.[cell] ?? Number.NaN;
    const areaAc = acres(areaM2);
    const lb = areaAc * lbPerAc[cell]!;
    const name = first.rule.band(test, cec);
    let band = bands.get(name);
    if (!band) {
      band = { areaAc: 0, lb: 0 };
      bands.set(name, band);
    }
    band.areaAc += areaAc;
    band.lb += lb;
    const hasLevel = first.rule.criticalLevel(cec) !== undefined;
    // Where an equation stands for a level it says so by what it gives.
    const isBelow = first.rule.isBelowCritical(test, cec) && (hasLevel || lbPerAc[cell]! > 0);
    hasCritical ||= isBelow || hasLevel;
    if (isBelow) {
      below.areaAc += areaAc;
      below.lb += lb;
    }
  });
  return {
    guide: guideShown(rule, first.rule.constants),
    crops: rule.crops.map((crop) => crop.crop),
    method: reading.method,
    conversion: reading.conversion ?? null,
    ownCriticalLevelPpm: reading.ownCriticalLevelPpm ?? null,
    bands: inOrder(rule, bands),
    belowCritical: hasCritical ? below : null,
    nearJumps: acresNearJumps(
      guide,
      nutrient,
      {
        crop: rule.crops[0]!.crop,
        reading,
        options,
        ...(rule.secondYieldBuPerAc === undefined ? {} : { secondYieldBuPerAc: rule.secondYieldBuPerAc }),
      },
      tests,
      cells.areaM2,
      cecMeq,
    ),
    buildUp: rule.buildUp?.inWords ?? null,
    yearsCovered,
    additionCounts: rule.crops.length > 1 ? (rule.additionCounts ?? null) : null,
  };
}

/** From the lowest test up, as the guide lists its classes; ranges of one kind in their own order. */
function inOrder(rule: FieldRule, bands: ReadonlyMap<string, { areaAc: number; lb: number }>): NeedBand[] {
  const classes = rule.guide.rules.flatMap((one) =>
    one.form.kind === "classes" ? one.form.classes.map((entry) => entry.name) : [],
  );
  const order = ["below critical", "response", ...classes, "maintenance", "drawdown", "none"];
  return [...bands]
    .map(([band, { areaAc, lb }]) => ({ band, areaAc, lb }))
    .sort((a, b) => order.indexOf(a.band) - order.indexOf(b.band));
}

/** 1 on the cells that lie below critical as the guide's data have it. */
export const belowCritical = (
  { first }: FieldRule,
  tests: Float64Array,
  cecMeq: Float64Array | undefined,
): Uint8Array =>
  Uint8Array.from(tests, (test, cell) =>
    !Number.isNaN(test) &&
    first.rule.isBelowCritical(first.test.toGuideTest(test), cecMeq?.[cell] ?? Number.NaN)
      ? 1
      : 0,
  );

/**
 * What wants a scarce pound first, a cell each, low before high, alike over all fields: the test as a share of the critical
 * level, so that all below 1 comes before all above. Where the guide has no critical level the share of its rate at a test
 * of 0 that is not due any more stands for it, and 1 more where the guide does not say that the crop answers. NaN where
 * there is no need.
 */
export function priorityOf(
  rule: FieldRule,
  tests: Float64Array,
  cecMeq: Float64Array | undefined,
  lbPerAc: Float64Array,
): Float64Array {
  const { first } = rule;
  const isBelow = belowCritical(rule, tests, cecMeq);
  return lbPerAc.map((rate, cell) => {
    if (Number.isNaN(rate)) return Number.NaN;
    const cec = cecMeq?.[cell] ?? Number.NaN;
    const critical = first.rule.criticalLevel(cec);
    if (critical !== undefined && critical > 0) return first.test.toGuideTest(tests[cell]!) / critical;
    const most = rule.rate(0, cec, cell);
    const notDue = most > 0 ? Math.min(MOST_BELOW, Math.max(0, 1 - rate / most)) : MOST_BELOW;
    return isBelow[cell] === 1 ? notDue : 1 + notDue;
  });
}

/** Ground below critical stays before all other, however little of the highest rate is due there. */
const MOST_BELOW = 0.999;
