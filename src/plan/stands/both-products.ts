import type { PlacedEntry } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";

type Laid = Pick<PlacedEntry, "product" | "pass" | "areaAc" | "p2o5Lb" | "k2oLb">;

/** Acres by which two products of one pass, on the same ground, differ at most; more of a field than this share driven twice (ours). */
const SAME_AC = 0.05;
const MORE_AC = 1.05;

/** Products of which parts of a field were stripped, one the strip maps have and one they have not. */
export interface BothProducts {
  readonly mapped: string;
  readonly other: string;
}

/**
 * Whether a part of a field was stripped with a product of its maps and another with one that they do not have, for the
 * same nutrient: no build's maps have both, so none reads the logs of both. Two products that lie on the same ground
 * were laid in one pass, by the maps of another build. `mapped`: products of the strip maps.
 */
export function bothProducts(
  placed: readonly Laid[],
  mapped: readonly string[],
  areaAc: number,
): BothProducts | null {
  const strip = placed.filter(({ pass }) => pass === "strip");
  const of = (product: string) => {
    const own = strip.filter((one) => one.product === product);
    return {
      areaAc: sum(own.map((one) => one.areaAc)),
      p2o5Lb: sum(own.map((one) => one.p2o5Lb)),
      k2oLb: sum(own.map((one) => one.k2oLb)),
    };
  };
  for (const product of new Set(strip.map((one) => one.product))) {
    if (!mapped.includes(product)) continue;
    const now = of(product);
    for (const { product: other } of strip) {
      if (mapped.includes(other)) continue;
      const before = of(other);
      const isSame = (now.p2o5Lb > 0 && before.p2o5Lb > 0) || (now.k2oLb > 0 && before.k2oLb > 0);
      // Laid in one pass, they and every third product cover the same acres; laid apart, the third covers those of both.
      const thirds = mapped.filter((one) => one !== product).map((one) => of(one).areaAc);
      const isOnePass =
        Math.abs(now.areaAc - before.areaAc) <= SAME_AC && Math.max(0, ...thirds) <= MORE_AC * now.areaAc;
      const areApart = now.areaAc + before.areaAc <= MORE_AC * areaAc && !isOnePass;
      if (isSame && areApart) return { mapped: product, other };
    }
  }
  return null;
}

/** Why there is no catch-up of such a field, and what to do; without a full stop at the end. */
export const byHandInWords = ({ mapped, other }: BothProducts): string =>
  `no catch-up can be worked out here, since no build's maps have both ${other} and ${mapped}, and none reads the logs of both: once its strips are done \`ledger --finish\` it, then spread by hand what \`order\` still has of its broadcast maps, with their rates lowered to it, and enter it with \`ledger --add\``;
