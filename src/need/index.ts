export {
  type CellNeedInputs,
  type CellNeeds,
  type CellTests,
  type FieldNeedInputs,
  type NutrientNeeds,
  needOfNutrient,
  needOverCells,
  withoutRepeats,
} from "./need-over-cells.ts";
