import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { interpolate as turfInterpolate } from "@turf/turf";
import { inverseDistanceGrid, krigeGrid, leaveOneOut } from "../../dist/interpolate/index.js";

/** Side of the simulated field. */
const SIDE = 1000;
const TYPES = { Sph: "spherical", Exp: "exponential" };

/** Numbers in [0, 1) from a seed (a linear congruential generator; good enough to scatter samples). */
function uniform(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Scattered samples of a smooth surface with noise, standard deviation about 1. */
export function benchSamples(n) {
  const next = uniform(n);
  const x = Float64Array.from({ length: n }, () => next() * SIDE);
  const y = Float64Array.from({ length: n }, () => next() * SIDE);
  const value = Float64Array.from(x, (_, i) => Math.sin(x[i] / 150) + Math.cos(y[i] / 210) + next() - 0.5);
  return { x, y, value };
}

/** A row measured against gstat: the same task for both, and how far the answers may lie apart. */
function against({ name, what = "grid", n, k = 0, type = "Sph", range, block = 0, floor, goal, reps = 5 }) {
  const samples = benchSamples(n);
  const model = { nugget: 0.2, structures: [{ type: TYPES[type], partialSill: 0.8, range }] };
  const grid = { nx: k, ny: k, ix0: 0, iy0: 0, cellM: SIDE / k };
  const wanted = new Uint8Array(k * k).fill(1);
  const support = block > 0 ? "cell" : "point";
  return {
    name,
    floor,
    goal,
    reps,
    perCell: what === "grid" ? k * k : undefined,
    task: { what, samples, k, type, range, block, side: SIDE },
    tolerance: block > 0 ? 1e-6 : 1e-9,
    ours: async () =>
      what === "loo"
        ? leaveOneOut(samples, model)
        : krigeGrid(samples, model, grid, wanted, { variance: true, support }),
  };
}

const share = (r) => `spherical, range ${r} of the side`;

export const gstatRows = [
  ...[0.35, 0.15, 1].map((r) =>
    against({
      name: `mean and variance, ${share(r)}, 180 samples, 40,000 cells`,
      ...{ n: 180, k: 200, range: r * SIDE },
      ...(r === 0.35 ? { floor: 10, goal: 35 } : {}),
    }),
  ),
  against({
    name: `mean and variance, ${share(0.35)}, 1,000 samples, 200,000 cells`,
    ...{ n: 1000, k: 447, range: 0.35 * SIDE, floor: 20, goal: 75 },
  }),
  against({
    name: "mean and variance, exponential (no end), 180 samples, 40,000 cells",
    ...{ n: 180, k: 200, type: "Exp", range: 120, floor: 4, goal: 8 },
  }),
  against({
    name: "mean and variance, exponential (no end), 1,000 samples, 10,000 cells",
    ...{ n: 1000, k: 100, type: "Exp", range: 120, floor: 4, goal: 8, reps: 3 },
  }),
  against({
    name: `mean and variance of cells (4 x 4 points), ${share(0.35)}, 180 samples, 40,000 cells`,
    ...{ n: 180, k: 200, range: 0.35 * SIDE, block: SIDE / 200, floor: 5, goal: 14 },
  }),
  against({ name: "leave-one-out, 180 samples", what: "loo", n: 180, range: 350, floor: 200, goal: 1000 }),
  against({ name: "leave-one-out, 1,000 samples", what: "loo", n: 1000, range: 350, floor: 300, goal: 1000 }),
];

/** One thread against two on a million cells: returns both as tasks. */
export function threadRow(threads) {
  const samples = benchSamples(1000);
  const model = { nugget: 0.2, structures: [{ type: "spherical", partialSill: 0.8, range: 0.35 * SIDE }] };
  const grid = { nx: 1000, ny: 1000, ix0: 0, iy0: 0, cellM: 1 };
  const wanted = new Uint8Array(1e6).fill(1);
  const run = (parallel) => krigeGrid(samples, model, grid, wanted, { variance: true, support: "point", ...parallel });
  return {
    name: `two threads against one, ${share(0.35)}, 1,000 samples, 1,000,000 cells`,
    ...{ floor: 1.7, goal: 1.95, reps: 3 },
    one: () => run({}),
    two: () => run({ parallel: threads }),
  };
}

/** Inverse distance: seconds for each pair of a sample and a cell, ours and turf's. */
export function inverseDistanceRow() {
  const samples = benchSamples(180);
  const grid = { nx: 200, ny: 200, ix0: 0, iy0: 0, cellM: SIDE / 200 };
  const wanted = new Uint8Array(40_000).fill(1);
  const points = {
    type: "FeatureCollection",
    features: Array.from(samples.value, (z, i) => ({
      type: "Feature",
      properties: { z },
      // About a kilometre of degrees.
      geometry: { type: "Point", coordinates: [samples.x[i] * 1e-5, samples.y[i] * 1e-5] },
    })),
  };
  return {
    ours: () => {
      inverseDistanceGrid(samples, grid, wanted);
      return 180 * 40_000;
    },
    turf: () => {
      const options = { gridType: "point", property: "z", units: "meters", weight: 2 };
      return 180 * turfInterpolate(points, 25, options).features.length;
    },
  };
}

/** The mean alone at 2,500 places: ours, and seconds of the `kriging` package as it says itself. */
export function krigingPackageRow() {
  const samples = benchSamples(180);
  const model = { nugget: 0.2, structures: [{ type: "spherical", partialSill: 0.8, range: 350 }] };
  const grid = { nx: 50, ny: 50, ix0: 0, iy0: 0, cellM: 20 };
  const wanted = new Uint8Array(2500).fill(1);
  const places = Array.from(wanted, (_, i) => [((i % 50) + 0.5) * 20, (Math.floor(i / 50) + 0.5) * 20]);
  const asText = JSON.stringify({
    ...{ x: [...samples.x], y: [...samples.y], value: [...samples.value] },
    places,
  });
  return {
    ours: () => krigeGrid(samples, model, grid, wanted, { variance: false, support: "point" }),
    theirs: () =>
      Number(execFileSync(process.execPath, [join(import.meta.dirname, "kriging-package.mjs")], { input: asText })),
  };
}
