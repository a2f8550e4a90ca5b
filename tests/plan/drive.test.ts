import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { multiPolygonArea, tilingFaults } from "../../src/geo/index.ts";
import { createStageCache, type FieldResult, type PlanRig, run } from "../../src/plan/index.ts";
import { drivenRuns } from "../../src/plan/maps/stretch-passes.ts";
import { meanOver } from "../../src/prescription/index.ts";
import { LEAD_CAUTION, stripSegments } from "../../src/strips/index.ts";
import { acres, M_PER_FT, metresFromInches } from "../../src/units/index.ts";
import {
  type Change,
  codes,
  needPlan,
  openBalance,
  thrown,
  worked,
  workedField,
} from "../support/need-plan.ts";
import { smallPlan, sourceOf } from "../support/small-farm.ts";

// Rules of the drive: docs/strips.md. Figures of the trade are assumed or typed, as marked there.

const withRig = (rig: Partial<PlanRig>, change: Change = {}): Change => ({
  ...change,
  plan: {
    ...change.plan,
    rig: { ...smallPlan().rig, segmentM: 30, rates: "segments", rateStepLbPerAc: 5, ...rig },
  },
});
const CURVE = [
  { lonDeg: -93.4989, latDeg: 41.9995 },
  { lonDeg: -93.4986, latDeg: 42.0006 },
  { lonDeg: -93.4984, latDeg: 42.0015 },
  { lonDeg: -93.4985, latDeg: 42.003 },
];
const strips = (field: FieldResult) => field.prescriptions.filter(({ pass }) => pass === "strip");
const stripMeans = (field: FieldResult) =>
  field.split.products.map((product) => meanOver(field.passes.overlaps, product.strip));

describe("passes of a run", () => {
  it("without keys for driving are the plain straight cut, a rate and a polygon a segment", async () => {
    const field = await workedField(withRig({}), { files: "written" });
    const plain = stripSegments({
      boundary: field.checked.boundary,
      line: field.checked.line,
      widthM: field.passes.widthM,
      segmentM: 30,
    });
    expect(field.passes.pieces.map(({ pass, column, polygon }) => ({ pass, column, polygon }))).toEqual(
      plain.map(({ pass, column, polygon }) => ({ pass, column, polygon })),
    );
    expect(field.driving.stretches).toBeNull();
    expect(field.driving.headlandAc).toBe(0);
    for (const map of strips(field)) expect(map.polygons).toBe(plain.length);
  });

  it("follow headlands, a heading, places and a curve typed; files are read back, pounds balance", async () => {
    const ways = [
      { driveAlong: { headingDeg: 90 } },
      { driveAlong: { places: CURVE.slice(0, 2) }, headlandPasses: 0 },
      { driveAlong: { places: CURVE } },
    ];
    for (const field of ways) {
      const one = await workedField(withRig({ headlandPasses: 1, rates: "stretches" }, { field }), {
        files: "written",
      });
      expect(one.driving.headlandPasses).toBe(field.headlandPasses ?? 1);
      expect(openBalance(one)).toBeLessThan(1e-6);
      expect(
        tilingFaults(
          one.passes.pieces.map(({ polygon }) => [polygon]),
          one.checked.boundary,
          2e-4,
        ),
      ).toEqual([]);
      const areaAc = one.passes.areaAc.reduce((sum, ac) => sum + ac, 0);
      expect(Math.abs(areaAc / one.checked.areaAc - 1)).toBeLessThan(2e-6);
      for (const map of strips(one)) {
        expect(Math.abs(map.totalLb / map.needLb - 1)).toBeLessThan(1e-3);
        expect(map.files.size).toBe(6);
      }
    }
    const { passes } = await workedField(withRig({}, { field: { driveAlong: { headingDeg: 90 } } }));
    const headings = new Set(passes.pieces.map(({ headingDeg }) => Math.round(headingDeg)));
    expect([...headings].sort()).toEqual([270, 90]);
  });

  it("moved with the line leave the soil maps as they were", async () => {
    const { plan, files } = needPlan(withRig({}));
    const [cache, source] = [createStageCache(), sourceOf(files)];
    const before = await run(plan, source, { cache, files: "later" });
    const fields = plan.fields.map((field) => ({ ...field, driveAlong: { headingDeg: 10 } }));
    const after = await run({ ...plan, fields }, source, { cache, files: "later" });
    expect(after.fields[0]!.maps.P).toBe(before.fields[0]!.maps.P);
    expect(after.fields[0]!.need).toBe(before.fields[0]!.need);
    expect(after.fields[0]!.passes.pieces).not.toEqual(before.fields[0]!.passes.pieces);
  });

  it("headlands come last, or first when asked, and have zones of their own", async () => {
    const names = async (headlands: "last" | "first") => {
      const { plan, files } = needPlan(withRig({ headlandPasses: 2, headlands }));
      const field = (await run(plan, sourceOf(files))).fields[0]!;
      const kinds = field.passes.runs.map(({ kind }) => kind);
      expect(kinds[0]).toBe(headlands === "last" ? "interior" : "headland");
      const [map] = strips(field);
      const text = new TextDecoder().decode(map!.files.get(`${map!.stem}.geojson`));
      return JSON.parse(text).features.map((one: { properties: { ZONE: string } }) => one.properties.ZONE);
    };
    const zones = await names("last");
    expect(new Set(zones).size).toBe(zones.length);
    expect(zones.filter((zone: string) => /^H1-/.test(zone)).length).toBeGreaterThan(20);
    expect(zones.filter((zone: string) => /^H2-/.test(zone)).length).toBeGreaterThan(10);
    expect((await names("first")).toSorted()).toEqual(zones.toSorted());
  });

  it("lie half a row to the side named in odd years", async () => {
    const shift = async (seasonYear: number) =>
      (await workedField(withRig({ oddYears: "left" }, { plan: { seasonYear } }))).passes;
    const [even, odd] = [await shift(2028), await shift(2027)];
    expect(even.shiftM).toBe(0);
    expect(odd.shiftM).toBeCloseTo(-metresFromInches(15), 12);
    const error = await thrown(
      worked(
        withRig(
          { oddYears: "left" },
          { plan: { seasonYear: 2027 }, field: { driveAlong: { places: CURVE } } },
        ),
      ),
      InputError,
    );
    expect(error.code).toBe("shift-along-curve");
  });

  it("a planter that cannot follow is said", async () => {
    const planter = { rows: 24, rowSpacingIn: 15 };
    const { notices } = await workedField(withRig({ planter }));
    expect(codes(notices)).toContain("planter-half-rows");
  });
});

describe("stretches of one rate", () => {
  const stretched = withRig({ rates: "stretches", rateStepLbPerAc: 10, segmentM: 15, headlandPasses: 1 });

  it("are as long as the meter needs, keep each run's pounds and have one polygon each in the files", async () => {
    const field = await workedField(stretched, { files: "written" });
    // 3 x 8 mph x 4 s, both assumed.
    const { shortestM } = field.driving.stretches!;
    expect(shortestM).toBeCloseTo((3 * 8 * 1609.344 * 4) / 3600, 9);
    const means = stripMeans(field);
    strips(field).forEach((map, product) => {
      for (const { pieces, lengthM } of drivenRuns(field.passes).on) {
        const wholeM = lengthM.reduce((sum, length) => sum + length, 0);
        let most = 0;
        let [offLb, lengthOf, areaOf] = [0, 0, 0];
        pieces.forEach((k, i) => {
          offLb += (map.rateLbPerAc[k]! - means[product]![k]!) * field.passes.areaAc[k]!;
          lengthOf += lengthM[i]!;
          areaOf += field.passes.areaAc[k]!;
          if (map.stretchOf![pieces[i + 1]!] === map.stretchOf![k]) return;
          expect(lengthOf).toBeGreaterThan(Math.min(wholeM, shortestM) * (1 - 1e-6));
          most = Math.max(most, areaOf);
          [lengthOf, areaOf] = [0, 0];
        });
        expect(Math.abs(offLb)).toBeLessThanOrEqual(5 * most + 1e-9);
      }
      expect(map.polygons).toBeLessThan(field.passes.pieces.length / 2);
    });
  });

  it("keep to the most that any place may get", async () => {
    const split = { capLbPerAc: 95, capBasis: "most-in-a-cell", within: "alike" } as const;
    const field = await workedField({ ...stretched, plan: { ...stretched.plan, split } });
    const most = field.passes.pieces.map((_, k) =>
      strips(field).reduce((sum, map) => sum + map.rateLbPerAc[k]!, 0),
    );
    expect(Math.max(...most)).toBeLessThanOrEqual(95);
    expect(Math.max(...most)).toBeGreaterThanOrEqual(80);
    expect(openBalance(field)).toBeLessThan(1e-6);
  });

  it("grow longer until the controller's limits are met, and the notice names the change in pounds", async () => {
    const plan = { ...stretched.plan, controller: { mostPolygons: 60, mostVertices: 90 } };
    const field = await workedField({ ...stretched, plan }, { files: "written" });
    for (const map of strips(field)) {
      expect(map.polygons).toBeLessThanOrEqual(60);
      const text = new TextDecoder().decode(map.files.get(`${map.stem}.geojson`));
      for (const feature of JSON.parse(text).features) {
        expect(feature.geometry.coordinates.flat().length).toBeLessThanOrEqual(90);
      }
      expect(Math.abs(map.totalLb / map.needLb - 1)).toBeLessThan(1e-2);
    }
    const said = field.notices.filter(({ code }) => code === "map-coarsened");
    expect(said.length).toBeGreaterThan(0);
    expect(said[0]!.message).toMatch(/the total changed by -?\d+\.\d lb \(-?\d\.\d{3} %\)/);
    expect(said[0]!.where).toBe("low-forty");
    const finer = strips(await workedField(stretched));
    const changes = strips(field).map((map, i) => (map.totalLb - finer[i]!.totalLb).toFixed(1));
    const told = said.map(({ message }) => /changed by (-?\d+\.\d) lb/.exec(message)![1]!);
    expect(changes).toEqual(expect.arrayContaining(told));
  });

  it("limits that cannot be met are said, and the map stays as it was", async () => {
    const plan = { ...stretched.plan, controller: { mostPolygons: 10 } };
    const field = await workedField({ ...stretched, plan });
    const plain = await workedField(stretched);
    const told = field.notices.filter(({ code }) => code === "limits-not-met").map(({ message }) => message);
    expect(told.length).toBeGreaterThan(0);
    for (const message of told)
      expect(message).toMatch(/^Low Forty: However long its stretches, a strip map has \d+ polygons/);
    expect(strips(field)[0]!.rateLbPerAc).toEqual(strips(plain)[0]!.rateLbPerAc);
  });

  it("with a lead are moved ahead and the caution is said", async () => {
    const { rig } = stretched.plan!;
    const led = await workedField({ plan: { rig: { ...rig!, leadS: 4 } } });
    expect(led.notices.find(({ code }) => code === "rate-lead")!.message).toContain(LEAD_CAUTION);
    expect(openBalance(led)).toBeLessThan(1e-6);
    const plain = await workedField(stretched);
    expect(strips(led)[1]!.rateLbPerAc).not.toEqual(strips(plain)[1]!.rateLbPerAc);
    expect(Math.abs(strips(led)[1]!.totalLb / strips(plain)[1]!.totalLb - 1)).toBeLessThan(0.02);
  });
});

describe("what is covered twice", () => {
  it("follows from geometry, is less with sections, and is replaced by what is typed", async () => {
    const of = async (rig: Partial<PlanRig>) => {
      const { driving, notices } = await workedField(withRig({ headlandPasses: 1, ...rig }));
      return { ...driving.overlap, said: codes(notices).includes("overlap"), interiorAc: driving.interiorAc };
    };
    const [whole, rows, typed] = [
      await of({}),
      await of({ sections: { count: 12 } }),
      await of({ overlapPercent: 3, sections: { count: 12 } }),
    ];
    expect(whole).toMatchObject({ by: "geometry", sections: 1, areSectionsTyped: false, said: false });
    expect(rows.overlapAc).toBeLessThan(whole.overlapAc);
    expect(rows.overlapAc).toBeGreaterThan(0);
    expect(rows.said).toBe(true);
    expect(typed.by).toBe("typed");
    expect(typed.overlapAc).toBeCloseTo(0.03 * typed.interiorAc, 9);
    expect(typed.products.map(({ product }) => product)).toEqual(["11-52-0", "0-0-60"]);
    expect(typed.products[1]!.overlapLb).toBeGreaterThan(10);
  });
});

describe("ground that is kept off", () => {
  const corners = [
    { lonDeg: -93.4989, latDeg: 42.0003 },
    { lonDeg: -93.4987, latDeg: 42.0003 },
    { lonDeg: -93.4987, latDeg: 42.0007 },
    { lonDeg: -93.4989, latDeg: 42.0007 },
  ];
  const exclusions = [{ corners, what: "well", method: "both", setbackFt: 20 }] as const;

  it("as drawn cuts passes straight across at its edges, on headlands and curves too", async () => {
    for (const field of [
      {},
      { driveAlong: { places: CURVE } },
      { driveAlong: { headingDeg: 33 }, headlandPasses: 2 },
    ]) {
      const one = await workedField(withRig({}, { field, plan: { exclusions } }), { files: "written" });
      expect(openBalance(one)).toBeLessThan(1e-6);
      for (const ground of [one.passes, one.swaths]) {
        expect(
          tilingFaults(
            ground.pieces.map(({ polygon }) => [polygon]),
            one.checked.boundary,
            2e-4,
          ),
        ).toEqual([]);
        const off = ground.pieces.flatMap(({ keptOff, polygon }) => (keptOff ? [polygon] : []));
        const offAc = acres(multiPolygonArea(off));
        // Its own ground and what lies beside it across the pass; far less than whole pieces.
        expect(offAc).toBeGreaterThan(one.excluded.areaAc.both);
        const widthFt = ground === one.swaths ? 60 : 30;
        const boxAc = acres((54.2 + 2 * widthFt * M_PER_FT) * (56.6 + 2 * widthFt * M_PER_FT));
        expect(offAc).toBeLessThan(2 * boxAc);
      }
      for (const map of one.prescriptions) {
        const { pieces } = map.pass === "strip" ? one.passes : one.swaths;
        expect(pieces.every(({ keptOff }, k) => !keptOff || map.rateLbPerAc[k] === 0)).toBe(true);
      }
    }
  });
});
