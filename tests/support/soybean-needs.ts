import { guideById, ownGuide } from "../../src/agronomy/index.ts";
import { column } from "./chain-need.ts";
import { type CellNeeds, needOverCells } from "./need-over-cells.ts";

/** Table T of tests/data/chain-need/README.md, soybean. */
export const tableT = ownGuide({
  id: "table-t",
  name: "Table T",
  tables: [
    {
      test: "P",
      crop: "soybean",
      method: "mehlich-3",
      belowPpm: [6, 8, 10, 13],
      lbPerAc: [90, 65, 45, 20, 0],
    },
    {
      test: "K",
      crop: "soybean",
      method: "mehlich-3",
      belowPpm: [120, 150, 180, 230],
      lbPerAc: [120, 95, 70, 35, 0],
    },
  ],
});

/** Need of 60 bu soybean by a guide from the fixed or averaged maps. */
export function soybeanNeeds(guide: "equations_2020" | "table_T", map: "fix" | "avg"): CellNeeds {
  const isT = guide === "table_T";
  return needOverCells(
    isT ? tableT : guideById("tri-state-2020"),
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
