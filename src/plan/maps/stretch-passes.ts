import { leadRates, type RatedPiece, stretchRates } from "../../strips/index.ts";
import type { LaidPasses } from "../results/drive-result-types.ts";

/** Pieces driven one after the other without a stop of the meter, in working order. */
interface DrivenPieces {
  readonly pieces: readonly number[];
  readonly lengthM: readonly number[];
}

/** A product's rates by stretches that its meter can follow. */
export interface StretchedMap {
  /** lb product/ac, a piece each. */
  readonly rateLbPerAc: Float64Array<ArrayBuffer>;
  /** Number of the stretch of each piece, from 0; what gets nothing in between makes stretches too. */
  readonly stretchOf: Int32Array;
}

interface StretchWants {
  readonly shortestM: number;
  readonly stepLbPerAc: number;
  readonly leadM: number;
}

/** Runs of a field cut where ground is kept off: on either side the meter starts anew. */
export function drivenRuns({ pieces, runs }: LaidPasses): { on: DrivenPieces[]; off: DrivenPieces[] } {
  const on: DrivenPieces[] = [];
  const off: DrivenPieces[] = [];
  for (const { segments, forward } of runs) {
    let open = { pieces: [] as number[], lengthM: [] as number[] };
    let isOff: boolean | null = null;
    let at = Number.NEGATIVE_INFINITY;
    for (const k of segments) {
      const { alongStartM, alongEndM, keptOff = false } = pieces[k]!;
      const [from, to] = forward ? [alongStartM, alongEndM] : [-alongEndM, -alongStartM];
      if (isOff !== keptOff) {
        isOff = keptOff;
        open = { pieces: [], lengthM: [] };
        (keptOff ? off : on).push(open);
      }
      open.pieces.push(k);
      // Pieces beside one another, round a hole, are driven at once.
      open.lengthM.push(Math.max(0, to - Math.max(from, at)));
      at = Math.max(at, to);
    }
  }
  return { on, off };
}

/**
 * What pieces want, as stretches of one rate no shorter than the machine can follow: the field keeps its pounds, each run
 * its own to half a step on one stretch. With a lead rates lie that much before their place, the way the run is driven.
 */
export function stretchMap(
  passes: LaidPasses,
  wantedLbPerAc: Float64Array,
  { shortestM, stepLbPerAc, leadM }: StretchWants,
): StretchedMap {
  const { on, off } = drivenRuns(passes);
  const rateLbPerAc = new Float64Array(wantedLbPerAc.length);
  const stretchOf = new Int32Array(wantedLbPerAc.length);
  const rated = on.map(({ pieces, lengthM }) =>
    leadRates(
      pieces.map(
        (k, i): RatedPiece => ({
          areaAc: passes.areaAc[k]!,
          lengthM: lengthM[i]!,
          lbPerAc: wantedLbPerAc[k]!,
        }),
      ),
      leadM,
    ),
  );
  const { stretches } = stretchRates(rated, { shortestM, stepLbPerAc });
  stretches.forEach(({ run, first, end, rateLbPerAc: rate }, number) => {
    for (const k of on[run]!.pieces.slice(first, end)) {
      rateLbPerAc[k] = rate;
      stretchOf[k] = number;
    }
  });
  off.forEach(({ pieces }, i) => {
    for (const k of pieces) stretchOf[k] = stretches.length + i;
  });
  return { rateLbPerAc, stretchOf };
}

/**
 * Where the products of a piece come to more than the most that any place may get, the last product gives way by steps,
 * over the whole of its stretch. The maps given stay as they are.
 */
export function cappedMaps(
  maps: readonly StretchedMap[],
  stepLbPerAc: number,
  mostLbPerAc: number,
): StretchedMap[] {
  const capped = maps.map((map) => ({ ...map, rateLbPerAc: map.rateLbPerAc.slice() }));
  if (!Number.isFinite(mostLbPerAc)) return capped;
  for (let product = capped.length - 1; product >= 0; product--) {
    const { rateLbPerAc, stretchOf } = capped[product]!;
    const steps = new Map<number, number>();
    rateLbPerAc.forEach((rate, k) => {
      const over = capped.reduce((sum, map) => sum + map.rateLbPerAc[k]!, 0) - mostLbPerAc;
      if (over <= 1e-9) return;
      const down = Math.min(Math.ceil(over / stepLbPerAc - 1e-9), Math.round(rate / stepLbPerAc));
      const stretch = stretchOf[k]!;
      steps.set(stretch, Math.max(steps.get(stretch) ?? 0, down));
    });
    if (steps.size === 0) continue;
    stretchOf.forEach((stretch, k) => {
      rateLbPerAc[k]! -= (steps.get(stretch) ?? 0) * stepLbPerAc;
    });
  }
  return capped;
}
