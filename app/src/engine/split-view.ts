import {
  type AssumedFigure,
  blendLines,
  capacityChart,
  capacityLines,
  careLines,
  type FieldResult,
  fieldCapacity,
  gapIdsOf,
  missingRigKeys,
  numberText,
  type Plan,
  type RatePoint,
  type RigCapacity,
  ratePoints,
  rigFigures,
  splitLines,
} from "#core";
import type { Look } from "./protocol.ts";
import type { CapacityView, SplitView } from "./split-summary.ts";

/** How the field was split, what the rig makes of it and what to mind, in words and one chart. */
export function splitView(plan: Plan, result: FieldResult, look: Look): SplitView | null {
  if (!look.split) return null;
  const { split, care, laid } = result;
  const missing = missingRigKeys(plan);
  return {
    method: split.method,
    capLbPerAc: split.capLbPerAc,
    share: split.share,
    layers: split.layers,
    gaps: gapIdsOf(result),
    optimum: split.optimum,
    lines: splitLines(plan, split),
    care: careLines(care),
    salt: {
      place: care.salt.place,
      told: care.salt.told,
      blocked: care.salt.blocked,
      needsName: care.salt.needsName,
      acknowledgedBy: care.salt.acknowledgedBy,
      overAc: care.salt.overAc,
    },
    blends: laid.bins.flatMap(({ blend }) => (blend ? [blendLines(blend)] : [])),
    missing,
    capacity: missing.length > 0 ? null : capacityView(plan, result, look),
  };
}

const CHART = { width: 384, height: 200 };
const POINTS = 24;

function capacityView(plan: Plan, result: FieldResult, look: Look): CapacityView {
  const figures = rigFigures(plan, result.laid);
  const at = fieldCapacity(plan, result, figures);
  const most = Math.max(100, Math.ceil((1.5 * at.rateLbPerAc) / 50) * 50);
  const rates = Array.from({ length: POINTS + 1 }, (_, i) => Math.max(1, (most * i) / POINTS));
  const [today] = ratePoints(figures, at, [Math.max(1, at.rateLbPerAc)]) as [RatePoint];
  const points = ratePoints(figures, at, rates);
  const { crossoverLbPerAc } = at;
  const levers = at.levers;
  return {
    svg: capacityChart({ points, today, crossoverLbPerAc, system: look.system }, CHART),
    about: `Acres a day against the strip's rate: ${numberText(at.acPerDay.full, 0)} from full, ${numberText(at.acPerDay.steady, 0)} steady`,
    acPerFill: at.acPerFill,
    fills: at.fills,
    fromFullAcPerDay: at.acPerDay.full,
    steadyAcPerDay: at.acPerDay.steady,
    bound: at.bound,
    waitMinutesPerFill: at.waitMinutesPerFill,
    lowerRateAcPerDay: levers?.gainLowerRateAcPerDay ?? null,
    anotherTenderAcPerDay: levers?.gainAnotherTenderAcPerDay ?? null,
    lines: linesWithoutAssumed(at),
    assumed: at.assumed,
  };
}

const linesWithoutAssumed = (at: RigCapacity): string[] =>
  capacityLines({ ...at, assumed: [] as readonly AssumedFigure[] });
