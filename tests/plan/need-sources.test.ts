import { describe, expect, it } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { type Plan, type PlanNeedFrom, readPlan, run, writePlan } from "../../src/plan/index.ts";
import { cropInWords } from "../../src/report/guide-words.ts";
import { readOutOf, summary } from "../../src/report/index.ts";
import { acres, KG_PER_HA_PER_LB_PER_AC } from "../../src/units/index.ts";
import {
  type Change,
  codes,
  east,
  inside,
  needPlan,
  openBalance,
  pounds,
  rectangles,
  thrown,
  west,
  worked,
  workedField,
} from "../support/need-plan.ts";
import { labCsv, sourceOf } from "../support/small-farm.ts";

describe("a field with too few samples for a map", () => {
  const headings = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g";
  const kriged: Partial<Plan> = { maps: { cellM: 10, method: "kriging" } };

  it("is told once, for all tests that are so, and no more is said of their pattern", async () => {
    const field = await workedField({
      files: { "lab.csv": `${headings}\n1,-93.499,42.0005,10,100,15\n` },
      plan: kriged,
    });
    const told = field.notices.filter(({ code }) => ["few-samples", "no-pattern"].includes(code));
    expect(told.map(({ message }) => message)).toEqual([
      "Low Forty, P, K, CEC: 1 sample is too few for a map; the field gets their mean, take at least 5",
    ]);
  });

  // By hand, tri-state-2020 soybean 55 bu: the need is read at each sample and averaged, as docs/method.md says of a flat rate.
  it("reads the guide at the samples, says where that parts from the need of their mean, and tells no acres", async () => {
    const three: Change = {
      files: {
        "lab.csv": labCsv([
          [1, -93.4995, 42.0004, 12, 90, 15],
          [2, -93.4985, 42.0012, 22, 118, 15],
          [3, -93.497, 42.0021, 60, 170, 15],
        ]),
      },
      plan: kriged,
    };
    const at = (nutrient: "P2O5" | "K2O", tests: readonly number[]) => {
      const rates = tests.map(
        (test) =>
          recommend(guideById("tri-state-2020"), {
            crop: "soybean",
            nutrient,
            yieldBuPerAc: 55,
            test,
            testMethod: "mehlich-3",
            cecMeq: 15,
            options: { rotation: "corn-soy" },
          }).lbPerAc,
      );
      return rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
    };
    const field = await workedField(three, { files: "written" });
    const { areaAc } = field.checked;
    for (const [nutrient, tests] of [
      ["P2O5", [12, 22, 60]],
      ["K2O", [90, 118, 170]],
    ] as const) {
      const figures = field.need.figures[nutrient];
      expect(figures.expectedLb! / areaAc).toBeCloseTo(at(nutrient, tests), 6);
      expect(figures.mappedTestLb / areaAc).toBeCloseTo(
        at(nutrient, [(tests[0] + tests[1] + tests[2]) / 3]),
        6,
      );
      expect(figures.flatLbPerAc).toBeCloseTo(at(nutrient, tests), 6);
    }
    // P2O5 parts by less than 5 %.
    const parted = field.notices.filter(({ code }) => code === "need-figures-part");
    expect(parted.map(({ message }) => message.slice(0, 40))).toEqual([
      expect.stringMatching(/^Low Forty: K2O is [\d,]+ lb read off the/),
    ]);
    expect(field.need.P2O5.rule!.belowCritical!.samples).toEqual({ below: 1, of: 3 });
    expect(field.need.K2O.rule!.belowCritical!.samples).toEqual({ below: 2, of: 3 });
    expect(parted[0]!.message).toMatch(
      /samples, which the rates follow, and .* needs at them; .* need\.drivenBy expected in the plan, for all its fields,/,
    );
    const lines = summary(await worked(three, { files: "written" }));
    expect(lines).toContain("P2O5: year 1 of 4 of build-up; 1 of 3 samples lies below critical");
    expect(lines).not.toContain("ac below critical");
    const flat = await workedField({ ...three, field: { needFrom: { kind: "flat" } } });
    const rate = at("K2O", [90, 118, 170]);
    expect(inside(flat).every((cell) => Math.abs(flat.need.k2oLbPerAc[cell]! - rate) < 1e-6)).toBe(true);
    const expected = await workedField({ ...three, plan: { ...kriged, need: { drivenBy: "expected" } } });
    expect(inside(expected).every((cell) => Math.abs(expected.need.k2oLbPerAc[cell]! - rate) < 1e-6)).toBe(
      true,
    );
    // What the plan does already is not asked for.
    const [still] = expected.notices.filter(({ code }) => code === "need-figures-part");
    expect(still!.message).toMatch(
      /needs at them, which the rates follow; there are too few for a map\. Sample more densely to place it\.$/,
    );
    expect(still!.message).not.toContain("drivenBy");
  });

  it("is told by test where the counts differ, by inverse distance too", async () => {
    const rows = [1, 2, 3, 4, 5, 6].map((n) => `${n},-93.499${n},42.000${n},${8 + n},100,${n < 3 ? 15 : ""}`);
    const field = await workedField({ files: { "lab.csv": `${[headings, ...rows].join("\n")}\n` } });
    expect(field.notices.filter(({ code }) => code === "few-samples").map(({ message }) => message)).toEqual([
      "Low Forty, CEC: 2 samples are few for a map; take at least 5",
    ]);
  });
});

describe("the adviser's own rates", () => {
  const rates = rectangles([
    [...west, { MAP_LB: 100, K2O_KG: 112.085 }],
    [...east, { MAP_LB: 0, K2O_KG: 56.0425 }],
  ]);
  const change = (from: PlanNeedFrom, file = rates): Change => ({
    files: { "rates.geojson": file },
    as: { "rates.geojson": "rates" },
    field: { needFrom: from },
  });
  const settled: PlanNeedFrom = {
    kind: "rates",
    source: "rates.geojson",
    rates: {
      P2O5: { column: "MAP_LB", of: "11-52-0", unit: "lb/ac" },
      K2O: { column: "K2O_KG", of: "oxide", unit: "kg/ha" },
    },
  };

  it("stand as they are, product turned into oxide and kg/ha into lb/ac, pound for pound", async () => {
    const field = await workedField(change(settled));
    expect(field.need.from).toBe("rates");
    expect([field.need.P2O5.rule, field.need.K2O.rule]).toEqual([null, null]);
    expect(codes(field.notices)).toContain("guide-bypassed");
    // Two rectangles that cover the field: the pounds are their rates times the ground each has of it.
    const areaOfWest = pounds(field, (cell) =>
      field.need.p2o5LbPerAc[cell]! > 0 ? field.need.p2o5LbPerAc[cell]! / 52 : 0,
    );
    const kg = 112.085 / KG_PER_HA_PER_LB_PER_AC;
    const expected = kg * areaOfWest + (kg / 2) * (field.checked.areaAc - areaOfWest);
    expect(pounds(field, (cell) => field.need.k2oLbPerAc[cell]!)).toBeCloseTo(expected, 1);
    expect(KG_PER_HA_PER_LB_PER_AC).toBeCloseTo(1.12085, 5);
    expect(Math.max(...inside(field).map((cell) => field.need.p2o5LbPerAc[cell]!))).toBeCloseTo(52, 9);
    expect(openBalance(field)).toBeLessThan(1e-6);
  });

  it("column, product or oxide, and unit are asked where the plan does not say; none is guessed", async () => {
    const open: PlanNeedFrom = { kind: "rates", source: "rates.geojson", rates: { P2O5: {} } };
    const asked = await thrown(worked(change(open)), QuestionError);
    expect(asked.questions.map(({ key, choices }) => [key, choices])).toEqual([
      ["rate-column.P2O5", ["MAP_LB", "K2O_KG"]],
      ["rate-of.P2O5", ["oxide", "11-52-0"]],
      ["rate-unit.P2O5", ["lb/ac", "kg/ha"]],
    ]);
    const answers = { "rate-column.P2O5": "MAP_LB", "rate-of.P2O5": "oxide", "rate-unit.P2O5": "lb/ac" };
    const field = await workedField(change(open), { answers });
    expect(Math.max(...inside(field).map((cell) => field.need.p2o5LbPerAc[cell]!))).toBeCloseTo(100, 9);
    expect(codes(field.notices)).toContain("rates-without-nutrient");
    expect(inside(field).every((cell) => field.need.k2oLbPerAc[cell] === 0)).toBe(true);
  });

  it("gaps get nothing and are named, overlaps add up and are named; a negative or empty rate is refused", async () => {
    const gap = await workedField(change(settled, rectangles([[...west, { MAP_LB: 100, K2O_KG: 50 }]])));
    expect(codes(gap.notices)).toContain("rates-leave-gaps");
    const twice = rectangles([
      [...west, { MAP_LB: 100, K2O_KG: 50 }],
      [...east, { MAP_LB: 100, K2O_KG: 50 }],
      [...east, { MAP_LB: 50, K2O_KG: 50 }],
    ]);
    const over = await workedField(change(settled, twice));
    expect(codes(over.notices)).toContain("rates-overlap");
    expect(Math.max(...inside(over).map((cell) => over.need.p2o5LbPerAc[cell]!))).toBeCloseTo(78, 2);
    const negative = rectangles([[...west, { MAP_LB: -5, K2O_KG: 50 }]]);
    expect((await thrown(worked(change(settled, negative)), InputError)).message).toBe(
      "rates.geojson, record 1, column MAP_LB: -5 is below zero.",
    );
    const empty = rectangles([
      [...west, { MAP_LB: null, K2O_KG: 50 }],
      [...east, { MAP_LB: 5, K2O_KG: 50 }],
    ]);
    expect((await thrown(worked(change(settled, empty)), InputError)).message).toBe(
      "rates.geojson, record 1, column MAP_LB: “” is not a number.",
    );
  });
});

describe("one rate", () => {
  it("typed for the field, without a guide", async () => {
    const field = await workedField({
      field: { needFrom: { kind: "flat", lbPerAc: { P2O5: 40, K2O: 0 } } },
    });
    expect(inside(field).every((cell) => field.need.p2o5LbPerAc[cell] === 40)).toBe(true);
    expect(field.need.figures.P2O5.flatLbPerAc).toBeCloseTo(40, 9);
    expect(codes(field.notices)).toContain("guide-bypassed");
    expect(openBalance(field)).toBeLessThan(1e-6);
  });

  it("of the guide: the mean of the need over the field, never the need of the mean test", async () => {
    const grid = await workedField();
    const flat = await workedField({ field: { needFrom: { kind: "flat" } } });
    const mean = grid.need.figures.K2O.mappedTestLb / grid.checked.areaAc;
    expect(inside(flat).every((cell) => Math.abs(flat.need.k2oLbPerAc[cell]! - mean) < 1e-9)).toBe(true);
    expect(flat.need.K2O.rule!.guide.id).toBe("tri-state-2020");
  });
});

describe("one rate of the guide under kriging", () => {
  it("is the mean of the expected need, the same on a slider and in the files", async () => {
    const change: Change = {
      field: { needFrom: { kind: "flat" } },
      plan: { maps: { cellM: 10, method: "kriging" } },
    };
    const later = await workedField(change);
    const written = await workedField(change, { files: "written" });
    const { expectedLb, flatLbPerAc } = written.need.figures.K2O;
    expect(flatLbPerAc).toBeCloseTo(expectedLb! / written.checked.areaAc, 9);
    expect(later.need.k2oLbPerAc).toEqual(written.need.k2oLbPerAc);
  });
});

describe("yield zones", () => {
  it("set the goal where they lie; a cell in two takes their mean by area, ground in none the field's goal", async () => {
    const field = await workedField({
      files: { "yields.geojson": rectangles([[...west, { BU: 70 }]]) },
      as: { "yields.geojson": "zones" },
      field: { yieldZones: { source: "yields.geojson", column: "BU" } },
    });
    const kept = inside(field).filter(
      (cell) => field.maps.P!.estimate[cell]! > 21 && field.maps.P!.estimate[cell]! < 39,
    );
    const rates = new Set(kept.map((cell) => Math.round(field.need.p2o5LbPerAc[cell]! * 100) / 100));
    expect(rates.has(43.45)).toBe(true); // 55 bu x 0.79
    expect(Math.max(...rates)).toBeLessThanOrEqual(55.3); // 70 bu x 0.79
    const area = pounds(field, () => 1);
    expect(area).toBeCloseTo(field.checked.areaAc, 6);
    expect(acres(4046.8564224)).toBe(1);
    expect(cropInWords(field)).toBe("soybean, 55 to 70 bu/ac by zone");
    const readOut = readOutOf(needPlan().plan, field);
    const goalAt = (lonDeg: number) =>
      readOut(field.checked.frame.toPlane([lonDeg, 42.0012]))?.rows.find(({ label }) =>
        label.startsWith("P₂O₅"),
      )?.source;
    expect([goalAt(-93.4992), goalAt(-93.497)]).toEqual([
      expect.stringMatching(/ 70 bu\/ac$/),
      expect.stringMatching(/ 55 bu\/ac$/),
    ]);
    const [told, ...more] = field.notices.filter(({ code }) => code.startsWith("yield-"));
    expect(more).toEqual([]);
    const left =
      /^Low Forty: ([\d.]+) ac lie in no yield zone of yields\.geojson and have the field's goal of 55 bu\/ac$/;
    // The east of the field, from -93.498 to -93.4965 of 0.0035 degrees.
    expect(Number(left.exec(told!.message)![1]) / area).toBeCloseTo(15 / 35, 1);
  });

  it("goals by zone are doubted like the field's, and what is no goal is refused as one", async () => {
    const goals = (...zones: Parameters<typeof rectangles>[0]) => ({
      files: { "yields.geojson": rectangles(zones) },
      as: { "yields.geojson": "zones" as const },
      field: { yieldZones: { source: "yields.geojson", column: "BU" } },
    });
    const field = await workedField(
      goals([...west, { BU: 700 }], [...east, { BU: 60 }], [...east, { BU: 70 }]),
    );
    const told = field.notices.filter(({ code }) => code.startsWith("yield-")).map(({ message }) => message);
    expect(told).toEqual([
      "Low Forty: yields.geojson, record 1, column BU: a yield goal of 700 bu/ac of soybean is unusual, goals lie between 15 and 100; is it another crop's? The need follows it",
      expect.stringMatching(
        /^Low Forty: [\d.]+ ac lie in several yield zones of yields\.geojson and have the mean/,
      ),
    ]);
    for (const [value, said] of [
      [0, "“0” is no yield goal"],
      ["120 bu", "“120 bu” is no yield goal"],
      [null, "is empty"],
    ] as const) {
      const error = await thrown(worked(goals([...west, { BU: value }])), InputError);
      expect(error.message).toBe(`yields.geojson, record 1, column BU: ${said}.`);
      expect(error.remedy).not.toMatch(/nothing is wanted/);
    }
  });
});

describe("fields without soil tests, and plans with every key", () => {
  it("typed rates need no samples; a guide does", async () => {
    const { plan, files } = needPlan({
      field: { needFrom: { kind: "flat", lbPerAc: { P2O5: 40, K2O: 60 } } },
    });
    const bare: Plan = { ...plan, fields: plan.fields.map(({ samples: _, ...field }) => field) };
    const result = await run(readPlan(writePlan(bare), "plan.json"), sourceOf(files));
    const [field] = result.fields;
    expect(field!.maps).toEqual({});
    expect(field!.prescriptions).toHaveLength(3);
    expect(summary(result)).toMatch(/No guide read, typed or adviser's own rates: Low Forty/);
    const guided: Plan = { ...bare, fields: bare.fields.map(({ needFrom: _, ...one }) => one) };
    expect(() => readPlan(writePlan(guided), "plan.json")).toThrow(
      "plan.json: field low-forty has no samples.",
    );
  });

  it("a source must be listed for what it is used as", () => {
    const zones = needPlan({
      field: { needFrom: { kind: "zones", source: "z.geojson", idColumn: "Z" } },
    }).plan;
    expect(() => readPlan(writePlan(zones), "plan.json")).toThrow(/takes its zones from “z\.geojson”/);
    const exclusions = [{ source: "w.geojson", what: "well", method: "both", setbackFt: 50 }] as const;
    const wells = needPlan({ plan: { exclusions } }).plan;
    expect(() => readPlan(writePlan(wells), "plan.json")).toThrow(/exclusion comes from “w\.geojson”/);
  });

  it("every key reads back as it was written", () => {
    const file = rectangles([[...west, { Z: 1, BU: 60 }]]);
    const { plan } = needPlan({
      files: { "z.geojson": file, "w.geojson": file },
      as: { "z.geojson": "zones", "w.geojson": "exclusions" },
      sampling: { date: "2026-10-01", depthIn: 8, lab: "North", coresToBands: "off the bands" },
      plan: {
        guides: [
          {
            id: "tri-state-2020",
            confirmed: { by: "A. Adviser", page: "7", date: "2027-01-01" },
            constants: { "k.addition": 10 },
          },
        ],
        samplingLimitYears: 3,
        cropYear: { from: "2026-10-01", to: "2027-09-30" },
        exclusions: [{ source: "w.geojson", record: 1, what: "well", method: "surface", setbackFt: 50 }],
        budget: { usd: 5_000 },
        ownGuides: [
          {
            id: "mine",
            name: "Mine",
            tables: [],
            lineTables: [
              {
                test: "P",
                crop: "soybean",
                method: "mehlich-3",
                points: [
                  { ppm: 5, lbPerAc: 80 },
                  { ppm: 30, lbPerAc: 0 },
                ],
              },
            ],
          },
        ],
      },
      field: {
        samplings: { P: ["lab.csv"], mix: ["P"] },
        yieldZones: { source: "z.geojson", column: "BU" },
        secondYieldBuPerAc: 50,
        rotation: ["corn", "soybean"],
        residueLbPerAc: { K2O: 10 },
        alsoFor: [{ crop: "corn", yieldBuPerAc: 180, residueLbPerAc: { P2O5: 1 }, nutrients: ["K2O"] }],
        firstSeasonYear: 2026,
        earlier: [{ nutrient: "P2O5", seasonYear: 2026, yearsCovered: 1 }],
        credits: [
          { name: "m", kind: "manure", date: "2027-01-05", lbPerAc: { P2O5: 25, N: 10, S: 1, Zn: 0.1 } },
        ],
        nutrients: {
          P2O5: {
            guide: "mine",
            criticalLevelPpm: 20,
            minLbPerAc: 15,
            belowMinimum: "leave-out",
            maxLbPerAc: 90,
          },
          K2O: { conversion: "x", crop: "soybean", additionCounts: "per crop", guideOptions: {} },
        },
        needFrom: { kind: "zones", source: "z.geojson", idColumn: "Z" },
        alsoWantedLbPerAc: { N: 30, S: 10, Zn: 1 },
        removalFactors: "michigan",
      },
    });
    expect(readPlan(writePlan(plan), "plan.json")).toEqual(plan);
  });

  it("the user's own table on straight lines is read at each cell", async () => {
    const points = [
      { ppm: 5, lbPerAc: 80 },
      { ppm: 45, lbPerAc: 0 },
    ];
    const mine = {
      id: "mine",
      name: "Mine",
      tables: [],
      lineTables: [{ test: "P" as const, crop: "soybean", method: "mehlich-3", points }],
    };
    const field = await workedField({
      plan: { ownGuides: [mine] },
      field: { nutrients: { P2O5: { guide: "mine" } } },
    });
    for (const cell of inside(field)) {
      const test = field.maps.P!.estimate[cell]!;
      expect(field.need.p2o5LbPerAc[cell]).toBeCloseTo(Math.min(80, Math.max(0, (45 - test) * 2)), 9);
    }
    expect(field.need.P2O5.rule!.guide.status).toBe("own");
    const codes = ({ need }: typeof field) => need.notices.map(({ code }) => code);
    expect(codes(field)).not.toContain("own-table-of-zero");
    // Begun and not filled in: no need of it, and that is told.
    const begun = { test: "P" as const, crop: "soybean", method: "mehlich-3", belowPpm: [], lbPerAc: [0] };
    const none = await workedField({
      plan: { ownGuides: [{ id: "mine", name: "Mine", tables: [begun] }] },
      field: { nutrients: { P2O5: { guide: "mine" } } },
    });
    for (const cell of inside(none)) expect(none.need.p2o5LbPerAc[cell]).toBe(0);
    expect(codes(none)).toContain("own-table-of-zero");
  });
});
