import { describe, expect, it } from "vitest";
import { InputError, type Notice, QuestionError } from "../../src/errors/index.ts";
import { isKnownAnswerKey, newPlan, type Plan, readPlan, run, writePlan } from "../../src/plan/index.ts";
import { testInWords } from "../../src/report/index.ts";
import { rectangles } from "../support/need-plan.ts";
import { ANSWERS, asList, smallFarmFiles, sourceOf, withFile } from "../support/small-farm.ts";

// The field lies between -93.5 and -93.4965 degrees east, 42 and 42.0027 north.
const west = [-93.501, 41.999, -93.498, 42.004] as const;
const east = [-93.498, 41.999, -93.496, 42.004] as const;
const zones = rectangles([
  [...west, { ZONE: "W1", P_RATE: 60, K_RATE: 90 }],
  [...east, { ZONE: "7", P_RATE: 0, K_RATE: 120 }],
]);
const well = rectangles([[-93.4992, 42.0008, -93.4991, 42.0009, { what: "well" }]]);
const composites = "sample,P M3 ppm,K M3 ppm,CEC meq/100g\nW1,12,110,14\n7,30,180,20\n";

const make = (files: ReadonlyMap<string, Uint8Array>, answers: Readonly<Record<string, string>>) =>
  newPlan("farm", "2027-03-20", asList(files), { ...ANSWERS, ...answers });
function keysAsked(files: ReadonlyMap<string, Uint8Array>, answers: Readonly<Record<string, string>>) {
  try {
    make(files, answers);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions.map(({ key }) => key);
    throw error;
  }
  return [];
}
const saved = (plan: Plan): Plan => readPlan(writePlan(plan), "plan.json");

describe("polygons on a field's ground", () => {
  const withZones = withFile(smallFarmFiles(), "zones.geojson", zones);

  it("are asked for what they are, and make no field of their own once that is said", () => {
    expect(keysAsked(withZones, {})).toEqual(["role.boundary.geojson", "role.zones.geojson"]);
    const { plan, recognised } = make(withZones, { "role.zones.geojson": "zones" });
    expect(plan.fields).toHaveLength(1);
    expect(saved(plan).fields[0]!.needFrom).toEqual({
      kind: "zones",
      source: "zones.geojson",
      idColumn: "ZONE",
    });
    expect(plan.sources.find(({ path }) => path === "zones.geojson")?.as).toBe("zones");
    expect(recognised.join("\n")).toMatch(/zones\.geojson: 2 polygons, taken as zones;/);
  });

  it("with composites that have no position are worked out zone by zone", async () => {
    const byZone = withFile(withZones, "lab.csv", composites.replace("sample,", "Zone,"));
    const { recognised } = make(byZone, { "role.zones.geojson": "zones" });
    expect(recognised.find((line) => line.startsWith("lab.csv"))).not.toContain("not used");
    const files = withFile(withZones, "lab.csv", composites);
    const { plan } = make(files, { "role.zones.geojson": "zones" });
    const result = await run(plan, sourceOf(files), { files: "later" });
    const field = result.fields[0]!;
    expect(field.need.from).toBe("zones");
    expect([...new Set(field.maps.P!.estimate.filter(Number.isFinite))].sort()).toEqual([12, 30]);
  });

  it("with several samples in each count by their mean, which is told, and the samples are counted", async () => {
    const { plan, notices } = make(withZones, { "role.zones.geojson": "zones" });
    const told =
      /^Low Forty: 9 samples lie in 2 zones of zones\.geojson and count by their mean in each; .*yieldZones/;
    const averaged = (all: readonly Notice[]) => all.filter(({ code }) => code === "samples-averaged");
    expect(averaged(notices).map(({ message }) => message)).toEqual([expect.stringMatching(told)]);
    const result = await run(plan, sourceOf(withZones), { files: "later" });
    expect(averaged(result.fields[0]!.notices).map(({ message }) => message)).toEqual([
      expect.stringMatching(told),
    ]);
    const field = result.fields[0]!;
    const p = field.maps.P!;
    // West of -93.498: 8, 12, 14, 18, 17, 26; east of it: 22, 35, 44.
    const [low, high] = [...new Set(p.estimate.filter(Number.isFinite))].sort((a, b) => a - b);
    expect(low).toBeCloseTo(95 / 6, 9);
    expect(high).toBeCloseTo(101 / 3, 9);
    expect(p).toMatchObject({ samples: 9, method: "mean of the samples in each of 2 zones" });
    expect(testInWords(field, "P")).toMatch(/9 samples/);
    const files = withFile(withZones, "lab.csv", composites);
    const byComposite = make(files, { "role.zones.geojson": "zones" });
    expect(averaged(byComposite.notices)).toEqual([]);
    const { fields } = await run(byComposite.plan, sourceOf(files), { files: "later" });
    expect(averaged(fields[0]!.notices)).toEqual([]);
    expect(fields[0]!.maps.P).toMatchObject({ samples: 2, method: "composite by zone" });
  });

  it("of an adviser's rates need no soil test, but column, oxide or product and unit", async () => {
    const bare = new Map([...withZones].filter(([path]) => path !== "lab.csv"));
    const role = { "role.zones.geojson": "rates" };
    const asked = ["P2O5", "K2O"].flatMap((oxide) =>
      ["column", "of", "unit"].map((what) => `rate-${what}.${oxide}`),
    );
    expect(keysAsked(bare, role)).toEqual(asked);
    const answers = {
      ...role,
      "rate-column.P2O5": "P_RATE",
      "rate-of.P2O5": "11-52-0",
      "rate-unit.P2O5": "lb/ac",
      "rate-column.K2O": "none",
    };
    const others = Object.fromEntries(
      Object.entries({ ...ANSWERS, ...answers }).filter(([key]) => key !== "guide"),
    );
    let text = "";
    try {
      newPlan("farm", "2027-03-20", asList(bare), others);
    } catch (error) {
      if (!(error instanceof QuestionError)) throw error;
      text = error.questions.map((question) => question.text).join("; ");
    }
    expect(text).toMatch(/takes off, for the balance sheet\? The rates are the adviser's own\.$/);
    const { plan } = make(bare, answers);
    expect(plan.fields[0]).not.toHaveProperty("samples");
    const result = await run(saved(plan), sourceOf(bare), { files: "later" });
    const { need } = result.fields[0]!;
    expect(need.from).toBe("rates");
    // 60 lb of 11-52-0 bring 31.2 lb of P2O5.
    expect(Math.max(...need.p2o5LbPerAc.filter(Number.isFinite))).toBeCloseTo(31.2, 9);
    expect(Math.max(...need.k2oLbPerAc.filter(Number.isFinite))).toBe(0);
    expect(() => make(bare, { "role.zones.geojson": "zones" })).toThrow(InputError);
  });

  it("to keep clear of ask what, which method and how far; no distance is suggested", async () => {
    const files = withFile(smallFarmFiles(), "well.geojson", well);
    const role = { "role.well.geojson": "exclusions" };
    expect(keysAsked(files, role)).toEqual(["exclusion-what", "exclusion-method", "setback-ft"]);
    const answers = { ...role, "exclusion-what": "well", "exclusion-method": "both", "setback-ft": "100" };
    expect(keysAsked(files, { ...answers, "setback-ft": "-1" })).toEqual(["setback-ft"]);
    const plan = saved(make(files, answers).plan);
    expect(plan.exclusions).toEqual([
      { source: "well.geojson", what: "well", method: "both", setbackFt: 100 },
    ]);
    const result = await run(plan, sourceOf(files), { files: "later" });
    expect(result.fields[0]!.excluded.areaAc.surface).toBeGreaterThan(0.5);
    for (const key of Object.keys(answers)) expect(isKnownAnswerKey(key)).toBe(true);
  });

  it("of two files to keep clear of each is asked by its own key", () => {
    const inlet = rectangles([[-93.4982, 42.0018, -93.4981, 42.0019, { what: "inlet" }]]);
    const files = withFile(withFile(smallFarmFiles(), "well.geojson", well), "inlet.geojson", inlet);
    const roles = { "role.well.geojson": "exclusions", "role.inlet.geojson": "exclusions" };
    const keys = ["exclusion-what", "exclusion-method", "setback-ft"];
    const asked = (path: string) => keys.map((key) => `${key}.${path}`);
    expect(keysAsked(files, roles)).toEqual([...asked("well.geojson"), ...asked("inlet.geojson")]);
    const { plan } = make(files, {
      ...{ ...roles, "exclusion-what": "place", "exclusion-method": "both" },
      ...{ "setback-ft.well.geojson": "50", "setback-ft.inlet.geojson": "10" },
    });
    expect(plan.exclusions?.map(({ source, setbackFt }) => [source, setbackFt])).toEqual([
      ["well.geojson", 50],
      ["inlet.geojson", 10],
    ]);
  });

  it("two files of fields beside each other are not asked about", () => {
    const beside = rectangles([[-93.495, 42, -93.492, 42.002, { FIELD: "East Forty" }]]);
    expect(keysAsked(withFile(smallFarmFiles(), "more.geojson", beside), {})).not.toContain(
      "role.more.geojson",
    );
  });
});

describe("points that are no samples", () => {
  const inlets = (places: readonly (readonly [number, number])[]) =>
    JSON.stringify({
      type: "FeatureCollection",
      features: places.map((coordinates, i) => ({
        type: "Feature",
        properties: { inlet: i + 1 },
        geometry: { type: "Point", coordinates },
      })),
    });
  const files = withFile(
    smallFarmFiles(),
    "inlets.geojson",
    inlets([
      [-93.4991, 42.0008],
      [-93.4972, 42.0012],
    ]),
  );

  it("are asked for what they are; kept clear of, each takes the circle of its setback", async () => {
    expect(keysAsked(files, {})).toEqual(["role.inlets.geojson"]);
    const role = { "role.inlets.geojson": "exclusions" };
    expect(keysAsked(files, role)).toEqual(["exclusion-what", "exclusion-method", "setback-ft"]);
    const answers = { ...role, "exclusion-what": "tile inlet", "exclusion-method": "surface" };
    // A point with nothing kept from it keeps nothing clear.
    expect(keysAsked(files, { ...answers, "setback-ft": "0" })).toEqual(["setback-ft"]);
    const { plan, recognised, notices } = make(files, { ...answers, "setback-ft": "50" });
    expect(saved(plan).exclusions).toEqual([
      { source: "inlets.geojson", what: "tile inlet", method: "surface", setbackFt: 50 },
    ]);
    expect(plan.sources.map(({ path, as }) => [path, as])).toContainEqual(["inlets.geojson", "exclusions"]);
    expect(recognised.join("\n")).toContain("inlets.geojson: 2 points, taken as exclusions;");
    expect(notices.map(({ code }) => code)).not.toContain("file-not-used");
    const { fields } = await run(saved(plan), sourceOf(files), { files: "later" });
    // Two circles: 2 x pi x 50 x 50 / 43,560 = 0.3606 ac.
    expect(fields[0]!.excluded.areaAc.surface).toBeCloseTo(0.3606, 2);
    expect(fields[0]!.excluded.areaAc.strip).toBe(0);
  });

  it("may be said to be of no use, and are then told as such; a table that gives nothing is told too", () => {
    const { plan, recognised, notices } = make(files, { "role.inlets.geojson": "unused" });
    expect(plan.sources.map(({ path }) => path)).not.toContain("inlets.geojson");
    expect(recognised.join("\n")).toContain("inlets.geojson: 2 points, not used;");
    expect(notices.map(({ code }) => code)).not.toContain("file-not-used");
    const table = withFile(smallFarmFiles(), "inlets.csv", "inlet,lon,lat\n1,-93.4991,42.0008\n");
    const told = make(table, {}).notices.filter(({ code }) => code === "file-not-used");
    expect(told.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^inlets\.csv: the plan uses nothing of it: /),
    ]);
  });

  it("are not asked about while samples lack their places, nor where they are these", () => {
    const bare = withFile(files, "lab.csv", "id,P M3 ppm,K M3 ppm,CEC\n1,12,110,14\n2,30,180,20\n");
    expect(keysAsked(bare, {})).toEqual(["join-points"]);
    const placed = withFile(bare, "inlets.geojson", inlets([[-93.4991, 42.0008]]).replace("inlet", "id"));
    expect(keysAsked(placed, { "join-points": "inlets.geojson" })).not.toContain("role.inlets.geojson");
  });

  it("are not asked about in a log of work done: it is told as not used", () => {
    const feature = (lon: number) => ({
      type: "Feature",
      properties: { "Applied Rate (lb/ac)": 148, "Width (ft)": 30 },
      geometry: { type: "Point", coordinates: [lon, 42.001] },
    });
    const log = { type: "FeatureCollection", features: [-93.0995, -93.099].map(feature) };
    const withLog = withFile(smallFarmFiles(), "potash.geojson", JSON.stringify(log));
    expect(keysAsked(withLog, {})).toEqual([]);
    const { plan, notices } = make(withLog, {});
    expect(plan.sources.map(({ path }) => path)).not.toContain("potash.geojson");
    expect(notices.find(({ code }) => code === "file-not-used")?.where).toBe("potash.geojson");
  });
});
