import fc from "fast-check";
import { expect, it } from "vitest";
import { fieldFrame, type Point, unionOfTiles } from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { type RigLayout, stripLayout } from "../../src/strips/index.ts";
import { nastyField } from "../geo/nasty-fields.ts";
import { written } from "../geo/tiles.ts";
import { bentLine, layAndCheck } from "../strips/nasty-layouts.ts";

/** How long, and from which seed: `FUZZ_MINUTES=5 FUZZ_SEED=1`. A failure prints the seed of its batch. */
const MINUTES = Number(process.env.FUZZ_MINUTES ?? 5);
const SEED = Number(process.env.FUZZ_SEED ?? 1);
const BATCH = 100;

const layouts: fc.Arbitrary<{ readonly kind: string; readonly layout: RigLayout }> = fc
  .tuple(
    nastyField,
    fc.integer({ min: 0, max: 3 }),
    fc.constantFrom(0.3, 1, 1, 1.7),
    fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
    fc.constantFrom("straight", "straight", "straight", "curve"),
    fc.integer({ min: 0, max: 30 }),
    fc.integer({ min: 1, max: 3 }),
  )
  .map(([{ kind, land, widthM, lengthM }, headlandPasses, scale, turn, guide, bendM, waves]) => {
    const straight: Point[] = [
      [0, 0],
      [100 * Math.sin(turn), 100 * Math.cos(turn)],
    ];
    const isCurve = guide === "curve";
    return {
      kind: `${kind}, ${guide}`,
      layout: {
        boundary: land,
        guidance: isCurve ? bentLine([5, 8], 220, bendM, waves, turn) : straight,
        widthM: widthM * (isCurve ? Math.max(1, scale) : scale),
        segmentM: lengthM,
        headlandPasses: isCurve ? Math.min(1, headlandPasses) : headlandPasses,
      },
    };
  });

it("lays out nasty fields until the time is up", { timeout: (MINUTES + 3) * 60_000 }, () => {
  const frame = fieldFrame(-91.4, 42.9);
  const until = Date.now() + MINUTES * 60_000;
  const counts = new Map<string, number>();
  let pieces = 0;
  let worst = 0;
  const failures: string[] = [];
  for (let batch = SEED; Date.now() < until; batch++) {
    fc.sample(layouts, { seed: batch, numRuns: BATCH }).forEach(({ kind, layout }, number) => {
      if (Date.now() >= until) return;
      counts.set(kind, (counts.get(kind) ?? 0) + 1);
      const fail = (what: string): void => {
        failures.push(`seed ${batch}, number ${number} (${kind}): ${what}`);
      };
      try {
        const { laid, faults } = layAndCheck(layout);
        pieces += laid.segments.length;
        worst = Math.max(
          worst,
          Math.abs(sum(laid.segments.map(({ areaM2 }) => areaM2)) / laid.boundaryM2 - 1),
        );
        if (faults.length > 0) fail(JSON.stringify(faults.slice(0, 2)));
        const outline = unionOfTiles(laid.segments.map(({ polygon }) => polygon));
        const text = written(
          laid.segments.map(({ polygon }) => [polygon]),
          outline,
          frame,
        );
        if (text.faults.length > 0) fail(`written: ${JSON.stringify(text.faults.slice(0, 2))}`);
        if (number % 20 === 0) expect(stripLayout(layout)).toEqual(stripLayout(layout));
      } catch (error) {
        fail(String(error));
      }
    });
  }
  const total = [...counts.values()].reduce((a, b) => a + b, 0);
  console.log(
    [
      `${total} fields, ${pieces} pieces, ${failures.length} failures, worst total ${worst.toExponential(1)}, seeds from ${SEED}`,
      ...[...counts].sort().map(([kind, count]) => `  ${kind}: ${count}`),
      ...failures.slice(0, 20),
    ].join("\n"),
  );
  expect(failures).toEqual([]);
});
