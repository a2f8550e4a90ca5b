/** Where a closed ring crosses the line on which one coordinate, the first (0) or the second (1), is `at`: the other coordinate. */
export function crossings(
  ring: readonly (readonly [number, number])[],
  coordinate: 0 | 1,
  at: number,
): number[] {
  const other = coordinate === 0 ? 1 : 0;
  const found: number[] = [];
  for (let k = 0; k + 1 < ring.length; k++) {
    const [from, to] = [ring[k]!, ring[k + 1]!];
    const [here, next] = [from[coordinate], to[coordinate]];
    if (here < at !== next < at)
      found.push(from[other] + ((at - here) / (next - here)) * (to[other] - from[other]));
  }
  return found;
}
