import fc from "fast-check";
import { expect, it } from "vitest";
import { joinedSets } from "../../src/numeric/index.ts";

const pairs = fc.array(fc.tuple(fc.nat({ max: 29 }), fc.nat({ max: 29 })), { maxLength: 40 });

it("sets are those that a walk along the pairs finds, and joining tells what was apart", () => {
  fc.assert(
    fc.property(pairs, (joins) => {
      const sets = joinedSets(30);
      for (const [k, [a, b]] of joins.entries()) {
        expect(sets.join(a, b)).toBe(!reached(a, joins.slice(0, k)).has(b));
      }
      for (let item = 0; item < 30; item++) {
        expect(sets.leastOf(item)).toBe(Math.min(...reached(item, joins)));
      }
    }),
    { seed: 20260411, numRuns: 200 },
  );
});

/** Every item that can be walked to from one, each pair both ways. */
function reached(from: number, joins: readonly (readonly [number, number])[]): Set<number> {
  const seen = new Set([from]);
  for (const item of seen) {
    for (const [a, b] of joins) {
      if (a === item) seen.add(b);
      if (b === item) seen.add(a);
    }
  }
  return seen;
}
