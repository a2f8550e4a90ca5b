// Properties any ordinary kriging must have, and the awkward sample sets. Seeds are fixed.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  inverseDistance,
  inverseDistanceGrid,
  krige,
  krigeGrid,
  leaveOneOut,
  leaveOneOutInverseDistance,
  leaveOneOutMean,
  type Samples,
  StoppedError,
  type Structure,
  semivariance,
  type VariogramModel,
} from "../../src/interpolate/index.ts";
import { largestDifference } from "./tables.ts";

const SEED = { seed: 20_240_501, numRuns: 60 };

/** Up to 25 samples, never two on one place: distinct cells of a 20 m raster, moved inside their cell. */
const samplesOf = (least: number): fc.Arbitrary<Samples> =>
  fc
    .uniqueArray(
      fc.record({
        cell: fc.integer({ min: 0, max: 899 }),
        dx: fc.double({ min: 0, max: 15, noNaN: true }),
        dy: fc.double({ min: 0, max: 15, noNaN: true }),
        value: fc.double({ min: 1, max: 400, noNaN: true }),
      }),
      { minLength: least, maxLength: 25, selector: (s) => s.cell },
    )
    .map((list) =>
      Object.freeze({
        x: Float64Array.from(list, (s) => (s.cell % 30) * 20 + s.dx),
        y: Float64Array.from(list, (s) => Math.floor(s.cell / 30) * 20 + s.dy),
        value: Float64Array.from(list, (s) => s.value),
      }),
    );

const structure: fc.Arbitrary<Structure> = fc
  .record({
    type: fc.constantFrom("spherical" as const, "exponential" as const, "matern" as const),
    partialSill: fc.double({ min: 0.5, max: 50, noNaN: true }),
    range: fc.double({ min: 30, max: 500, noNaN: true }),
    kappa: fc.double({ min: 0.3, max: 2, noNaN: true }),
  })
  .map(({ kappa, ...rest }) => (rest.type === "matern" ? { ...rest, kappa } : rest));

const modelOf = (nugget: fc.Arbitrary<number>): fc.Arbitrary<VariogramModel> =>
  fc
    .record({
      nugget,
      structures: fc.array(structure, { minLength: 1, maxLength: 3 }),
      angleDeg: fc.integer({ min: 0, max: 179 }),
      ratio: fc.constantFrom(1, 0.7, 0.3),
    })
    .map(({ angleDeg, ratio, ...rest }) => ({ ...rest, anisotropy: { angleDeg, ratio } }));

const withNugget = modelOf(fc.double({ min: 0.5, max: 20, noNaN: true }));
const TARGETS = { x: Float64Array.of(3, 250, 599, 900, 120), y: Float64Array.of(7, 310, 20, -400, 480) };
const BLOCK = { widthM: 10, heightM: 10 };
const SUPPORTS = [{}, { block: BLOCK }, { nearest: 5 }, { nearest: 5, block: BLOCK }];
const constant = (samples: Samples, value: number): Samples => ({
  ...samples,
  value: samples.value.map(() => value),
});
const GRID = { nx: 9, ny: 20, ix0: -3, iy0: 4, cellM: 30 };
const ALL = new Uint8Array(180).fill(1);

describe("ordinary kriging", () => {
  it("maps a constant to itself", () => {
    fc.assert(
      fc.property(samplesOf(1), withNugget, (samples, model) => {
        for (const options of SUPPORTS) {
          const { estimate } = krige(constant(samples, 20), model, TARGETS, options);
          for (const e of estimate) expect(e).toBeCloseTo(20, 10);
        }
        for (const e of leaveOneOut(constant(samples, 20), model).estimate) {
          if (samples.value.length > 1) expect(e).toBeCloseTo(20, 10);
        }
      }),
      SEED,
    );
  });

  it("is exact at the samples, with variance 0, nugget or not", () => {
    fc.assert(
      fc.property(samplesOf(1), modelOf(fc.constantFrom(0, 5)), (samples, model) => {
        const { estimate, variance } = krige(samples, model, samples);
        expect(largestDifference(estimate, samples.value)).toBeLessThan(1e-6);
        for (const v of variance) expect(v).toBeLessThan(1e-7);
      }),
      SEED,
    );
  });

  it("has weights that sum to 1: adding a constant to the samples adds it to the map", () => {
    fc.assert(
      fc.property(samplesOf(2), withNugget, (samples, model) => {
        const raised = { ...samples, value: samples.value.map((v) => v + 1000) };
        for (const options of SUPPORTS) {
          const a = krige(samples, model, TARGETS, options);
          const b = krige(raised, model, TARGETS, options);
          expect(
            largestDifference(
              b.estimate,
              a.estimate.map((e) => e + 1000),
            ),
          ).toBeLessThan(1e-9);
          expect(largestDifference(a.variance, b.variance)).toBe(0);
        }
        // The weights themselves: the estimate of a sample that alone is 1.
        let total = 0;
        for (let i = 0; i < samples.value.length; i++) {
          const one = { ...samples, value: samples.value.map((_, j) => (i === j ? 1 : 0)) };
          total += krige(one, model, { x: TARGETS.x.slice(1, 2), y: TARGETS.y.slice(1, 2) }).estimate[0]!;
        }
        expect(total).toBeCloseTo(1, 10);
      }),
      SEED,
    );
  });

  it("never has a variance below 0, nor above that of a lone far sample", () => {
    fc.assert(
      fc.property(samplesOf(1), modelOf(fc.constantFrom(0, 0.1, 5)), (samples, model) => {
        const total = model.nugget + model.structures.reduce((sum, s) => sum + s.partialSill, 0);
        for (const options of SUPPORTS) {
          for (const v of krige(samples, model, TARGETS, options).variance) {
            expect(v).toBeGreaterThanOrEqual(0);
            expect(v).toBeLessThanOrEqual(2 * total * (1 + 1e-9));
          }
        }
      }),
      SEED,
    );
  });

  it("gives leave-one-out what leaving one out gives", () => {
    fc.assert(
      fc.property(samplesOf(2), withNugget, (samples, model) => {
        const { estimate, variance } = leaveOneOut(samples, model);
        for (let i = 0; i < samples.value.length; i++) {
          const keep = (a: Float64Array): Float64Array => a.filter((_, j) => j !== i);
          const rest = { x: keep(samples.x), y: keep(samples.y), value: keep(samples.value) };
          const alone = krige(rest, model, { x: samples.x.slice(i, i + 1), y: samples.y.slice(i, i + 1) });
          expect(estimate[i]!).toBeCloseTo(alone.estimate[0]!, 8);
          expect(variance[i]!).toBeCloseTo(alone.variance[0]!, 8);
        }
      }),
      { ...SEED, numRuns: 20 },
    );
  });

  it("gives the same on a grid as at the grid's centres, tile by tile", async () => {
    await fc.assert(
      fc.asyncProperty(samplesOf(1), withNugget, async (samples, model) => {
        const cells = Array.from({ length: 180 }, (_, i) => i);
        const centres = {
          x: Float64Array.from(cells, (i) => ((i % 9) - 3 + 0.5) * 30),
          y: Float64Array.from(cells, (i) => (Math.floor(i / 9) + 4 + 0.5) * 30),
        };
        const block = { widthM: 30, heightM: 30 };
        for (const support of ["cell", "point"] as const) {
          const map = await krigeGrid(samples, model, GRID, ALL, { variance: true, support });
          const list = krige(samples, model, centres, support === "cell" ? { block } : {});
          expect(largestDifference(map.estimate, list.estimate)).toBeLessThan(1e-8);
          expect(largestDifference(map.variance, list.variance)).toBeLessThan(1e-8);
        }
      }),
      { ...SEED, numRuns: 15 },
    );
  });
});

describe("awkward sample sets", () => {
  const model: VariogramModel = {
    nugget: 2,
    structures: [{ type: "spherical", partialSill: 5, range: 200 }],
  };
  const one: Samples = { x: Float64Array.of(10), y: Float64Array.of(20), value: Float64Array.of(17) };
  const two = (y: number, value: number): Samples => ({
    x: Float64Array.of(10, 10),
    y: Float64Array.of(20, y),
    value: Float64Array.of(17, value),
  });

  it("one sample: its value everywhere, and no leave-one-out", () => {
    const { estimate, variance } = krige(one, model, TARGETS);
    expect([...estimate]).toEqual([17, 17, 17, 17, 17]);
    // Two independent draws, twice the sill: (common practice) where the sample is beyond the range.
    expect(variance[3]).toBeCloseTo(14, 12);
    expect(leaveOneOut(one, model).estimate[0]).toBeNaN();
    expect(leaveOneOutInverseDistance(one)[0]).toBeNaN();
    expect(leaveOneOutMean(one)[0]).toBeNaN();
    expect([...inverseDistance(one, TARGETS)]).toEqual([17, 17, 17, 17, 17]);
  });

  it("equal values under a model without variance: the value, variance 0", async () => {
    const none: VariogramModel = { nugget: 0, structures: [] };
    const same = two(90, 17);
    expect(krige(same, none, TARGETS)).toEqual({
      estimate: new Float64Array(5).fill(17),
      variance: new Float64Array(5),
    });
    const map = await krigeGrid(same, none, GRID, ALL, { variance: true });
    expect(map.estimate.every((e) => e === 17)).toBe(true);
    expect(map.variance.every((v) => v === 0)).toBe(true);
    expect(() => krige(two(90, 18), none, TARGETS)).toThrow(
      expect.objectContaining({ code: "model-not-solvable" }),
    );
  });

  it("two samples at one place are refused by name", () => {
    const refused = expect.objectContaining({
      code: "samples-at-one-place",
      message: "samples 1 and 2 stand at one place (10, 20) with the values 17 and 30",
    });
    expect(() => krige(two(20, 30), model, TARGETS)).toThrow(refused);
    expect(() => krige(two(20, 30), model, TARGETS, { nearest: 1 })).toThrow(refused);
    expect(() => leaveOneOut(two(20, 30), model)).toThrow(refused);
    expect(() => inverseDistance(two(20, 30), TARGETS)).toThrow(refused);
  });

  it("of several at one place the first that repeats one is told; a like x alone is no one place", () => {
    const among = (y: readonly number[]): Samples => ({
      x: Float64Array.of(5, 0, 5, 0, 5),
      y: Float64Array.from(y),
      value: Float64Array.of(11, 12, 13, 14, 15),
    });
    expect(() => krige(among([5, 7, 6, 7, 5]), model, TARGETS)).toThrow(
      "samples 2 and 4 stand at one place (0, 7) with the values 12 and 14",
    );
    expect(krige(among([5, 7, 6, 8, 9]), model, TARGETS).estimate.every(Number.isFinite)).toBe(true);
  });

  it("no samples, and models that mean nothing, are refused", () => {
    const none = { x: new Float64Array(), y: new Float64Array(), value: new Float64Array() };
    expect(() => krige(none, model, TARGETS)).toThrow(expect.objectContaining({ code: "no-samples" }));
    const bad: VariogramModel[] = [
      { ...model, nugget: -1 },
      { ...model, structures: [{ type: "spherical", partialSill: 1, range: 0 }] },
      { ...model, structures: [{ type: "matern", partialSill: 1, range: 9 }] },
      { ...model, structures: [{ type: "gaussian", partialSill: 1, range: 9, kappa: 1 }] },
      { ...model, structures: [{ type: "spheric" as "spherical", partialSill: 1, range: 9 }] },
      { ...model, anisotropy: { angleDeg: 0, ratio: 2 } },
    ];
    for (const wrong of bad) {
      expect(() => krige(one, wrong, TARGETS)).toThrow(expect.objectContaining({ code: "variogram-model" }));
    }
  });

  it("covariances singular in double precision are refused, not answered with noise", () => {
    const x = Float64Array.from({ length: 40 }, (_, i) => i * 0.5);
    const close: Samples = { x, y: x.map(() => 0), value: x.map((v) => Math.sin(v)) };
    const smooth: VariogramModel = {
      nugget: 0,
      structures: [{ type: "gaussian", partialSill: 1, range: 500 }],
    };
    expect(() => krige(close, smooth, TARGETS)).toThrow(
      expect.objectContaining({ code: "model-not-solvable" }),
    );
  });

  it("leaves unwanted cells without a value and never touches its inputs", async () => {
    const wanted = new Uint8Array(180);
    wanted[7] = 1;
    const samples = two(90, 30);
    const before = structuredClone(samples);
    const map = await krigeGrid(samples, model, GRID, wanted, { variance: false });
    expect(map.estimate.filter(Number.isFinite).length).toBe(1);
    expect(map.variance.every(Number.isNaN)).toBe(true);
    expect(inverseDistanceGrid(samples, GRID, wanted).filter(Number.isFinite).length).toBe(1);
    expect(samples).toEqual(before);
  });

  it("pauses, reports rows and stops when asked", async () => {
    const grid = { nx: 300, ny: 300, ix0: 0, iy0: 0, cellM: 10 };
    const wanted = new Uint8Array(90_000).fill(1);
    const x = Float64Array.from({ length: 80 }, (_, i) => (i * 379) % 3000);
    const samples = { x, y: x.map((_, i) => (i * 811) % 3000), value: x.map((v) => Math.sqrt(v)) };
    const wide: VariogramModel = {
      nugget: 1,
      structures: [{ type: "spherical", partialSill: 5, range: 9000 }],
    };
    const signal = { aborted: false };
    const rows: number[] = [];
    let pauses = 0;
    const pause = async (): Promise<void> => {
      pauses++;
      signal.aborted = rows.length === 3;
    };
    const onRow = (done: number): number => rows.push(done);
    const run = krigeGrid(samples, wide, grid, wanted, { variance: true, signal, pause, onRow });
    await expect(run).rejects.toThrow(StoppedError);
    expect(rows).toEqual([16, 32, 48]);
    expect(pauses).toBeGreaterThan(3);
  });
});

describe("semivariance", () => {
  // NIST DLMF 10.39.2 (from memory): K_1/2(x) = sqrt(pi / 2x) e^-x, so a Matern of kappa 1/2 is exponential.
  it.each([0.499999999, 0.5])("of matern at kappa %d is the exponential one", (kappa) => {
    for (const h of [1e-3, 1, 30, 200, 2000]) {
      const matern = semivariance(
        { nugget: 0, structures: [{ type: "matern", partialSill: 1, range: 60, kappa }] },
        h,
        0,
      );
      const plain = semivariance(
        { nugget: 0, structures: [{ type: "exponential", partialSill: 1, range: 60 }] },
        h,
        0,
      );
      expect(matern).toBeCloseTo(plain, 7);
    }
  });

  it("of gaussian is 1 - exp(-(h/r)^2), the convention of the tables", () => {
    const model: VariogramModel = {
      nugget: 0.5,
      structures: [{ type: "gaussian", partialSill: 2, range: 100 }],
    };
    expect(semivariance(model, 60, 80)).toBeCloseTo(0.5 + 2 * (1 - Math.exp(-1)), 12);
    expect(semivariance(model, 0, 0)).toBe(0);
  });
});
