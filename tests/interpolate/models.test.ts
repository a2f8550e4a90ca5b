// Averaged covariance, restricted likelihood and variogram fits against R (tests/data/meuse, tests/data/oxford).
import { describe, expect, it } from "vitest";
import {
  averagedModel,
  deviance,
  empiricalVariogram,
  type FitWeights,
  fitVariogram,
  leaveOneOut,
  pooledModels,
  type Samples,
  type VariogramBin,
} from "../../src/interpolate/index.ts";
import { spreadOut } from "../../src/interpolate/spread-out.ts";
import {
  column,
  largestDifference,
  largestRelativeDifference,
  meuse,
  oxford,
  type Row,
  structureType,
  table,
} from "./tables.ts";

/** Nodes in the order of the tables, which is ours. */
function sameNodes(samples: Samples, rows: readonly Row[], components: readonly Row[]): void {
  const { nodes, model } = averagedModel(samples);
  const close = (found: number[], name: string): void =>
    expect(largestRelativeDifference(found, column(rows, name))).toBeLessThan(1e-9);
  expect(nodes.map((node) => node.nuggetShare)).toEqual([...column(rows, "share")]);
  expect(nodes.map((node) => node.relativeRange)).toEqual([...column(rows, "rel_range")]);
  expect(
    largestDifference(
      nodes.map((node) => node.rangeM),
      column(rows, "range"),
    ),
  ).toBeLessThan(1e-5);
  close(
    nodes.map((node) => node.sill),
    "s2",
  );
  close(
    nodes.map((node) => node.deviance),
    "f",
  );
  close(
    nodes.map((node) => node.weight),
    "weight",
  );
  const psill = column(components, "psill");
  [model.nugget, ...model.structures.map((s) => s.partialSill)].forEach((found, i) => {
    expect(Math.abs(found - psill[i]!)).toBeLessThan(psill[i]! < 1e-10 ? 1e-12 : 1e-9 * psill[i]!);
  });
}

describe("averaged covariance", () => {
  it("of Meuse ln zinc", () => {
    sameNodes(meuse(), table("meuse/averaged_nodes.csv"), table("meuse/averaged_model.csv"));
  });

  it.each(["P", "K", "CEC", "ln_P", "ln_K"])("of Oxford %s", (test) => {
    const mine = (row: Row): boolean => row.test === test;
    const raw = oxford(test.replace("ln_", ""));
    const samples = test.startsWith("ln_") ? { ...raw, value: raw.value.map(Math.log) } : raw;
    sameNodes(
      samples,
      table("oxford/averaged-nodes.csv").filter(mine),
      table("oxford/averaged-models.csv").filter(mine),
    );
  });

  it("names the edge of the node grid that carries weight: Oxford CEC, long ranges and a small nugget", () => {
    const { nodes, edge, flatWeight } = averagedModel(oxford("CEC"));
    const corner = nodes.find((node) => node.nuggetShare === 0.05 && node.relativeRange === 0.9)!;
    expect(corner.weight).toBeCloseTo(0.44, 2);
    expect(edge.weight).toBeGreaterThan(1 / 3);
    expect(flatWeight).toBeLessThan(1e-20);
  });

  it("gives values without variance a model without variance", () => {
    const samples = { ...oxford("P"), value: new Float64Array(126).fill(20) };
    expect(averagedModel(samples).model).toEqual({ nugget: 0, structures: [] });
    expect(
      averagedModel({ x: Float64Array.of(1), y: Float64Array.of(2), value: Float64Array.of(3) }).flatWeight,
    ).toBe(1);
  });

  it("turns with the field: anisotropy along x is anisotropy along y of the field turned by 90 degrees", () => {
    const samples = meuse();
    const quarter = { ...samples, x: samples.y, y: samples.x.map((x) => -x) };
    const a = averagedModel(samples, { angleDeg: 90, ratio: 0.5 });
    const b = averagedModel(quarter, { angleDeg: 180, ratio: 0.5 });
    expect(a.model.anisotropy).toEqual({ angleDeg: 90, ratio: 0.5 });
    expect(a.model.nugget).toBeCloseTo(b.model.nugget, 9);
    expect(a.model.nugget).not.toBeCloseTo(averagedModel(samples).model.nugget, 4);
  });

  it("pools three fields by summing likelihoods; two are left to themselves", () => {
    const whole = oxford("P");
    const part = (from: number, to: number): Samples => ({
      x: whole.x.slice(from, to),
      y: whole.y.slice(from, to),
      value: whole.value.slice(from, to),
    });
    const fields = [part(0, 42), part(42, 84), part(84, 126), part(0, 6)];
    const pooled = pooledModels(fields);
    expect(pooled.map((p) => p.fields)).toEqual([3, 3, 3, 3]);
    const weights = pooled.map((p) => p.nodes.map((node) => node.weight));
    expect(weights[1]).toEqual(weights[0]);
    expect(weights[3]).toEqual(weights[0]);
    // Each field's own sill scales its own model.
    expect(pooled[0]!.model.nugget).not.toBe(pooled[1]!.model.nugget);
    // One field three times: a third of its deviance differences, so its likeliest node gains.
    const thrice = pooledModels([fields[0]!, fields[0]!, fields[0]!])[0]!;
    const once = averagedModel(fields[0]!);
    const likeliest = once.nodes.reduce((a, b) => (b.weight > a.weight ? b : a));
    const same = thrice.nodes.find(
      (n) => n.relativeRange === likeliest.relativeRange && n.nuggetShare === likeliest.nuggetShare,
    )!;
    expect(same.weight).toBeGreaterThan(likeliest.weight);
    expect(pooledModels(fields.slice(0, 2))).toEqual(fields.slice(0, 2).map((f) => averagedModel(f)));
  });

  it("has the whole variance for nugget where the samples it is taken from are all equal and others are not", () => {
    const at = Array.from({ length: 320 }, (_, i) => [50 * (i % 20), 50 * Math.floor(i / 20)] as const);
    const x = Float64Array.from(at, ([east]) => east);
    const y = Float64Array.from(at, ([, north]) => north);
    const picked = new Set(spreadOut(x, y, 300));
    const odd = at.findIndex((_, i) => !picked.has(i));
    const samples: Samples = { x, y, value: Float64Array.from(at, (_, i) => (i === odd ? 60 : 20)) };
    const { model, nodes } = averagedModel(samples);
    expect([nodes.length, model.structures.length]).toEqual([0, 0]);
    expect(model.nugget).toBeCloseTo(40 ** 2 / 320, 9); // one of 320 is off by 40
    const varied = oxford("P");
    const pooled = pooledModels([samples, varied, varied, varied]);
    expect(pooled[0]!.model).toEqual(model);
    expect(pooled.slice(1).every((one) => one.fields === 3 && Number.isFinite(one.model.nugget))).toBe(true);
  });

  it("spreads out: takes the far ends of a line first and every sample when few", () => {
    const x = Float64Array.from({ length: 101 }, (_, i) => i);
    const y = new Float64Array(101);
    expect([...spreadOut(x, y, 3)]).toEqual([0, 50, 100]);
    expect([...spreadOut(x, y, 5)]).toEqual([0, 25, 50, 75, 100]);
    expect(spreadOut(x, y, 300).length).toBe(101);
  });
});

it.each(["P", "K", "CEC"])("leave-one-out of Oxford %s under its averaged model", (test) => {
  const rows = table("oxford/loo.csv").filter(
    (row) => row.test === test && row.method === "ok_averaged" && row.scale === "raw",
  );
  const { estimate, variance } = leaveOneOut(oxford(test), averagedModel(oxford(test)).model);
  expect(largestRelativeDifference(estimate, column(rows, "pred"))).toBeLessThan(1e-9);
  expect(largestRelativeDifference(variance, column(rows, "var"))).toBeLessThan(1e-9);
});

it("restricted and full likelihood of Meuse ln zinc", () => {
  const rows = table("meuse/reml.csv").filter((row) => row.model === "Sph" || row.model === "Exp");
  expect(rows.length).toBeGreaterThan(8);
  for (const row of rows) {
    const structures = [
      { type: structureType(row.model!), partialSill: Number(row.psill), range: Number(row.range) },
    ];
    const found = deviance(meuse(), { nugget: Number(row.nugget), structures });
    expect(found.restricted).toBeCloseTo(Number(row.m2logREML), 6);
    expect(found.full).toBeCloseTo(Number(row.m2logML), 6);
  }
});

describe("empirical variogram and its fit", () => {
  /** Residuals of an ordinary-least-squares plane. */
  function detrended({ x, y, value }: Samples): Samples {
    const n = value.length;
    const mean = (a: Float64Array): number => a.reduce((s, v) => s + v, 0) / n;
    const dx = x.map((v) => v - mean(x));
    const dy = y.map((v) => v - mean(y));
    const dz = value.map((v) => v - mean(value));
    const dot = (a: Float64Array, b: Float64Array): number => a.reduce((s, v, i) => s + v * b[i]!, 0);
    const [xx, xy, yy, xz, yz] = [dot(dx, dx), dot(dx, dy), dot(dy, dy), dot(dx, dz), dot(dy, dz)];
    const bx = (xz * yy - yz * xy) / (xx * yy - xy * xy);
    const by = (yz * xx - xz * xy) / (xx * yy - xy * xy);
    return { x, y, value: dz.map((v, i) => v - bx * dx[i]! - by * dy[i]!) };
  }
  const raw = meuse("zinc", (v) => v);
  const binsOf: Record<string, VariogramBin[]> = {
    lzn_default: empiricalVariogram(meuse()),
    lzn_cressie: empiricalVariogram(meuse(), { estimator: "robust" }),
    lzn_c1300_w90: empiricalVariogram(meuse(), { cutoffM: 1300, widthM: 90 }),
    lzn_resid_xy: empiricalVariogram(detrended(meuse())),
    lzn_dir4: [0, 45, 90, 135].flatMap((angleDeg) =>
      empiricalVariogram(meuse(), { direction: { angleDeg, toleranceDeg: 22.5 } }),
    ),
    zn_default: empiricalVariogram(raw),
    lpb_default: empiricalVariogram(meuse("lead")),
  };

  it.each(Object.keys(binsOf))("bins of %s", (id) => {
    const rows = table("meuse/variogram_empirical.csv").filter((row) => row.id === id);
    const bins = binsOf[id]!;
    expect(rows.length).toBeGreaterThan(10);
    expect(bins.map((bin) => bin.pairs)).toEqual([...column(rows, "np")]);
    expect(
      largestRelativeDifference(
        bins.map((b) => b.distanceM),
        column(rows, "dist"),
      ),
    ).toBeLessThan(1e-9);
    expect(
      largestRelativeDifference(
        bins.map((b) => b.semivariance),
        column(rows, "gamma"),
      ),
    ).toBeLessThan(1e-9);
  });

  const METHOD: Record<string, FitWeights> = { 7: "pairs-over-squared-distance", 1: "pairs", 6: "equal" };
  it.each(table("meuse/variogram_fit.csv"))("fit of $id, $model, weights $fit_method", (row) => {
    const fit = fitVariogram(binsOf[row.id!]!, structureType(row.model!), {
      weights: METHOD[row.fit_method!]!,
      ...(row.model === "Mat" ? { kappa: Number(row.kappa) } : {}),
    })!;
    const { nugget, structures } = fit.model;
    expect(Math.abs(nugget - Number(row.opt_nugget))).toBeLessThanOrEqual(1e-4 * Number(row.opt_nugget));
    expect(structures[0]!.partialSill / Number(row.opt_psill) - 1).toBeCloseTo(0, 4);
    expect(structures[0]!.range / Number(row.opt_range) - 1).toBeCloseTo(0, 4);
    expect(Math.abs(fit.sumOfSquares / Number(row.opt_SSErr) - 1)).toBeLessThan(1e-8);
    expect(fit.rangeAtLimit).toBe(false);
  });

  it("says when the variogram never levels off, and refuses two bins", () => {
    const rising = Array.from({ length: 12 }, (_, i) => ({
      pairs: 50,
      distanceM: 30 * (i + 1),
      semivariance: i + 1,
    }));
    expect(fitVariogram(rising, "exponential")!.rangeAtLimit).toBe(true);
    expect(fitVariogram(rising.slice(0, 2), "spherical")).toBeUndefined();
  });
});
