import { expect, it } from "vitest";
import { inverseDistance, inverseDistanceGrid } from "../../src/interpolate/index.ts";
import { uniform } from "./simulate.ts";

it("gives every wanted cell the bits that its centre gets by itself, on a sample and beside it", () => {
  const next = uniform(7);
  const n = 41;
  const samples = {
    x: Float64Array.from({ length: n }, () => next() * 300),
    y: Float64Array.from({ length: n }, () => next() * 200),
    value: Float64Array.from({ length: n }, () => next() * 40),
  };
  samples.x[5] = 45;
  samples.y[5] = 65;
  const grid = { nx: 31, ny: 19, ix0: -1, iy0: 1, cellM: 10 };
  const wanted = Uint8Array.from({ length: 31 * 19 }, (_, i) => (i % 6 === 0 ? 0 : 1));
  const cells = [...wanted.keys()].filter((cell) => wanted[cell] === 1);
  const targets = {
    x: Float64Array.from(cells, (cell) => ((cell % 31) - 1 + 0.5) * 10),
    y: Float64Array.from(cells, (cell) => (Math.floor(cell / 31) + 1 + 0.5) * 10),
  };
  expect(cells.some((_, i) => targets.x[i] === 45 && targets.y[i] === 65)).toBe(true);
  for (const options of [{}, { power: 3 }, { nearest: 8 }]) {
    const map = inverseDistanceGrid(samples, grid, wanted, options);
    expect(cells.map((cell) => map[cell])).toEqual([...inverseDistance(samples, targets, options)]);
    expect(map.filter(Number.isNaN)).toHaveLength(31 * 19 - cells.length);
  }
});
