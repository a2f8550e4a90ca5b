import { type Guide, type Nutrient, readyRule } from "../agronomy/index.ts";
import { sum } from "../numeric/index.ts";
import { acres } from "../units/index.ts";
import type { NutrientNeedInputs } from "./need-of-nutrient.ts";

/** Acres whose test lies close to a place where the rate jumps. */
interface AcresNearJumps {
  readonly acres: number;
  /** Jumps met, rising, in the unit of the guide. */
  readonly jumps: readonly number[];
}

/** How near a jump a test counts as near, as a share of the jump. */
const NEAR_SHARE = 0.1;

/**
 * Acres within 10 % of a test at which the guide's rate jumps: there a small error of the map
 * moves a full step of fertilizer. NaN tests count nothing.
 */
export function acresNearJumps(
  guide: Guide,
  nutrient: Nutrient,
  inputs: Omit<NutrientNeedInputs, "yieldBuPerAc" | "confirmation">,
  tests: Float64Array,
  areaM2: Float64Array,
  cecMeq?: Float64Array,
): AcresNearJumps {
  const ready = readyRule(guide, { ...inputs, nutrient });
  const met = new Set<number>();
  // Where the CEC is not asked for the jumps are the same in every cell.
  const everywhere = ready.rule.needsCec ? null : ready.rule.jumps(Number.NaN);
  const near = areaM2.map((area, i) => {
    const test = ready.test.toGuideTest(tests[i]!);
    let isNear = false;
    for (const jump of everywhere ?? ready.rule.jumps(cecMeq?.[i] ?? Number.NaN)) {
      if (!(Math.abs(test - jump) <= NEAR_SHARE * jump)) continue;
      met.add(jump);
      isNear = true;
    }
    return isNear ? acres(area) : 0;
  });
  return { acres: sum(near), jumps: [...met].sort((a, b) => a - b) };
}
