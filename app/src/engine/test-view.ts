import {
  bandDistances,
  chanceBelowCritical,
  criticalLevel,
  empiricalVariogram,
  type FieldResult,
  fitVariogram,
  oddsBelowCritical,
  type Plan,
  type SoilMap,
  type TestName,
  variogramBand,
} from "#core";
import type { TestSummary, VariogramSummary } from "./protocol.ts";

/** The field's soil tests as the sheet shows them. */
export const testsOf = (plan: Plan, result: FieldResult): TestSummary[] =>
  (["P", "K", "CEC"] as const).flatMap((test: TestName): TestSummary[] => {
    const map = result.maps[test];
    return map ? [summaryOf(plan, result, test, map)] : [];
  });

function summaryOf(plan: Plan, result: FieldResult, test: TestName, map: SoilMap): TestSummary {
  const { samples, mean, method, leaveOneOut } = map;
  return {
    ...{ test, samples, mean, method },
    rmse: leaveOneOut?.rmse ?? null,
    meanError: leaveOneOut?.meanError ?? null,
    leftOut: leaveOneOut
      ? { observed: leaveOneOut.observed.slice(), estimate: leaveOneOut.estimate.slice() }
      : null,
    criticalEverywhere: test === "CEC" ? null : (criticalLevel(plan, result, test)?.everywhere ?? null),
    methods: (map.table?.methods ?? []).map((one) => ({
      name: one.method,
      rmse: one.rootMeanSquare,
      bias: one.meanError,
      isUsed: one.method === "kriging" && map.model !== null,
    })),
    decisions: map.decisions.map((decision) => decision.sentence),
    odds: test === "CEC" ? null : oddsBelowCritical(plan, result, test),
    hasChance: test !== "CEC" && chanceBelowCritical(plan, result, test) !== null,
    noPattern: map.noPattern,
    taken: map.taken.map(({ id, value }, i) => ({ id, value, others: leaveOneOut?.estimate[i] ?? null })),
    variogram: variogramOf(map),
  };
}

const variograms = new WeakMap<SoilMap, VariogramSummary>();

/** Worked out once a map: pairs grow with the square of the samples. */
function variogramOf(map: SoilMap): VariogramSummary {
  const known = variograms.get(map);
  if (known) return known;
  const bins = empiricalVariogram({
    x: Float64Array.from(map.taken, ({ at }) => at[0]),
    y: Float64Array.from(map.taken, ({ at }) => at[1]),
    value: Float64Array.from(map.taken, ({ value }) => value),
  });
  const fitted = fitVariogram(bins, "spherical") ?? null;
  const band = map.averaged ? variogramBand(map.averaged, bandDistances(bins)) : [];
  const made = { bins, model: map.model, fitted, band };
  variograms.set(map, made);
  return made;
}
