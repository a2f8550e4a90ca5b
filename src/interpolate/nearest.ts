interface NearestFinder {
  /** Fills `index` with the positions of the samples nearest to a target, nearest first. */
  readonly find: (targetX: number, targetY: number) => void;
  readonly index: Int32Array;
  readonly squaredDistance: Float64Array;
}

/** The `limit` samples nearest by plain distance, or all; of equal distances the earlier sample. */
export function nearestFinder(x: Float64Array, y: Float64Array, limit: number): NearestFinder {
  if (!(Number.isInteger(limit) && limit >= 1))
    throw new Error(`nearest: ${limit} is not a whole number above 0`);
  const kept = Math.min(limit, x.length);
  const index = new Int32Array(kept);
  const squaredDistance = new Float64Array(kept);
  const find = (targetX: number, targetY: number): void => {
    let filled = 0;
    for (let i = 0; i < x.length; i++) {
      const dx = x[i]! - targetX;
      const dy = y[i]! - targetY;
      const d2 = dx * dx + dy * dy;
      if (filled === kept && d2 >= squaredDistance[kept - 1]!) continue;
      let k = filled < kept ? filled++ : kept - 1;
      for (; k > 0 && squaredDistance[k - 1]! > d2; k--) {
        squaredDistance[k] = squaredDistance[k - 1]!;
        index[k] = index[k - 1]!;
      }
      squaredDistance[k] = d2;
      index[k] = i;
    }
  };
  return { find, index, squaredDistance };
}
