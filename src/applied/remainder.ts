import { requireNumber } from "../capacity/index.ts";
import { middleOf, type Point, type Polygon } from "../geo/index.ts";
import { guidanceFrame } from "../strips/index.ts";
import { acres } from "../units/index.ts";

interface RemainderSegment {
  readonly pass: number;
  readonly areaM2: number;
  readonly polygon: Polygon;
  /** lb/ac planned, one figure a product. */
  readonly ratesLbPerAc: readonly number[];
}

/** What is known of the work done. */
export type WorkDone =
  /** Passes in working order, and how many of them are done. */
  | { readonly by: "pass"; readonly order: readonly number[]; readonly doneAfter: number }
  /** Share of each segment that the log left out (`mapLog`); worked below `fromShare`, 0.5 when left out. */
  | { readonly by: "log"; readonly skippedShare: readonly number[]; readonly fromShare?: number }
  /** A drawn line; what lies to its right is worked, by the middle of each segment. */
  | { readonly by: "line"; readonly line: readonly [Point, Point] };

export interface Remainder {
  /** Places of the unworked segments in the list, in its order, with their rates. */
  readonly segments: readonly { readonly index: number; readonly ratesLbPerAc: readonly number[] }[];
  readonly areaAc: number;
  readonly workedAc: number;
  /** lb of each product for the unworked part. */
  readonly lb: readonly number[];
}

/**
 * The strip map of the unworked part, with other rates where they are given: a factor a product, or one rate for all
 * segments. Throws `number-not-usable`.
 */
export function remainder(
  segments: readonly RemainderSegment[],
  done: WorkDone,
  change: { readonly factors?: readonly number[]; readonly ratesLbPerAc?: readonly number[] } = {},
): Remainder {
  const worked = workedTest(done);
  const left = segments.flatMap((segment, index) => {
    if (worked(segment, index)) return [];
    const rates =
      change.ratesLbPerAc ??
      segment.ratesLbPerAc.map((rate, p) => rate * requireNumber("factor", change.factors?.[p] ?? 1));
    return [{ index, ratesLbPerAc: [...rates] }];
  });
  const products = left[0]?.ratesLbPerAc.length ?? segments[0]?.ratesLbPerAc.length ?? 0;
  const area = (indexes: readonly number[]): number =>
    acres(indexes.reduce((sum, i) => sum + segments[i]!.areaM2, 0));
  const areaAc = area(left.map((one) => one.index));
  return {
    segments: left,
    areaAc,
    workedAc: area([...segments.keys()]) - areaAc,
    lb: Array.from({ length: products }, (_, p) =>
      left.reduce((sum, one) => sum + one.ratesLbPerAc[p]! * acres(segments[one.index]!.areaM2), 0),
    ),
  };
}

function workedTest(done: WorkDone): (segment: RemainderSegment, index: number) => boolean {
  if (done.by === "pass") {
    const worked = new Set(done.order.slice(0, requireNumber("doneAfter", done.doneAfter)));
    return (segment) => worked.has(segment.pass);
  }
  if (done.by === "log") {
    const from = requireNumber("fromShare", done.fromShare ?? 0.5, { atLeast: 0, atMost: 1 });
    return (_, index) => (done.skippedShare[index] ?? 1) < from;
  }
  const { toGuidance } = guidanceFrame(done.line);
  return (segment) => toGuidance(middleOf(segment.polygon[0]!))[0] > 0;
}

/** What lies on the ground where there is no log: the planned rates of worked segments by one factor, so that lb used come out. */
export function placedByHand(
  plannedLb: readonly number[],
  worked: readonly boolean[],
  usedLb: number,
): { readonly placedLb: readonly number[]; readonly factor: number } {
  const planned = plannedLb.reduce((sum, lb, i) => sum + (worked[i] === true ? lb : 0), 0);
  const factor =
    requireNumber("usedLb", usedLb) /
    requireNumber("the planned lb of the worked part", planned, { above: 0 });
  return { placedLb: plannedLb.map((lb, i) => (worked[i] === true ? lb * factor : 0)), factor };
}
