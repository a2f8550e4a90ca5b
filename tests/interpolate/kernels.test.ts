// WebAssembly and plain JavaScript must give the same bits; so must any cutting into bands.
import { afterEach, describe, expect, it, vi } from "vitest";
import { factorFast, inverseDiagonal } from "../../src/interpolate/arithmetic.ts";
import { compileCovariance, covarianceByFormula } from "../../src/interpolate/covariance.ts";
import { estimator } from "../../src/interpolate/estimator.ts";
import {
  type Arithmetic,
  type GridJob,
  gridKriger,
  type Kriged,
  krige,
  krigeGrid,
  leaveOneOut,
  type Parallel,
  type RowBand,
  type Samples,
  StoppedError,
  type Structure,
  type VariogramModel,
} from "../../src/interpolate/index.ts";
import { ordinarySystem } from "../../src/interpolate/ordinary-system.ts";
import { supportOf } from "../../src/interpolate/support.ts";
import { webAssemblyEstimator } from "../../src/interpolate/web-assembly-estimator.ts";
import { uniform } from "./simulate.ts";
import { largestDifference } from "./tables.ts";

const BOTH: Arithmetic[] = ["fastest", "javascript"];

function scattered(n: number, seed: number): Samples {
  const next = uniform(seed);
  const draw = (to: number) => Float64Array.from({ length: n }, () => next() * to);
  return Object.freeze({ x: draw(900), y: draw(600), value: draw(40) });
}

const of = (...structures: Structure[]): VariogramModel => ({ nugget: 0.4, structures });
const spherical = (range: number): Structure => ({ type: "spherical", partialSill: 1, range });
const MODELS: Record<string, VariogramModel> = {
  spherical: of(spherical(210)),
  nested: of(spherical(60), spherical(130), spherical(700)),
  exponential: of({ type: "exponential", partialSill: 2, range: 90 }),
  gaussian: of({ type: "gaussian", partialSill: 2, range: 150 }),
  matern: of(
    { type: "matern", partialSill: 2, range: 80, kappa: 1.3 },
    { type: "exponential", partialSill: 1, range: 300 },
  ),
  mixed: of(spherical(200), { type: "exponential", partialSill: 1, range: 60 }),
  turned: { ...of(spherical(210), spherical(400)), anisotropy: { angleDeg: 30, ratio: 0.4 } },
  "turned with a tail": {
    ...of({ type: "exponential", partialSill: 2, range: 90 }),
    anisotropy: { angleDeg: 110, ratio: 0.6 },
  },
  "nugget alone": of(),
};
const NAMES = Object.keys(MODELS);

/** Both as bits, so that -0 is not 0 and NaN is NaN. */
const bits = (kriged: Kriged): string[] =>
  [kriged.estimate, kriged.variance].map((a) =>
    Buffer.from(a.buffer, a.byteOffset, a.byteLength).toString("base64"),
  );

function expectSameBits(make: (arithmetic: Arithmetic) => Kriged): void {
  const [fast, plain] = BOTH.map((arithmetic) => bits(make(arithmetic)));
  expect(fast).toEqual(plain);
}

const targetsAt = (samples: Samples): { x: Float64Array; y: Float64Array } => {
  const next = uniform(5);
  const x = Float64Array.from({ length: 203 }, () => next() * 1200 - 150);
  const y = Float64Array.from({ length: 203 }, () => next() * 900 - 150);
  // On a sample, and so near one that the table of a tail has no piece there.
  x.set([samples.x[0]!, samples.x[0]! + 1e-12]);
  y.set([samples.y[0]!, samples.y[0]!]);
  return { x, y };
};

describe("kernels", () => {
  it("run in this host, so that the tests below compare two things", () => {
    const system = ordinarySystem(scattered(20, 1), MODELS.spherical!);
    const engine = webAssemblyEstimator(system, supportOf(system.covariance, undefined), true);
    expect(engine).toBeDefined();
    engine!.close();
  });

  it.each(NAMES)("give the bits of plain JavaScript: %s", (name) => {
    for (const n of [1, 2, 5, 18, 83]) {
      const samples = scattered(n, n);
      const targets = targetsAt(samples);
      for (const block of [undefined, { widthM: 12, heightM: 7 }]) {
        expectSameBits((arithmetic) =>
          krige(samples, MODELS[name]!, targets, { arithmetic, ...(block === undefined ? {} : { block }) }),
        );
      }
      expectSameBits((arithmetic) => leaveOneOut(samples, MODELS[name]!, { arithmetic }));
    }
  });

  it.each([1, 4, 7, 61, 64, 129])("factor and diagonal of the inverse, %d samples", (n) => {
    const { u, v } = { u: scattered(n, 3).x, v: scattered(n, 3).y };
    const { at } = compileCovariance(MODELS.spherical!);
    const [fast, plain] = BOTH.map((arithmetic) => {
      const matrix = Float64Array.from({ length: n * n }, (_, k) => {
        const [i, j] = [Math.floor(k / n), k % n];
        if (i === j) return 1.4;
        return i > j ? at((u[i]! - u[j]!) ** 2 + (v[i]! - v[j]!) ** 2) : 7;
      });
      expect(factorFast(matrix, n, arithmetic)).toBe(true);
      return [...matrix, ...inverseDiagonal(matrix, n, arithmetic)];
    });
    expect(fast).toEqual(plain);
  });

  it("refuse a matrix that is not positive definite, as plain JavaScript does", () => {
    const n = 20;
    for (const spoilt of [0, 3, 11, 19]) {
      for (const arithmetic of BOTH) {
        const matrix = new Float64Array(n * n);
        for (let i = 0; i < n; i++) matrix[i * n + i] = i === spoilt ? -1 : 1;
        expect(factorFast(matrix, n, arithmetic)).toBe(false);
      }
    }
  });

  it("lent twice at a time do not disturb each other, nor what they held before", () => {
    const system = ordinarySystem(scattered(40, 8), MODELS.nested!);
    const support = supportOf(system.covariance, undefined);
    const [u, v] = [Float64Array.of(10, 300, -50), Float64Array.of(5, 80, 400)];
    const ask = (engine: ReturnType<typeof estimator>): number[] => {
      engine.evaluate(u, v, 3);
      return [...engine.estimate.slice(0, 3), ...engine.variance.slice(0, 3)];
    };
    const first = estimator(system, support, true, "fastest");
    const once = ask(first);
    const second = estimator(ordinarySystem(scattered(90, 9), MODELS.exponential!), support, true, "fastest");
    const other = ask(second);
    expect(ask(first)).toEqual(once);
    first.close();
    const third = estimator(system, support, true, "fastest");
    expect(ask(third)).toEqual(once);
    expect(ask(second)).toEqual(other);
    for (const engine of [second, third]) engine.close();
  });
});

describe("a host without WebAssembly", () => {
  afterEach(() => {
    vi.unstubAllGlobals();
    vi.resetModules();
  });

  it.each([
    ["at all", undefined],
    [
      "that it may run",
      {
        Module: class {
          constructor() {
            throw new Error("forbidden");
          }
        },
        Instance: class {},
      },
    ],
  ])("(%s) gets the same numbers", async (_, platform) => {
    const samples = scattered(30, 2);
    const expected = bits(krige(samples, MODELS.nested!, targetsAt(samples)));
    vi.resetModules();
    vi.stubGlobal("WebAssembly", platform);
    const { krige: krigeThere } = await import("../../src/interpolate/index.ts");
    expect(bits(krigeThere(samples, MODELS.nested!, targetsAt(samples)))).toEqual(expected);
  });
});

describe("the table of a covariance with a tail", () => {
  it.each([
    { type: "exponential", range: 120 },
    { type: "gaussian", range: 75 },
    { type: "matern", range: 30, kappa: 0.1 },
    { type: "matern", range: 30, kappa: 0.3 },
    { type: "matern", range: 30, kappa: 1.3 },
    { type: "matern", range: 30, kappa: 20 },
  ] as const)("equals the formula: %o", (shape) => {
    const model = { nugget: 0, structures: [{ partialSill: 1, ...shape }] };
    const { at } = compileCovariance(model);
    // Of kappa 20 the formula itself is no better.
    const tolerance = "kappa" in shape && shape.kappa === 20 ? 1e-13 : 2e-14;
    for (let h = 1e-9; h < 1e5; h *= 1.37) {
      expect(Math.abs(at(h * h) - covarianceByFormula(model, Math.sqrt(h * h)))).toBeLessThan(tolerance);
    }
    for (const h of [1, 1.25, 1.5, 2, 2.5, 64, 80, 96, 128].map((octave) => octave * (1 - 1e-15))) {
      expect(Math.abs(at(h * h) - covarianceByFormula(model, h))).toBeLessThan(tolerance);
    }
  });
});

describe("row bands", () => {
  const grid = { nx: 21, ny: 53, ix0: -2, iy0: 3, cellM: 15 };
  const wanted = Uint8Array.from({ length: 21 * 53 }, (_, i) => (i % 7 === 0 || i > 900 ? 0 : 1));
  const samples = scattered(60, 4);
  const options = { variance: true } as const;

  /** Threads that are none: everything is copied as it would be to one, and done in the order given. */
  function pretended(order: (bands: readonly RowBand[]) => RowBand[]): Parallel & { jobs: number } {
    const threads: Parallel & { jobs: number } = {
      threads: 4,
      jobs: 0,
      bands: async (job, bands, onBand) => {
        threads.jobs++;
        const kriger = gridKriger(structuredClone(job));
        for (const band of order(bands)) {
          const size = band.rows * job.grid.nx;
          const into = { estimate: new Float64Array(size), variance: new Float64Array(size) };
          for (const map of Object.values(into)) map.fill(Number.NaN);
          for (const work of kriger.band(band, into)) expect(work).toBeGreaterThan(0);
          onBand(band, structuredClone(into));
        }
        kriger.close();
      },
    };
    return threads;
  }

  it.each(["spherical", "nested", "exponential", "turned"])(
    "in any order give the same bits: %s",
    async (name) => {
      const model = MODELS[name]!;
      const whole = bits(await krigeGrid(samples, model, grid, wanted, options));
      expect(
        bits(await krigeGrid(samples, model, grid, wanted, { ...options, arithmetic: "javascript" })),
      ).toEqual(whole);
      const job: GridJob = {
        samples,
        model,
        grid,
        wanted,
        variance: true,
        support: "cell",
        arithmetic: "fastest",
      };
      for (const height of [1, 5, 16, 53]) {
        const kriger = gridKriger(job);
        const out = { estimate: new Float64Array(21 * 53), variance: new Float64Array(21 * 53) };
        for (const map of Object.values(out)) map.fill(Number.NaN);
        const starts = Array.from({ length: Math.ceil(53 / height) }, (_, i) => i * height).reverse();
        for (const row of starts) {
          const rows = Math.min(height, 53 - row);
          const [from, to] = [row * 21, (row + rows) * 21];
          const into = {
            estimate: out.estimate.subarray(from, to),
            variance: out.variance.subarray(from, to),
          };
          for (const _ of kriger.band({ row, rows }, into));
        }
        kriger.close();
        expect(bits(out)).toEqual(whole);
      }
    },
  );

  it("go to threads when the work is long, and not when it is short", async () => {
    const long = { nx: 300, ny: 200, ix0: 0, iy0: 0, cellM: 3 };
    const all = new Uint8Array(60_000).fill(1);
    const many = scattered(200, 6);
    const model = MODELS.spherical!;
    const here = bits(await krigeGrid(many, model, long, all, options));
    const threads = pretended((bands) => bands.toReversed());
    const rows: number[] = [];
    const there = await krigeGrid(many, model, long, all, {
      ...options,
      parallel: threads,
      onRow: (r) => rows.push(r),
    });
    expect(bits(there)).toEqual(here);
    expect(threads.jobs).toBe(1);
    expect(rows.at(-1)).toBe(200);
    expect(rows).toEqual(rows.toSorted((a, b) => a - b));
    await krigeGrid(samples, model, grid, wanted, { ...options, parallel: threads });
    expect(threads.jobs).toBe(1);
    const stopped = krigeGrid(many, model, long, all, {
      ...options,
      parallel: threads,
      signal: { aborted: true },
    });
    await expect(stopped).rejects.toThrow(StoppedError);
    const wrong = { nugget: -1, structures: [] };
    await expect(krigeGrid(many, wrong, long, all, { ...options, parallel: threads })).rejects.toThrow(
      "nugget",
    );
    expect(threads.jobs).toBe(1);
  });
});

describe("more than 2,500 samples", () => {
  it("give the mean from all and the variance from the nearest 32", async () => {
    const next = uniform(11);
    const n = 2520;
    const samples: Samples = {
      x: Float64Array.from({ length: n }, (_, i) => (i % 60) * 20 + 10 * next()),
      y: Float64Array.from({ length: n }, (_, i) => Math.floor(i / 60) * 20 + 10 * next()),
      value: Float64Array.from({ length: n }, () => next() * 10),
    };
    const model = of(spherical(120));
    const targets = { x: Float64Array.of(100, 555, 1190), y: Float64Array.of(100, 333, 3) };
    const all = krige(samples, model, targets);
    const near = krige(samples, model, targets, { nearest: 32 });
    expect(all.variance).toEqual(near.variance);
    // Far beyond the range nothing is left to see: 800 neighbours say what all say.
    const most = krige(samples, model, targets, { nearest: 800 });
    expect(largestDifference(all.estimate, most.estimate)).toBeLessThan(0.02);
    expect(largestDifference(near.variance, most.variance)).toBeLessThan(0.01 * 1.4);
    expect(largestDifference(all.estimate, near.estimate)).toBeGreaterThan(0.05);
    const grid = { nx: 1, ny: 1, ix0: 9, iy0: 9, cellM: 10 };
    const cell = await krigeGrid(samples, model, grid, Uint8Array.of(1), { variance: true });
    const same = { x: Float64Array.of(95), y: Float64Array.of(95) };
    expect(cell).toEqual(krige(samples, model, same, { block: { widthM: 10, heightM: 10 } }));
  });
});
