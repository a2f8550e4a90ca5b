/**
 * The vertex led to by the first edge clockwise from the way back, for a walk that came from `from` to `at` with land on
 * its left; the way back itself comes last. Told by the signs of cross products, so exact on whole numbers (below 2^26).
 */
export const firstClockwise = (
  targets: readonly number[],
  from: number,
  at: number,
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
): number => {
  let best = targets[0]!;
  if (targets.length === 1) return best;
  const backX = xs[from]! - xs[at]!;
  const backY = ys[from]! - ys[at]!;
  let bestX = 0;
  let bestY = 0;
  let bestTurn = 2;
  for (const target of targets) {
    const x = xs[target]! - xs[at]!;
    const y = ys[target]! - ys[at]!;
    // 1: more than half a turn clockwise from the way back; 2: the way back.
    const turn = target === from ? 2 : backX * y - backY * x > 0 ? 1 : 0;
    const isSooner = turn === bestTurn ? x * bestY - y * bestX < 0 : turn < bestTurn;
    if (!isSooner) continue;
    best = target;
    bestX = x;
    bestY = y;
    bestTurn = turn;
  }
  return best;
};
