import { acres, squareMetres } from "../units/index.ts";
import type { Random } from "./random.ts";
import type { Candidate } from "./sections.ts";

const WITHIN = 0.002;
const SWAPS = 20_000;

/** `count` of the candidates whose acres come within 0.2 % of `areaAc`: a random choice, then swaps that bring
 * it nearer. The largest, the smallest and those of several parts always stay. Throws when it cannot be done. */
export function chooseFields(
  random: Random,
  candidates: readonly Candidate[],
  count: number,
  areaAc: number,
): Candidate[] {
  if (candidates.length < count) throw new Error(`${candidates.length} candidates for ${count} fields`);
  const bySize = [...candidates].sort((a, b) => a.areaM2 - b.areaM2);
  const fixed = new Set([bySize[0]!, bySize.at(-1)!, ...candidates.filter(({ rings }) => rings.length > 1)]);
  const others = random.shuffled(candidates.filter((candidate) => !fixed.has(candidate)));
  const free = count - fixed.size;
  const goal = squareMetres(areaAc);
  let total = [...fixed, ...others.slice(0, free)].reduce((sum, { areaM2 }) => sum + areaM2, 0);
  for (let i = 0; i < SWAPS && Math.abs(total - goal) > WITHIN * goal; i++) {
    const inside = random.below(free);
    const outside = free + random.below(others.length - free);
    const swapped = total + others[outside]!.areaM2 - others[inside]!.areaM2;
    if (Math.abs(swapped - goal) >= Math.abs(total - goal)) continue;
    [others[inside], others[outside]] = [others[outside]!, others[inside]!];
    total = swapped;
  }
  if (Math.abs(total - goal) > WITHIN * goal) throw new Error(`${acres(total)} ac instead of ${areaAc}`);
  const chosen = new Set([...fixed, ...others.slice(0, free)]);
  return candidates.filter((candidate) => chosen.has(candidate));
}
