import { beforeAll, describe, expect, it } from "vitest";
import type { Point, Polygon } from "../../src/geo/index.ts";
import { type RunResult, run } from "../../src/plan/index.ts";
import { type Prescription, readBackFaults, writePrescription } from "../../src/prescription/index.ts";
import { smallFarmFiles, smallPlan, sourceOf } from "../support/small-farm.ts";

let result: RunResult;
let map: Prescription;

beforeAll(async () => {
  result = await run(smallPlan(), sourceOf(smallFarmFiles()));
  map = result.fields[0]!.prescriptions[0]!;
});

const outline = () => result.fields[0]!.checked;

/** The strip map written again with other polygons or rates, as if the writer had a fault. */
function written(change: { polygons?: Polygon[]; rates?: Float64Array; totalLb?: number }): Prescription {
  const { passes } = result.fields[0]!;
  const polygons = change.polygons ?? passes.written;
  const zones = passes.pieces.map((piece) => `${piece.pass}-${piece.column}`);
  const rated = { ...map, rateLbPerAc: change.rates ?? map.rateLbPerAc };
  const made = writePrescription(rated, { polygons, zones }, "2027-03-20");
  return { ...made, totalLb: change.totalLb ?? map.totalLb };
}

const moved = (polygon: Polygon, from: Point, to: Point): Polygon =>
  polygon.map((ring) => ring.map((at) => (at[0] === from[0] && at[1] === from[1] ? to : at)));

describe("reading files back", () => {
  it("finds nothing in what was written right", async () => {
    expect(await readBackFaults(map, outline())).toEqual([]);
    expect(await readBackFaults(written({}), outline())).toEqual([]);
  });

  it("finds pounds that are not those meant", async () => {
    const faults = await readBackFaults(written({ totalLb: map.totalLb * 1.00002 }), outline());
    expect(faults.map((fault) => fault.file)).toEqual(["LOWFORTY_L_1152.shp", "LOWFORTY_L_1152.geojson"]);
    expect(faults[0]!.what).toMatch(/lb by its polygons and rates/);
  });

  it("finds a gap with an overlap of the same area: two neighbours share a corner that only one moved", async () => {
    const { written: polygons } = result.fields[0]!.passes;
    const inner = polygons.findIndex((polygon) => polygon[0]!.length === 4);
    const [a, b] = polygons[inner]![0]! as [Point, Point];
    // along the shared edge and back by as much: the polygon's own area stays the same to first order
    const shift: Point = [(b[0] - a[0]) * 0.1, (b[1] - a[1]) * 0.1];
    const changed = polygons.map((polygon, k) =>
      k === inner
        ? moved(moved(polygon, a, [a[0] - shift[0], a[1] - shift[1]]), b, [b[0] - shift[0], b[1] - shift[1]])
        : polygon,
    );
    const faults = await readBackFaults(written({ polygons: changed }), outline());
    expect(faults.some((fault) => /gap or overlap/.test(fault.what))).toBe(true);
  });

  it("finds a negative rate", async () => {
    const rates = Float64Array.from(map.rateLbPerAc);
    rates[3] = -5;
    const faults = await readBackFaults(written({ rates }), outline());
    expect(faults[0]!.what).toBe("record 4: the rate -5 is below zero");
  });

  it("finds a file that was cut short", async () => {
    const files = new Map(map.files);
    const [name, bytes] = [...files].find(([one]) => one.endsWith(".shp"))!;
    files.set(name, bytes.slice(0, bytes.length - 40));
    const faults = await readBackFaults({ ...map, files }, outline());
    expect(faults.map((fault) => fault.file)).toContain(name);
  });
});
