import type { FieldResult, NeedMap } from "../plan/index.ts";

/** What a field's need came from and became, for result.json: arrays over cells are left to cells.csv. */
export function fieldNeedJson(result: FieldResult): Record<string, unknown> {
  const { checked, need, wanted, excluded, sheet, shownTests, alsoWanted } = result;
  return {
    needFrom: need.from,
    needRules: { P2O5: oxideJson(need, "P2O5"), K2O: oxideJson(need, "K2O") },
    wanted: { P2O5: wanted.P2O5, K2O: wanted.K2O },
    excluded: { areaAc: excluded.areaAc, places: excluded.places },
    balanceReasons: result.balanceReasons,
    balanceSheet: sheet,
    alsoWanted,
    samplings: checked.samplings,
    shownTests,
  };
}

function oxideJson(need: NeedMap, nutrient: "P2O5" | "K2O"): Record<string, unknown> {
  const { rule, cover } = need[nutrient];
  if (rule === null) return { guide: null, ...cover };
  return { ...rule, guide: rule.guide.id, status: rule.guide.status, ...cover };
}
