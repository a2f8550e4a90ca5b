/** A piece of a run with the rate wanted on it. */
export interface RatedPiece {
  readonly areaAc: number;
  readonly lengthM: number;
  readonly lbPerAc: number;
}

/** Pieces are not looked at beyond so many shortest lengths: a longer stretch is made of two with one rate. */
const LONGEST_TIMES = 4;

/**
 * Places at which a run is best split: the squared misfit of pieces from their stretch's mean, weighted by acres, is the
 * least there is with stretches of at least the shortest length. Exact, by dynamic programming.
 * A run that is shorter altogether is one stretch. Result: number of each stretch's first piece; the first is 0.
 */
export const splitRun = (pieces: readonly RatedPiece[], shortestM: number): number[] => {
  const count = pieces.length;
  // Running totals: length, acres, pounds, squares.
  const length = new Float64Array(count + 1);
  const acres = new Float64Array(count + 1);
  const pounds = new Float64Array(count + 1);
  const squares = new Float64Array(count + 1);
  pieces.forEach(({ areaAc, lengthM, lbPerAc }, i) => {
    length[i + 1] = length[i]! + lengthM;
    acres[i + 1] = acres[i]! + areaAc;
    pounds[i + 1] = pounds[i]! + areaAc * lbPerAc;
    squares[i + 1] = squares[i]! + areaAc * lbPerAc * lbPerAc;
  });
  // Of splits that are as good but for rounding, which is not the same on every machine, the one with the latest cut is taken.
  const sameMisfit = 1e-9 * squares[count]!;
  const misfit = (from: number, to: number): number => {
    const area = acres[to]! - acres[from]!;
    if (!(area > 0)) return 0;
    const lb = pounds[to]! - pounds[from]!;
    const value = squares[to]! - squares[from]! - (lb * lb) / area;
    // What is left of equal rates is rounding.
    return value > sameMisfit ? value : 0;
  };
  const enough = shortestM * (1 - 1e-9);
  const best = new Float64Array(count + 1).fill(Number.POSITIVE_INFINITY);
  const cameFrom = new Int32Array(count + 1);
  best[0] = 0;
  for (let to = 1; to <= count; to++) {
    for (let from = to - 1; from >= 0; from--) {
      const long = length[to]! - length[from]!;
      if (long < enough) continue;
      const value = best[from]! + misfit(from, to);
      if (value < best[to]! - sameMisfit) {
        best[to] = value;
        cameFrom[to] = from;
      }
      if (long > LONGEST_TIMES * shortestM && Number.isFinite(best[to]!)) break;
    }
  }
  if (!Number.isFinite(best[count]!)) return [0];
  const starts: number[] = [];
  for (let at = count; at > 0; at = cameFrom[at]!) starts.unshift(cameFrom[at]!);
  return starts;
};
