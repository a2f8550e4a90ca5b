import {
  type AssumedFigure,
  acresText,
  blendLines,
  capacityChart,
  capacityLines,
  careLines,
  type FieldResult,
  fieldCapacity,
  gapIdsOf,
  LEVER_LB_PER_AC,
  missingRigKeys,
  type Plan,
  type RatePoint,
  type RigCapacity,
  ratePoints,
  rigFigures,
  splitLines,
  type UnitSystem,
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
  const [today, lower] = ratePoints(
    figures,
    at,
    [at.rateLbPerAc, at.rateLbPerAc - LEVER_LB_PER_AC].map((rate) => Math.max(1, rate)),
  ) as [RatePoint, RatePoint];
  const points = ratePoints(figures, at, rates);
  const { crossoverLbPerAc } = at;
  const levers = at.levers && {
    lowerRate: {
      steady: at.levers.gainLowerRateAcPerDay,
      fromFull: lower.fromFullAcPerDay - today.fromFullAcPerDay,
    },
    anotherTender: {
      steady: at.levers.gainAnotherTenderAcPerDay,
      fromFull: (today.anotherTenderFromFullAcPerDay ?? today.fromFullAcPerDay) - today.fromFullAcPerDay,
    },
  };
  return {
    svg: capacityChart({ points, today, crossoverLbPerAc, system: look.system }, CHART),
    about: `${look.system === "us" ? "Acres" : "Hectares"} a day against the strip's rate: ${acresText(at.acPerDay.full, look.system, 0)} from full, ${acresText(at.acPerDay.steady, look.system, 0)} steady`,
    acPerFill: at.acPerFill,
    fills: at.fills,
    countedBy: at.countedBy,
    fromFullAcPerDay: at.acPerDay.full,
    steadyAcPerDay: at.acPerDay.steady,
    bound: at.bound,
    waitMinutesPerFill: at.waitMinutesPerFill,
    levers,
    lines: linesWithoutAssumed(at, look.system),
    assumed: at.assumed,
  };
}

const linesWithoutAssumed = (at: RigCapacity, system: UnitSystem): string[] =>
  capacityLines({ ...at, assumed: [] as readonly AssumedFigure[] }, system);
