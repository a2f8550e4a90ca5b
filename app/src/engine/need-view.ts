import type { FieldResult } from "#core";
import type { NeedSummary } from "./protocol.ts";

/** Where the field's need comes from and what it comes to, without the maps; its balance sheet where it is shown. */
export const needView = (result: FieldResult, isShown: boolean): NeedSummary => {
  const { need, wanted, alsoWanted, excluded, shownTests } = result;
  return {
    from: need.from,
    figures: need.figures,
    rule: { P2O5: need.P2O5.rule, K2O: need.K2O.rule },
    cover: { P2O5: need.P2O5.cover, K2O: need.K2O.cover },
    wanted: { P2O5: wanted.P2O5, K2O: wanted.K2O },
    sheet: isShown ? result.sheet : null,
    alsoWanted,
    excluded: { areaAc: excluded.areaAc, places: excluded.places },
    shownTests,
  };
};
