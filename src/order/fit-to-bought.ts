import { requireNumber } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";

export interface FitPart {
  readonly id: string;
  readonly fieldId: string;
  /** Part of the need it serves: `starter`, `below critical, P`, `build-up, K` and so on. */
  readonly layer: string;
  /** Net lb of one product. */
  readonly lb: number;
}

export interface FitResult {
  /** Net lb that what is bought and on hand can bring after overlap and loss. */
  readonly availableLb: number;
  /** lb kept, in the order of the parts. */
  readonly keptLb: readonly number[];
  readonly cutLb: number;
  /** Share of each layer that stays, first kept first; 1 above the cut, 0 below it. */
  readonly layers: readonly { readonly layer: string; readonly keptShare: number }[];
}

/**
 * Fits the maps of one product to what is bought, the tons of the farm held: whole layers stay in the order given, the layer
 * in which the product ends is cut by one share everywhere, the rest goes. A layer that is not in the order comes last.
 * Throws `number-not-usable`.
 */
export function fitToBought(input: {
  readonly parts: readonly FitPart[];
  /** First kept first. */
  readonly order: readonly string[];
  readonly boughtLb: number;
  readonly overlapShare: number;
  readonly lossShare: number;
}): FitResult {
  const { parts, order, boughtLb } = input;
  const overlap = requireNumber("overlapShare", input.overlapShare, { atLeast: 0, atMost: 1 });
  const loss = requireNumber("lossShare", input.lossShare, { atLeast: 0, atMost: 0.5 });
  const availableLb = (requireNumber("boughtLb", boughtLb) * (1 - loss)) / (1 + overlap);
  const names = [
    ...order,
    ...new Set(parts.map((part) => part.layer).filter((layer) => !order.includes(layer))),
  ];
  let leftLb = availableLb;
  const layers = names
    .filter((layer) => parts.some((part) => part.layer === layer))
    .map((layer) => {
      const wantedLb = sum(parts.filter((part) => part.layer === layer).map((part) => part.lb));
      const keptShare = wantedLb === 0 ? 1 : Math.min(1, leftLb / wantedLb);
      leftLb = Math.max(0, leftLb - wantedLb * keptShare);
      return { layer, keptShare };
    });
  const shares = new Map(layers.map(({ layer, keptShare }) => [layer, keptShare]));
  const keptLb = parts.map((part) => part.lb * shares.get(part.layer)!);
  return { availableLb, keptLb, cutLb: sum(parts.map((part, i) => part.lb - keptLb[i]!)), layers };
}
