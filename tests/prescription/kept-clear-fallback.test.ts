import { expect, test } from "vitest";
import { rereadShapefile } from "../../src/formats/index.ts";
import { ellipsoidArea, type MultiPolygon } from "../../src/geo/index.ts";
import { type PlanController, type RunResult, run } from "../../src/plan/index.ts";
import { coarserClasses } from "../../src/prescription/coarse-classes.ts";
import { resultJson, type Stick, zerosInWords } from "../../src/publish/index.ts";
import { cabSheet, loadOrder } from "../../src/report/index.ts";
import { acres } from "../../src/units/index.ts";
import { needPlan } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";

const water = JSON.stringify({
  type: "LineString",
  coordinates: [
    [-93.4988, 41.999],
    [-93.4988, 42.004],
  ],
});

const runWith = (controller: PlanController): Promise<RunResult> => {
  const { plan, files } = needPlan({
    files: { "water.geojson": water },
    as: { "water.geojson": "exclusions" },
    plan: {
      exclusions: [{ source: "water.geojson", what: "waterway", method: "both", setbackFt: 66 }],
      extras: ["fallback"],
      controller,
    },
  });
  return run(plan, sourceOf(files));
};

/** Acres with a rate 0 by the file, read by code that did not write it. */
async function zeroOf(files: ReadonlyMap<string, Uint8Array>) {
  const features = await rereadShapefile(files);
  const zero = features.filter(({ properties }) => properties.RATE_LBAC === 0);
  const polygons: MultiPolygon = zero.flatMap(({ geometry }) =>
    geometry?.kind === "polygon" ? geometry.polygons : [],
  );
  const rates = features.map(({ properties }) => properties.RATE_LBAC as number);
  return { ac: acres(ellipsoidArea(polygons)), rates };
}

test("a small rate in place of 0 is not laid on ground that is kept clear, and everybody is told to stop there", async () => {
  const result = await runWith({ zeroRate: "small", smallRateLbPerAc: 5 });
  const field = result.fields[0]!;
  const said = field.notices.filter(({ code }) => code === "kept-clear-at-zero");
  const fallbacks = field.extras.filter(({ form }) => form === "fallback");
  expect(fallbacks).toHaveLength(field.prescriptions.length);
  for (const extra of fallbacks) {
    const map = field.prescriptions.find(({ stem }) => stem === extra.stems[0])!;
    const { pieces, areaAc } = map.pass === "strip" ? field.passes : field.swaths;
    const offAc = areaAc.reduce((ac, one, k) => ac + (pieces[k]!.keptOff ? one : 0), 0);
    expect(offAc).toBeGreaterThan(1);
    const { ac, rates } = await zeroOf(extra.files);
    expect(ac).toBeCloseTo(offAc + (extra.holesAc ?? 0), 3);
    expect(extra.keptClearAc).toBeCloseTo(offAc, 9);
    // What may get something has no 0, so that the file is safe to load.
    expect(extra.leastLbPerAc[0]).toBe(Math.min(...rates.filter((rate) => rate > 0)));
    expect(extra.leastLbPerAc[0]).toBeGreaterThanOrEqual(5);
    const words = said.map(({ message }) => message).join(" ");
    expect(words).toContain(`ground that is kept clear, ${offAc.toFixed(1)} ac, has rate 0 in`);
    expect(words).toContain(`${map.stem}F`);
    const order = loadOrder(result.plan, field, map.pass);
    expect(order.steps[0]!.form).toBe("fallback");
    expect(order.doubts.join(" ")).toMatch(
      new RegExp(`Ground that is kept clear, ${offAc.toFixed(1)} ac, has rate 0 in .*stop them by hand`),
    );
  }
  expect(cabSheet(result)).toMatch(/Least rate [^<]* outside (the holes and )?the ground kept clear: can/);
  expect(JSON.stringify(resultJson(result))).toContain('"keptClearAc"');
});

test("nothing is said of it where the controller takes a 0, and the coarsest map keeps it clear all the same", async () => {
  const plain = await runWith({ zeroRate: "off", mostPolygons: 2, mostVertices: 60 });
  const field = plain.fields[0]!;
  expect(field.notices.map(({ code }) => code)).not.toContain("kept-clear-at-zero");
  const off = field.passes.areaAc.reduce((ac, one, k) => ac + (field.passes.pieces[k]!.keptOff ? one : 0), 0);
  const extra = field.extras.find(({ form }) => form === "fallback")!;
  expect((await zeroOf(extra.files)).ac).toBeGreaterThan(off - 0.001);
  const [a, b, c] = [50, 100, 0];
  const all = [
    ...coarserClasses({
      rateLbPerAc: Float64Array.of(a, b, c),
      areaAc: Float64Array.of(1, 1, 1),
      pieces: [0, 1, 2].map((column) => ({ pass: 0, column, ...(column === 2 ? { keptOff: true } : {}) })),
      stepLbPerAc: 5,
    }),
  ];
  const last = all.at(-1)!;
  expect([...last.classOf].map((one) => last.rates[one])).toEqual([75, 75, 0]);
  expect(last.how).toBe("one rate for the whole field but for what is kept clear");
});

test("the stick tells the acres of each field once, whatever bins it has", () => {
  const map = (field: string, keptClearAc?: number) => ({ field, load: { keptClearAc } });
  const stick = (does: "small" | "off") =>
    ({
      zeroRate: { does, lbPerAc: 5 },
      maps: [map("mill", 1.3), map("mill", 1.3), map("ridge", 2.1), map("plain")],
    }) as unknown as Stick;
  expect(zerosInWords(stick("small"))).toBe(
    "Ground that is kept clear, 3.4 ac, has rate 0 in these files: do not drive onto it with the meters on; stop them by hand before it.",
  );
  expect(zerosInWords(stick("off"))).toBe("");
});
