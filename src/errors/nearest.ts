/**
 * The known word closest to a mistyped one: fewest letters added, dropped, changed or swapped with their
 * neighbour (optimal string alignment); a word that was only cut short is closest of all. Of equals the
 * first. Throws when nothing is known.
 */
export function nearest(word: string, known: readonly string[]): string {
  const first = known[0];
  if (first === undefined) throw new Error("nearest: no known words");
  const cutShort = known.find((candidate) => word.length > 2 && candidate.startsWith(word));
  if (cutShort !== undefined) return cutShort;
  let best = first;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const steps = editSteps(word.toLowerCase().slice(0, 60), candidate.toLowerCase());
    if (steps < least) {
      least = steps;
      best = candidate;
    }
  }
  return best;
}

function editSteps(from: string, to: string): number {
  let twoAbove: number[] = [];
  let above = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row++) {
    const here = [row];
    for (let column = 1; column <= to.length; column++) {
      const same = from[row - 1] === to[column - 1];
      let steps = Math.min(above[column]! + 1, here[column - 1]! + 1, above[column - 1]! + (same ? 0 : 1));
      const swapped =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (swapped) steps = Math.min(steps, twoAbove[column - 2]! + 1);
      here.push(steps);
    }
    twoAbove = above;
    above = here;
  }
  return above[to.length]!;
}
