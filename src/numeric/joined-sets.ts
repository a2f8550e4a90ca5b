export interface JoinedSets {
  /** Make the sets of two items one; false where they were one already. */
  join(a: number, b: number): boolean;
  /** The least item of an item's set. */
  leastOf(item: number): number;
}

/** Items 0 to `count` - 1, each a set of its own until it is joined with others. */
export function joinedSets(count: number): JoinedSets {
  const below = Int32Array.from({ length: count }, (_, item) => item);
  const leastOf = (item: number): number => {
    let least = item;
    while (below[least] !== least) least = below[least]!;
    for (let at = item; at !== least; ) {
      const next = below[at]!;
      below[at] = least;
      at = next;
    }
    return least;
  };
  return {
    leastOf,
    join: (a, b) => {
      const [low, high] = [leastOf(a), leastOf(b)].sort((x, y) => x - y) as [number, number];
      below[high] = low;
      return low !== high;
    },
  };
}
