import { type Guide, guideById, ownGuide } from "../../src/agronomy/index.ts";
import { column } from "./chain-need.ts";
import { type CellNeeds, needOverCells } from "./need-over-cells.ts";
import { tableT } from "./table-t.ts";

/** Table T as a guide. */
export const tableTGuide: Guide = ownGuide(tableT);

/** Need of 60 bu soybean by a guide from the fixed or averaged maps. */
export function soybeanNeeds(guide: "equations_2020" | "table_T", map: "fix" | "avg"): CellNeeds {
  const isT = guide === "table_T";
  return needOverCells(
    isT ? tableTGuide : guideById("tri-state-2020"),
    {
      crop: "soybean",
      yieldBuPerAc: 60,
      p: { method: "mehlich-3", unit: "ppm", basis: "element" },
      k: { method: "mehlich-3", unit: "ppm", basis: "element" },
      ...(isT ? {} : { options: { rotation: "corn-soy" } }),
    },
    { p: column(`P_${map}`), k: column(`K_${map}`), cec: column(`CEC_${map}`) },
  );
}
