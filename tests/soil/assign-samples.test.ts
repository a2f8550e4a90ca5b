import { describe, expect, it } from "vitest";
import type { MultiPolygon } from "../../src/geo/index.ts";
import { assignSamples, type SoilSample } from "../../src/soil/index.ts";

const square = (west: number, south: number): MultiPolygon => [
  [
    [
      [west, south],
      [west + 0.01, south],
      [west + 0.01, south + 0.01],
      [west, south + 0.01],
    ],
  ],
];
const fields = [
  { id: "long-eighty", name: "Long Eighty", boundary: square(-93.5, 42) },
  { id: "creek", name: "Creek", boundary: square(-93.48, 42) },
];
const sample = (id: string, lon: number, lat: number, field: string | null = null): SoilSample => ({
  id,
  line: Number(id),
  at: [lon, lat],
  field,
  P: 10,
  K: 100,
  CEC: null,
});

describe("samples and fields", () => {
  it("go together by location", () => {
    const placed = assignSamples(
      "lab.csv",
      [sample("2", -93.495, 42.005), sample("3", -93.475, 42.005)],
      fields,
    );
    expect(placed.notices).toEqual([]);
    expect([...placed.byField].map(([id, samples]) => [id, samples.length])).toEqual([
      ["long-eighty", 1],
      ["creek", 1],
    ]);
  });

  it("go together by the row's field name, whatever its spelling", () => {
    const placed = assignSamples("lab.csv", [sample("2", -93.495, 42.005, "LONG_EIGHTY")], fields);
    expect(placed.byField.get("long-eighty")).toHaveLength(1);
  });

  it("a stray 5 km outside is left out and named with its distance", () => {
    // 5 km south of the field's southern edge: 5,000 m / 111,195 m a degree of latitude.
    const placed = assignSamples("lab.csv", [sample("7", -93.495, 42 - 5_000 / 111_195)], fields);
    expect(placed.byField.get("long-eighty")).toEqual([]);
    expect(placed.notices).toHaveLength(1);
    expect(placed.notices[0]!.message).toMatch(
      /^lab\.csv, line 7: sample 7 lies 3\.1 miles outside Long Eighty\. Left out;/,
    );
  });

  it("a row that names one field and lies in another is left out", () => {
    const placed = assignSamples("lab.csv", [sample("2", -93.475, 42.005, "Long Eighty")], fields);
    expect(placed.byField.get("creek")).toEqual([]);
    expect(placed.notices[0]!.code).toBe("sample-outside-fields");
  });

  it("a sample within a receiver's error of the edge is kept, with a notice", () => {
    const placed = assignSamples("lab.csv", [sample("2", -93.495, 42 - 5 / 111_195)], fields);
    expect(placed.byField.get("long-eighty")).toHaveLength(1);
    expect(placed.notices[0]!.message).toBe(
      "lab.csv, line 2: sample 2 lies 16 ft outside Long Eighty; kept.",
    );
    const hair = assignSamples("lab.csv", [sample("2", -93.495, 42 - 0.1 / 111_195)], fields);
    expect(hair.notices[0]!.message).toBe(
      "lab.csv, line 2: sample 2 lies less than 1 ft outside Long Eighty; kept.",
    );
  });

  it("rows that name a field and lie far from it are one contradiction, told as that", () => {
    // 48 degrees of latitude south, at 60 nautical miles a degree (1,852 m each, by definition):
    // 48 x 60 x 1.852 / 1.609344 = 3,314 miles from the middle of the field.
    const far = [3, 4, 5].map((line) => sample(String(line), -93.495, 42.005 - 48, "Long Eighty"));
    const placed = assignSamples("lab.csv", [sample("2", -93.495, 42.005), ...far], fields);
    expect(placed.byField.get("long-eighty")).toHaveLength(1);
    expect(placed.notices).toEqual([
      {
        code: "samples-far-from-their-field",
        message:
          "lab.csv, lines 3, 4 and 5: 3 samples name Long Eighty and lie about 3,300 miles from it. Left out; look for longitude and latitude exchanged, a lost minus sign or another coordinate system.",
        where: "lab.csv, line 3",
      },
    ]);
  });

  it("rows that name a field that the plan does not have are one notice, not strays of another field", () => {
    // 5 km and more south of Long Eighty's edge: 5,000 m / 111,195 m a degree of latitude.
    const south = [0, 0.001, 0.002].map((more, k) =>
      sample(String(k + 3), -93.495, 42 - 5_000 / 111_195 - more, "Sold Bottom"),
    );
    const placed = assignSamples("lab.csv", [sample("2", -93.495, 42.005, "Long Eighty"), ...south], fields);
    expect(placed.byField.get("long-eighty")).toHaveLength(1);
    expect(placed.notices).toEqual([
      {
        code: "samples-of-no-field",
        message:
          "lab.csv, lines 3, 4 and 5: 3 samples name Sold Bottom, which is no field of this plan, and the nearest of them lies 3.1 miles outside Long Eighty. Left out; add the field where it is wanted, or mend name or position.",
        where: "lab.csv, line 3",
      },
    ]);
    // One that lies in a field is that field's, however its row spells it.
    const inside = assignSamples("lab.csv", [sample("2", -93.495, 42.005, "Long 80")], fields);
    expect([inside.notices, inside.byField.get("long-eighty")!.length]).toEqual([[], 1]);
  });

  it("a row that names a field and lies a little way off says so of that row", () => {
    const placed = assignSamples("lab.csv", [sample("2", -93.495, 41.955, "Long Eighty")], fields);
    expect(placed.notices[0]!.message).toMatch(
      /^lab\.csv, line 2: sample 2 names Long Eighty and lies 3\.1 miles outside it\. Left out;/,
    );
  });

  it("a stray on the other side of the globe is told by the way over the globe, not by the field's own plane", () => {
    // 42.005 N to 84.295 S on one meridian is 126.3 degrees: 126.3 x 60 x 1.852 / 1.609344 = 8,721 miles.
    const placed = assignSamples("lab.csv", [sample("2", -93.495, -84.295)], fields);
    expect(placed.notices[0]!.message).toMatch(/sample 2 lies about 8,700 miles outside Long Eighty\./);
  });
});
