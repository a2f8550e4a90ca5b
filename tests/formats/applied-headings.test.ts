// Logs out of shapefiles: names of ten letters at most, days for times (a DBF's date has no time of day).
import { describe, expect, test } from "vitest";
import { columnsOf, type Feature, type Layer } from "../../src/formats/feature.ts";
import { readAppliedPoints } from "../../src/formats/index.ts";

/** A pass northward, a reading every 6 m, in the columns of `names`: target, applied, width, and more. */
function logOf(names: readonly string[], more: (k: number) => Feature["properties"] = () => ({})): Layer {
  const features = Array.from({ length: 60 }, (_, k): Feature => {
    const rates = names.map((name, i) => [name, [110, 100 + k, 40][i]!] as const);
    const at = [-84.41, 40.89 + (6 * k) / 111_000] as const;
    return {
      record: k + 1,
      geometry: { kind: "point", at },
      properties: { ...Object.fromEntries(rates), ...more(k) },
    };
  });
  return {
    ...{ name: "log", path: "log.shp", one: "record", features, skipped: [], columns: columnsOf(features) },
    ...{ coordinateSystem: "EPSG:4326", coordinateSystemFrom: ".prj", encoding: "UTF-8", notices: [] },
  };
}

const codes = ({ notices }: Layer): string[] => notices.map(({ code }) => code);

describe("names cut at ten letters", () => {
  test.each([
    [["Target Rat", "Applied Ra", "Width (ft)"], true],
    [["TargetRate", "AppliedRat", "Width_ft"], true],
    [["Target_Rat", "Actual_Rat", "Width_ft"], true],
    [["Target (lb", "Applied (l", "Width_ft"], true],
    [["TARGET_LBA", "APPL_LBAC", "SWATH_FT"], false],
    [["TGT_LBAC", "APPL_LBAC", "WIDTH_FT"], false],
  ])("%s", (names, isAsked) => {
    const asked = readAppliedPoints(logOf(names), {});
    expect(asked.questions.map(({ key }) => key)).toEqual(isAsked ? ["unit.rate"] : []);
    const { log } = readAppliedPoints(logOf(names), { "unit.rate": "lb/ac" });
    expect(log?.points[7]).toMatchObject({ targetLbPerAc: 110, appliedLbPerAc: 107, widthFt: 40 });
  });

  test.each([["RATE_LBAC"], ["Applied"], ["AppliedRx2"]])("%s is no rate that was cut", (name) => {
    const read = () => readAppliedPoints(logOf(["TGT_LBAC", name, "WIDTH_FT"]), { "unit.rate": "lb/ac" });
    if (name === "Applied") expect(read().log?.points.length).toBe(60);
    else
      expect(read).toThrow(
        expect.objectContaining({
          code: "no-applied-rate",
          remedy: expect.stringContaining("name its columns APPL_LBAC, TGT_LBAC and WIDTH_FT"),
        }),
      );
  });

  test("a width without its unit is refused with names that are read", () => {
    for (const name of ["SwathWdth", "Swath Widt", "Width (fee"])
      expect(() => readAppliedPoints(logOf(["TGT_LBAC", "APPL_LBAC", name]), {})).toThrow(
        expect.objectContaining({
          message: expect.stringContaining(`the column ${name} does not say its unit`),
          remedy: "Name the column Width_ft or Width_m.",
        }),
      );
  });
});

describe("times", () => {
  const names = ["TGT_LBAC", "APPL_LBAC", "WIDTH_FT"];
  const second = (k: number): string => new Date(Date.UTC(2027, 3, 19, 8, 0, k)).toISOString();
  const timed = (time: (k: number) => string) =>
    readAppliedPoints(
      logOf(names, (k) => ({ TIME: time(k) })),
      {},
    );

  test.each([
    ["days alone", () => "2027-04-19"],
    ["to the minute", (k: number) => second(60 * Math.floor(k / 30))],
    ["backward", (k: number) => second(100 - k)],
  ])("%s are not used, and that is told", (_, time) => {
    const { layer, log } = timed(time);
    expect(codes(layer)).toEqual(["times-stand-still"]);
    expect(log?.points.map((point) => point.time).join("")).toBe("");
  });

  test("that go on are kept, those of two products in one file and of a file with repeated readings too", () => {
    for (const time of [second, (k: number) => second(Math.floor(k / 5)), (k: number) => second(k % 20)]) {
      const { layer, log } = timed(time);
      expect(codes(layer)).toEqual([]);
      expect(log?.points[3]?.time).toBe(time(3));
    }
    const two = logOf(names, (k) => ({
      TIME: second(Math.floor(k / 2)),
      PRODUCT: k % 2 === 0 ? "DAP" : "Potash",
    }));
    expect(codes(readAppliedPoints(two, {}).layer)).toEqual([]);
  });

  test("hours of the day have the day of its own column before them", () => {
    const clock = (k: number): string => second(k).slice(11, 19);
    for (const day of ["2027-04-19", "2027-04-19T00:00:00"]) {
      const { layer, log } = readAppliedPoints(
        logOf(names, (k) => ({ Date: day, Time: clock(k) })),
        {},
      );
      expect(codes(layer)).toEqual([]);
      expect(log?.points[3]?.time).toBe("2027-04-19 08:00:03");
    }
    for (const name of ["Time (UTC)", "UTC Time", "GPS_Time", "Timestamp"])
      expect(
        readAppliedPoints(
          logOf(names, (k) => ({ [name]: second(k) })),
          {},
        ).log?.points[3]?.time,
        name,
      ).toBe(second(3));
    const whole = readAppliedPoints(
      logOf(names, (k) => ({ Date: "2027-04-19", Time: second(k) })),
      {},
    );
    expect(whole.log?.points[3]?.time).toBe(second(3));
  });
});

describe("the way since the reading before", () => {
  const names = ["TGT_LBAC", "APPL_LBAC", "WIDTH_FT"];
  const withWay = (name: string, way: (k: number) => number) =>
    readAppliedPoints(
      logOf(names, (k) => ({ [name]: way(k) })),
      {},
    );

  // 6 m are 19.685 ft. The first reading of a pass has its way by what is told alone.
  test.each(["Distance (m)", "Travel Distance (m)", "Distance Traveled (m)", "DIST_M"])("%s", (name) => {
    const { layer, log } = withWay(name, () => 6);
    expect(codes(layer)).toEqual([]);
    for (const k of [0, 7]) expect(log?.points[k]?.distanceFt).toBeCloseTo(19.685, 3);
  });

  test("without a unit it is measured and told, but where the name was cut", () => {
    for (const name of ["Distance", "Travel Distance", "Distance ("]) {
      const { layer, log } = withWay(name, () => 6);
      expect(codes(layer)).toEqual(name.endsWith("(") ? [] : ["way-not-used"]);
      expect(log?.points[0]?.distanceFt).toBe(0);
      expect(Math.abs(log!.points[7]!.distanceFt - 19.7)).toBeLessThan(0.1);
    }
  });

  test("one that counts on is measured, and told with what it comes to", () => {
    const { layer, log } = withWay("Distance Traveled (ft)", (k) => 20 * k);
    // 20 x (1 + 2 + ... + 59) = 35,400 ft; 59 x 6 m = 1,161 ft, in degrees of 111,000 m 1,162.
    expect(layer.notices).toMatchObject([
      {
        code: "way-not-used",
        message: expect.stringMatching(
          /counts on .*\(35,400 ft together, where the positions are 1,16\d ft apart\)/,
        ),
      },
    ]);
    expect(Math.abs(log!.points[7]!.distanceFt - 19.7)).toBeLessThan(0.1);
  });
});
