import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { numberText } from "../../units/index.ts";

/** Share of a product's strip pounds below which what is to be caught up on is within what meter and scale can tell (ours). */
const SMALL_SHARE = 0.01;

/** Catch-up maps with so little in them that the spreader hardly goes out for it, a notice each. */
export function smallCatchUps(
  strip: readonly Pick<Prescription, "product" | "totalLb">[],
  catchUp: readonly Pick<Prescription, "product" | "totalLb">[],
  where: string,
): Notice[] {
  return catchUp.flatMap(({ product, totalLb }) => {
    const planned = sum(strip.map((map) => (map.product === product ? map.totalLb : 0)));
    if (!(totalLb > 0) || totalLb >= SMALL_SHARE * planned) return [];
    const share = numberText((100 * totalLb) / planned, 1);
    const message = `${product}: the catch-up of ${numberText(totalLb, 0)} lb is ${share} % of the ${numberText(planned, 0)} lb of its strip map, less than meter and scale can tell: hardly worth a trip of the spreader`;
    return [{ code: "catch-up-small", message, where }];
  });
}
