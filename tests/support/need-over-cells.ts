import type { Guide, TestReading } from "../../src/agronomy/index.ts";
import type { Notice } from "../../src/errors/index.ts";
import { type NutrientNeedInputs, needOfNutrient, withoutRepeats } from "../../src/need/index.ts";

interface CellNeedInputs extends Omit<NutrientNeedInputs, "reading" | "residueLbPerAc" | "withAddition"> {
  readonly p: TestReading;
  readonly k: TestReading;
  /** lb oxide/ac that leave with straw or stover. */
  readonly residue?: { readonly p2o5LbPerAc: number; readonly k2oLbPerAc: number };
}

/** Tests as mapped, in the unit of their reading; NaN where there is no value. CEC in meq/100 g. */
interface CellTests {
  readonly p: Float64Array;
  readonly k: Float64Array;
  /** Needed where the guide hangs on it. */
  readonly cec?: Float64Array;
}

/** Unrounded broadcast rates in cell order; NaN where a test is NaN. */
export interface CellNeeds {
  readonly p2o5LbPerAc: Float64Array;
  readonly k2oLbPerAc: Float64Array;
  readonly notices: readonly Notice[];
}

/** Both oxides by one guide, as most checks ask for them. */
export function needOverCells(guide: Guide, inputs: CellNeedInputs, tests: CellTests): CellNeeds {
  const { p, k, residue, ...field } = inputs;
  const forP = { ...field, reading: p, residueLbPerAc: residue?.p2o5LbPerAc ?? 0 };
  const forK = { ...field, reading: k, residueLbPerAc: residue?.k2oLbPerAc ?? 0 };
  const phosphate = needOfNutrient(guide, "P2O5", forP, tests.p, tests.cec);
  const potash = needOfNutrient(guide, "K2O", forK, tests.k, tests.cec);
  return {
    p2o5LbPerAc: phosphate.lbPerAc,
    k2oLbPerAc: potash.lbPerAc,
    notices: withoutRepeats([...phosphate.notices, ...potash.notices]),
  };
}
