import { Summer } from "../numeric/index.ts";

/** A piece of a pass with its rates, one figure a bin. */
export interface RatedSegment {
  readonly pass: number;
  readonly areaAc: number;
  readonly ratesLbPerAc: readonly number[];
}

/** lb of each pass and bin in working order; a pass of the order without segments is 0. Segments of other passes are left out. */
export function passLoads(
  segments: readonly RatedSegment[],
  order: readonly number[],
  bins: number,
): number[][] {
  const totals = new Map(order.map((pass) => [pass, Array.from({ length: bins }, () => new Summer())]));
  for (const { pass, areaAc, ratesLbPerAc } of segments) {
    totals.get(pass)?.forEach((total, b) => {
      total.add(areaAc * (ratesLbPerAc[b] ?? 0));
    });
  }
  return order.map((pass) => totals.get(pass)!.map((total) => total.total));
}

export interface BinWeight {
  readonly pass: number;
  /** Usable lb in each bin when the segment is done; below 0 it ran out in it. */
  readonly binLb: readonly number[];
}

/**
 * The running weight of each bin along segments that stand in working order, with what each stop brings
 * (`planRefills` stops, counted in passes of this order).
 */
export function binWeights(
  segments: readonly RatedSegment[],
  startLb: readonly number[],
  stops: readonly { readonly afterPass: number; readonly loadLb: readonly number[] }[],
): BinWeight[] {
  const binLb = [...startLb];
  let passesDone = -1;
  let current: number | null = null;
  return segments.map(({ pass, areaAc, ratesLbPerAc }) => {
    if (pass !== current) {
      passesDone++;
      current = pass;
      for (const stop of stops.filter(({ afterPass }) => afterPass === passesDone)) {
        for (const [b, lb] of stop.loadLb.entries()) binLb[b] = binLb[b]! + lb;
      }
    }
    for (const b of binLb.keys()) binLb[b] = binLb[b]! - areaAc * (ratesLbPerAc[b] ?? 0);
    return { pass, binLb: [...binLb] };
  });
}
