import { beforeAll, describe, expect, test } from "vitest";
import { lostWords } from "../../src/cli/words/remainder-words.ts";
import { InputError } from "../../src/errors/index.ts";
import { polygonFinder } from "../../src/geo/index.ts";
import {
  doneAfter,
  type FieldResult,
  type Plan,
  type ProductLog,
  type RemainderOfField,
  type RunResult,
  remainderMaps,
  run,
  withCare,
  withMaps,
  workedPasses,
} from "../../src/plan/index.ts";
import { productById } from "../../src/products/index.ts";
import { layerIds, layerOf, saltDoubt, takeCare } from "../../src/report/index.ts";
import { drivenLog, smallFarmProducts as products } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
});

const near = (value: number, wanted: number, share: number): void => {
  expect(Math.abs(value / wanted - 1), `${value} for ${wanted}`).toBeLessThan(share);
};

describe("remainder", () => {
  test("by passes done: the others' pounds, worked ground at 0", () => {
    const field = result.fields[0]!;
    const passes = workedPasses(plan, field);
    const left = remainderMaps(plan, field, { by: "pass", doneAfter: 12 });
    const wanted = passes.slice(12).reduce((sum, pass) => sum + pass.lb[0]!, 0);
    expect(left.prescriptions[0]!.totalLb).toBeCloseTo(wanted, 6);
    field.passes.pieces.forEach(({ run: of }, k) => {
      if (of < 12) expect(left.prescriptions[0]!.rateLbPerAc[k]).toBe(0);
    });
    expect(() => remainderMaps(plan, field, { by: "pass", doneAfter: 400 })).toThrow(
      /has \d+ in working order/,
    );
  });

  test("by a log: the same as by its passes; one rate for all that is left", () => {
    const field = result.fields[0]!;
    const logs = [drivenLog(result, 0, { upTo: 12 }), drivenLog(result, 1, { upTo: 12 })];
    const byLog = remainderMaps(plan, field, { by: "log", logs }, { rates: { "0-0-60": 80 } });
    const byPass = remainderMaps(plan, field, { by: "pass", doneAfter: 12 });
    near(byLog.remainder.areaAc, byPass.remainder.areaAc, 0.02);
    const rates = new Set(byLog.prescriptions[1]!.rateLbPerAc);
    expect([...rates].sort()).toEqual([0, 80]);
    expect([byLog.notices, byPass.notices]).toEqual([[], []]);
    // A clock set back by an hour half way: the same is left, and it is told.
    const { log } = logs[0]!;
    const points = log.points.map((point, k) => {
      const by = k < log.points.length / 2 ? 0 : 3_600_000;
      return { ...point, time: new Date(Date.parse(point.time) - by).toISOString() };
    });
    const setBack = remainderMaps(plan, field, {
      by: "log",
      logs: [{ ...logs[0]!, log: { ...log, points } }],
    });
    expect(setBack.remainder.areaAc).toBeCloseTo(byLog.remainder.areaAc, 9);
    expect(setBack.notices.map(({ code }) => code)).toEqual(["taken-as-worked", "times-go-back"]);
  });

  test("readings in which nothing was to be laid and nothing was are no work: a rig turns on a headland", () => {
    const field = result.fields[0]!;
    const leftBy = (logs: readonly ProductLog[]): number =>
      remainderMaps(plan, field, { by: "log", logs }).remainder.areaAc;
    const days = [0, 1].map((bin) => drivenLog(result, bin, { upTo: 12 }));
    // The rest of the field as driven over with both bins shut: by the display, and without a target told, which may be an empty bin.
    const withShut = (target: number | null): ProductLog[] =>
      days.map((day, bin) => {
        const end = Date.parse(day.log.points.at(-1)!.time);
        const later = drivenLog(result, bin).log.points.filter(({ time }) => Date.parse(time) > end);
        const shut = later.map((point) => ({ ...point, appliedLbPerAc: 0, targetLbPerAc: target }));
        return { ...day, log: { ...day.log, points: [...day.log.points, ...shut] } };
      });
    expect(leftBy(withShut(0))).toBeCloseTo(leftBy(days), 9);
    expect(leftBy(withShut(null))).toBeLessThan(0.1 * leftBy(days));
  });

  test("a bin whose own map has 0 works there all the same: the other lays its product", () => {
    const field = result.fields[0]!;
    const middle = Math.floor(field.passes.pieces.length / 2);
    // The map of 11-52-0 has nothing on half the field, and its log a target and a rate of 0 there.
    const prescriptions = field.prescriptions.map((map) =>
      map.pass === "strip" && map.product === products[0]
        ? { ...map, rateLbPerAc: map.rateLbPerAc.map((rate, k) => (k < middle ? rate : 0)) }
        : map,
    );
    const find = polygonFinder(field.passes.pieces.map(({ polygon }) => polygon));
    const day = drivenLog(result, 0);
    const points = day.log.points.map((point) =>
      find(field.checked.frame.toPlane(point.at)) < middle
        ? point
        : { ...point, appliedLbPerAc: 0, targetLbPerAc: 0 },
    );
    const logs = [{ ...day, log: { ...day.log, points } }];
    const left = remainderMaps(plan, { ...field, prescriptions }, { by: "log", logs });
    expect(left.remainder.areaAc).toBeLessThan(0.02 * field.checked.areaAc);
  });

  test("by the log of one bin, or where one bin's log ends sooner: the other's ground counts as worked, and it is told", () => {
    const field = result.fields[0]!;
    const [one, other] = [drivenLog(result, 0, { upTo: 12 }), drivenLog(result, 1, { upTo: 8 })];
    const made = remainderMaps(plan, field, { by: "log", logs: [one] });
    const both = remainderMaps(plan, field, { by: "log", logs: [one, other] });
    expect(both.remainder.areaAc).toBeCloseTo(made.remainder.areaAc, 9);
    expect(made.notices).toEqual([
      expect.objectContaining({
        code: "taken-as-worked",
        message: expect.stringContaining("no log of 0-0-60"),
      }),
    ]);
    // Passes 9 to 12 by their map, which the second log does not have.
    const lacksLb = workedPasses(plan, field)
      .slice(8, 12)
      .reduce((sum, { lb }) => sum + lb[1]!, 0);
    const [told] = both.notices;
    expect(told!.code).toBe("taken-as-worked");
    near(Number(/([\d,]+) lb by its map/.exec(told!.message)![1]!.replace(",", "")), lacksLb, 0.03);
  });

  test("a rate beyond the meter, or beyond any strip where no meter is told, is refused", () => {
    const field = result.fields[0]!;
    const made = (change: Parameters<typeof remainderMaps>[3], of = plan) =>
      remainderMaps(of, field, { by: "pass", doneAfter: 12 }, change);
    expect(() => made({ rates: { "0-0-60": 1e9 } })).toThrow(
      /1,000,000,000 lb\/ac of 0-0-60; 2,000 lb\/ac is the most/,
    );
    expect(() => made({ share: 500 })).toThrow(InputError);
    expect(() => made({ rates: { "0-0-60": 2_000 } })).not.toThrow();
    const { rig } = plan;
    // A meter of 60 lb/min at 8 mph on a rig of rows x spacing: 60 x 495 / (ft x mph) lb/ac.
    const mostLbPerAc = (60 * 495) / (((rig.rows * rig.rowSpacingIn) / 12) * 8);
    const metered = {
      ...plan,
      rig: {
        ...rig,
        work: { ...rig.work!, mph: 8 },
        bins: rig.bins.map((bin) => ({ ...bin, meterMaxLbPerMin: 60 })),
      },
    };
    const before = Math.max(...field.prescriptions.find(({ product }) => product === "0-0-60")!.rateLbPerAc);
    const top = Math.max(mostLbPerAc, before);
    expect(() => made({ rates: { "0-0-60": Math.floor(top) } }, metered)).not.toThrow();
    expect(() => made({ rates: { "0-0-60": Math.ceil(top + 1) } }, metered)).toThrow(
      `the meter of bin R lays ${Math.floor(mostLbPerAc)} lb/ac at most at 8 mph`,
    );
  });

  test("with another product: as much of the oxide, in steps, under its own file name; zeros stay", () => {
    const field = result.fields[0]!;
    const done = { by: "pass", doneAfter: 12 } as const;
    const asMapped = remainderMaps(plan, field, done).prescriptions[0]!;
    const laid = { product: "18-46-0", analysis: productById("18-46-0").grade };
    const [other] = remainderMaps(plan, field, done, { instead: { "11-52-0": laid } }).prescriptions;
    expect(other).toMatchObject({ product: "18-46-0", analysis: { n: 18, p2o5: 46 }, bin: asMapped.bin });
    expect(other!.stem).toBe(asMapped.stem.replace("1152", "1846"));
    // The oxide of the map, within half a step of 18-46-0 on every piece.
    other!.rateLbPerAc.forEach((rate, k) => {
      expect(Math.abs(rate * 0.46 - asMapped.rateLbPerAc[k]! * 0.52)).toBeLessThanOrEqual(
        (plan.rig.rateStepLbPerAc / 2) * 0.46 + 1e-9,
      );
      expect(rate % plan.rig.rateStepLbPerAc).toBe(0);
      if (asMapped.rateLbPerAc[k] === 0) expect(rate).toBe(0);
    });
    const flat = { instead: { "11-52-0": laid }, rates: { "18-46-0": 90 } };
    expect(new Set(remainderMaps(plan, field, done, flat).prescriptions[0]!.rateLbPerAc)).toEqual(
      new Set([0, 90]),
    );
    const potash = { product: "0-0-60", analysis: productById("0-0-60").grade };
    expect(() => remainderMaps(plan, field, done, { instead: { "11-52-0": potash } })).toThrow(/has no P2O5/);
  });

  // N + K2O + S of each piece from the analyses on the bags: 18-46-0 has 18 % N, 0-0-60 60 % K2O.
  const saltOf = (
    field: FieldResult,
    left: RemainderOfField,
    percent: readonly number[],
  ): { readonly mean: number; readonly most: number; readonly overAc: number } => {
    let [lb, ac, most, overAc] = [0, 0, 0, 0];
    field.passes.pieces.forEach(({ run: of }, k) => {
      if (of < 12) return;
      const salt = left.prescriptions.reduce(
        (sum, map, m) => sum + (map.rateLbPerAc[k]! * percent[m]!) / 100,
        0,
      );
      lb += salt * field.passes.areaAc[k]!;
      ac += field.passes.areaAc[k]!;
      most = Math.max(most, salt);
      if (salt > 60) overAc += field.passes.areaAc[k]!;
    });
    return { mean: lb / ac, most, overAc };
  };

  test("salt near the seed is that of its own products and ground; a note by name holds for what was noted alone", async () => {
    const seed = {
      distanceIn: 5,
      bandDepthIn: 7,
      texture: "other",
      calcareous: false,
      acknowledged: { by: "the agronomist", date: "2027-03-15" },
    } as const;
    const noted = await run({ ...plan, seed }, sourceOf(smallFarmFiles()), { files: "later" });
    const field = noted.fields[0]!;
    const done = { by: "pass", doneAfter: 12 } as const;
    const made = (change: Parameters<typeof remainderMaps>[3] = {}) =>
      remainderMaps(noted.plan, field, done, change);
    const plain = made();
    const own = saltOf(field, plain, [11, 60]);
    expect(plain.care.salt.meanLbPerAc).toBeCloseTo(own.mean, 9);
    expect(plain.care.salt.highestLbPerAc).toBeCloseTo(own.most, 9);
    expect(plain.care.salt.overAc).toBeCloseTo(own.overAc, 9);
    expect(Math.abs(own.mean - field.care.salt.meanLbPerAc)).toBeGreaterThan(0.01);
    expect(plain.care.salt).toMatchObject({ acknowledgedBy: "the agronomist", notedFor: null });
    expect(saltDoubt(plain.care)).toBeNull();

    const laid = { product: "18-46-0", analysis: productById("18-46-0").grade };
    const other = made({ instead: { "11-52-0": laid } });
    const dap = saltOf(field, other, [18, 60]);
    const { salt } = other.care;
    expect(salt.meanLbPerAc).toBeCloseTo(dap.mean, 9);
    expect(salt.highestLbPerAc).toBeCloseTo(dap.most, 9);
    expect(salt.overAc).toBeCloseTo(dap.overAc, 9);
    expect(dap.mean).toBeGreaterThan(own.mean + 1);
    expect(salt).toMatchObject({
      needsName: true,
      acknowledgedBy: null,
      notedFor: { by: "the agronomist", products },
    });
    expect(salt.flags.map(({ code }) => code)).toContain("dap-near-seed");
    expect(saltDoubt(other.care)).toContain("the agronomist took note of 11-52-0 and 0-0-60");
    // More of the same salt than was noted is not noted either.
    expect(made({ rates: { "0-0-60": 400 } }).care.salt.notedFor?.by).toBe("the agronomist");
    expect(made({ share: 0.5 }).care.salt.notedFor).toBeNull();

    const shown = withCare(field, other.care);
    expect(shown.notices.map(({ code }) => code)).toContain("dap-near-seed");
    const lines = takeCare(shown, other.areaAc).join(" ");
    expect(lines).toContain(`mean ${dap.mean.toFixed(1)}, most ${dap.most.toFixed(1)} lb/ac`);
    expect(lines).not.toContain("Noted by");
  });

  test("where the plan says nothing of the seed the sheet's salt is that of what is left", () => {
    const field = result.fields[0]!;
    const left = remainderMaps(plan, field, { by: "pass", doneAfter: 12 });
    const own = saltOf(field, left, [11, 60]);
    const [salt] = takeCare(
      withCare({ ...field, prescriptions: left.prescriptions }, left.care),
      left.areaAc,
    );
    expect(salt).toContain(`mean ${own.mean.toFixed(0)}, `);
    expect(salt).toContain(`most ${own.most.toFixed(0)} lb/ac`);
  });

  test("what another product brings of the oxide against what was to go", () => {
    const field = result.fields[0]!;
    const done = { by: "pass", doneAfter: 12 } as const;
    const laid = { product: "18-46-0", analysis: productById("18-46-0").grade };
    const planned = remainderMaps(plan, field, done).prescriptions[0]!;
    const { instead, prescriptions } = remainderMaps(plan, field, done, { instead: { "11-52-0": laid } });
    expect(instead).toHaveLength(1);
    expect(instead[0]).toMatchObject({ product: "18-46-0", inPlaceOf: "11-52-0", oxide: "P2O5" });
    expect(instead[0]!.broughtLb).toBeCloseTo(0.46 * prescriptions[0]!.totalLb, 6);
    expect(instead[0]!.wantedLb).toBeCloseTo(0.52 * planned.totalLb, 6);
  });

  test("a micronutrient that rides on the product whose place is taken is told as lost, in pounds", async () => {
    const [left, ...others] = plan.rig.bins;
    const coated = { ...left!, coated: [{ element: "Zn" as const, lbPerTon: 20 }] };
    const own = { ...plan, rig: { ...plan.rig, bins: [coated, ...others] } };
    const field = (await run(own, sourceOf(smallFarmFiles()))).fields[0]!;
    const done = { by: "pass", doneAfter: 12 } as const;
    const planned = remainderMaps(own, field, done).prescriptions[0]!;
    const laid = { product: "18-46-0", analysis: productById("18-46-0").grade };
    const made = remainderMaps(own, field, done, { instead: { "11-52-0": laid } });
    // 20 lb on 2,000 lb.
    expect(made.instead[0]!.coatLost).toEqual([
      { element: "Zn", lb: expect.closeTo(planned.totalLb / 100, 6) },
    ]);
    expect(lostWords(made.instead)[0]).toMatch(
      /^Zn rides on 11-52-0, not on 18-46-0: what is left gets none/,
    );
    const same = { "11-52-0": { product: "11-52-0", analysis: productById("11-52-0").grade } };
    expect(remainderMaps(own, field, done, { instead: same }).instead[0]!.coatLost).toEqual([]);
  });

  test("with another product the cab sheet draws what both bins lay", () => {
    const field = result.fields[0]!;
    const laid = { product: "18-46-0", analysis: productById("18-46-0").grade };
    const done = { by: "pass", doneAfter: 12 } as const;
    const { prescriptions } = remainderMaps(plan, field, done, { instead: { "11-52-0": laid } });
    const rest = { ...field, prescriptions };
    const ids = layerIds(plan, rest).filter((id) => id.startsWith("strip/"));
    expect(ids).toEqual(["strip/all", "strip/0-0-60", "strip/18-46-0"]);
    const [first, second] = prescriptions;
    expect(layerOf(plan, rest, "strip/all").lb).toBeCloseTo(first!.totalLb + second!.totalLb, 6);
    expect(layerOf(plan, { ...field, prescriptions: [first!] }, "strip/18-46-0").lb).toBeCloseTo(
      first!.totalLb,
      6,
    );
  });

  test("with another product as task data: the product's own number, a task that says what it is", async () => {
    const field = result.fields[0]!;
    const laid = { product: "18-46-0", analysis: productById("18-46-0").grade };
    const done = { by: "pass", doneAfter: 12 } as const;
    const { prescriptions } = remainderMaps(plan, field, done, { instead: { "11-52-0": laid } });
    const wanting = { ...result, plan: { ...plan, extras: ["taskdata-4" as const] } };
    const maps = new Map([[field.field.id, prescriptions]]);
    const written = await withMaps(wanting, maps, undefined, { does: "off" });
    const [extra] = written.fields[0]!.extras;
    const [xml] = [...extra!.files].flatMap(([path, bytes]) =>
      path.endsWith("TASKDATA.XML") ? [new TextDecoder().decode(bytes)] : [],
    );
    // 11-52-0 and 0-0-60 are the plan's; what is laid instead comes after them.
    expect(xml).toMatch(/<PDT A="PDT2" B="0-0-60" .*\n<PDT A="PDT3" B="18-46-0" /);
    expect(xml).toMatch(/<TSK A="TSK10" B="[A-Z0-9]+ REM 18-46-0 0-0-60"/);
  });

  test("by a line: what lies to its right is worked", () => {
    const field = result.fields[0]!;
    const left = remainderMaps(plan, field, {
      by: "line",
      line: [
        [-93.498, 41.99],
        [-93.498, 42.01],
      ],
    });
    const west = field.passes.pieces.reduce((sum, { polygon }, k) => {
      const middle = polygon[0]!.reduce((total, point) => total + point[0], 0) / polygon[0]!.length;
      const lon = field.checked.frame.toLonLat([middle, 0])[0];
      return lon < -93.498 ? sum + field.passes.areaAc[k]! : sum;
    }, 0);
    near(left.remainder.areaAc, west, 0.01);
  });

  test("more runs than the field has are refused, and called runs", () => {
    const field = result.fields[0]!;
    const runs = field.passes.runs.length;
    expect(() => doneAfter(field, "driven:999")).toThrow(
      `--done-after driven:999: ${field.field.name} has ${runs} runs in the order driven`,
    );
    expect(() => remainderMaps(plan, field, { by: "pass", doneAfter: 999 })).toThrow(
      `999 runs done in ${field.field.name}, which has ${runs} in working order`,
    );
  });

  test("by a line that is mistyped: refused by what was typed, not taken for a field with no work", () => {
    const field = result.fields[0]!;
    const by = (...line: [number, number, number, number]) => {
      const [lonA, latA, lonB, latB] = line;
      const ends = [[lonA, latA] as const, [lonB, latB] as const] as const;
      return () => remainderMaps(plan, field, { by: "line", line: ends });
    };
    // Latitude and longitude swapped; further east both would be degrees that exist.
    expect(by(41.99, -93.498, 42.01, -93.498)).toThrow(
      /^--line 41.99,-93.498,42.01,-93.498: the first end, .* is no place/,
    );
    expect(by(41.99, -84.4, 42.01, -84.4)).toThrow(
      /^--line 41.99,-84.4,42.01,-84.4: the first end, .* km from/,
    );
    expect(by(200, 95, 201, 95)).toThrow(/longitude 200 and latitude 95, is no place on the globe/);
    expect(by(0, 0, 1, 1)).toThrow(/the first end, longitude 0 and latitude 0, lies (far|[\d.]+ km) from/);
    // A tenth of a degree of latitude is 11.1 km.
    expect(by(-93.498, 42.0, -93.498, 42.1)).toThrow(/the second end, .* lies 1\d\.\d km from/);
    // A hundredth of a degree west of the field: all of it lies to the right, or to the left of the line the other way round.
    expect(by(-93.52, 42.01, -93.52, 41.99)).toThrow(/nothing of .* lies to the right of the line/);
    expect(by(-93.52, 41.99, -93.52, 42.01)().remainder.areaAc).toBe(0);
  });
});
