import { describe, expect, it } from "vitest";
import { conversionById, convertTest, guideById, recommend } from "../../src/agronomy/index.ts";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { type Answers, guideMarks, guideMisfits, guidesInUse } from "../../src/plan/index.ts";
import { resultJson } from "../../src/publish/index.ts";
import { orderCsv } from "../../src/publish/order-csv.ts";
import { summary } from "../../src/report/index.ts";
import { type Change, codes, inside, thrown, worked, workedField } from "../support/need-plan.ts";

describe("what keeps a guide from a field's tests", () => {
  // Rules and methods as the guides' files have them (docs/sources.md); conversions as agronomy/conversions.ts.
  const tests = { P: "mehlich-3-icp", K: "mehlich-3" };
  const found = (guide: string, field: Parameters<typeof guideMisfits>[1], methods = tests) =>
    guideMisfits(guide, field, methods, true).map(({ test, error }) => `${test} ${error.code}`);

  it("is nothing where the guide reads them, or the oxide has a guide of its own or a way", () => {
    expect(found("iowa-2013", { crop: "corn" })).toEqual([]);
    expect(found("own-table", { crop: "corn" })).toEqual([]);
    const nutrients = {
      P2O5: { conversion: "ohio-icp-to-bray-line" },
      K2O: { guide: "tri-state-2020" },
    };
    expect(found("tri-state-1995", { crop: "corn", nutrients })).toEqual([]);
  });

  it("is no fault of ours: that is thrown on, not taken for a guide that fits", () => {
    const way = {
      get crop(): string {
        throw new TypeError("our bug");
      },
    };
    expect(() => found("iowa-2013", { crop: "corn", nutrients: { P2O5: way } })).toThrow(TypeError);
  });

  it("is told an oxide each, with the conversions that lead through", () => {
    expect(found("illinois", { crop: "corn" })).toEqual(["P test-method-mismatch", "K test-method-mismatch"]);
    expect(found("iowa-2013", { crop: "corn" }, { P: "mehlich-3", K: "mehlich-3" })).toEqual([
      "P finish-not-stated",
    ]);
    expect(found("kansas-sufficiency", { crop: "soybean" })).toContain("P nutrient-not-in-guide");
    const [p] = guideMisfits("tri-state-1995", { crop: "corn" }, tests, true);
    expect(p?.conversions.map(({ id }) => id)).toEqual([
      "ohio-icp-to-bray-line",
      "tri-state-mehlich-3-to-bray-ratio",
      "nebraska-mehlich-3-to-bray",
    ]);
    expect(p?.takesLevel).toBe(true);
  });
});

describe("a test that the guide does not take", () => {
  const old = { guide: "tri-state-1995", guideOptions: {} };

  it("stops with the ways through and the keys of the plan that lead there", async () => {
    const error = await thrown(worked({ field: old }), InputError);
    expect(error.message).toBe(
      "Low Forty: Tri-State 1995 (tri-state-1995) reads soybean P2O5 from Bray P1; the test is Mehlich-3",
    );
    expect(error.remedy).toMatch(
      /^Ways through: choose another guide \(.*tri-state-2020.*\); ask for the conversion tri-state-mehlich-3-to-bray-ratio \(.*\);.* type a critical level for this test\. In plan\.json: fields “low-forty”, nutrients\.P2O5\.guide, \.conversion or \.criticalLevelPpm\.$/,
    );
  });

  it("goes through by conversions asked for by name, each cell as the guide reads the converted test", async () => {
    const field = await workedField({
      field: {
        ...old,
        nutrients: {
          P2O5: { conversion: "tri-state-mehlich-3-to-bray-ratio" },
          K2O: { conversion: "tri-state-mehlich-3-to-acetate-ratio" },
        },
      },
    });
    expect(codes(field.notices)).toContain("conversion-used");
    expect(field.need.P2O5.rule?.conversion).toBe("tri-state-mehlich-3-to-bray-ratio");
    const conversion = conversionById("tri-state-mehlich-3-to-bray-ratio");
    const guide = guideById("tri-state-1995");
    for (const cell of inside(field)) {
      const bray = convertTest(conversion, field.maps.P!.estimate[cell]!);
      const expected = recommend(guide, {
        crop: "soybean",
        yieldBuPerAc: 55,
        nutrient: "P2O5",
        test: bray,
        testMethod: "bray-p1",
      });
      expect(field.need.p2o5LbPerAc[cell]).toBeCloseTo(expected.lbPerAc, 9);
    }
  });

  it("goes through by a critical level typed for the test; nothing is converted", async () => {
    const field = await workedField({
      field: { ...old, nutrients: { P2O5: { criticalLevelPpm: 20 }, K2O: { criticalLevelPpm: 120 } } },
    });
    // One level is of one field's one test: both stand in its words.
    const typed = field.notices.filter(({ code }) => code === "critical-level-typed");
    expect(typed.map(({ message }) => message.slice(0, 48))).toEqual([
      expect.stringMatching(/^Low Forty, P: /),
      expect.stringMatching(/^Low Forty, K: /),
    ]);
    const below = inside(field).filter((cell) => field.maps.P!.estimate[cell]! < 20);
    expect(below.length).toBeGreaterThan(100);
    // (20 - test) x 5 lb a year + 55 bu x 0.80 lb (Tri-State 1995; agronomy.md lists the figures' status).
    for (const cell of below) {
      const test = field.maps.P!.estimate[cell]!;
      expect(field.need.p2o5LbPerAc[cell]).toBeCloseTo((20 - test) * 5 + 44, 9);
    }
  });

  it("a nutrient the guide does not have is refused, and another guide can stand in for it alone", async () => {
    const kansas = { guide: "kansas-sufficiency", guideOptions: {} };
    const error = await thrown(worked({ field: kansas }), InputError);
    expect(error.message).toMatch(/has no P2O5 rule for soybean; its P2O5 rules are for corn$/);
    expect(error.remedy).toMatch(/nutrients\.P2O5\.guide or \.crop\.$/);
    const field = await workedField({
      field: {
        ...kansas,
        nutrients: { P2O5: { guide: "tri-state-2020", guideOptions: { rotation: "corn-soy" } } },
      },
    });
    expect([field.need.P2O5.rule?.guide.id, field.need.K2O.rule?.guide.id]).toEqual([
      "tri-state-2020",
      "kansas-sufficiency",
    ]);
  });

  it.each([
    [6, true],
    [7, true],
    [8, false],
  ])("cores of %i in. are recorded and compared, never a reason to stop", async (depthIn, differs) => {
    const field = await workedField({ sampling: { depthIn } });
    expect(field.checked.samplings[0]).toMatchObject({ depthIn, usedFor: ["P", "K", "CEC"] });
    expect(codes(field.notices).includes("depth-differs")).toBe(differs);
  });
});

describe("the rotation", () => {
  it("tells the guide's own option, and may not contradict it", async () => {
    const without = { guideOptions: {} };
    const short = await workedField({ field: { ...without, rotation: ["corn", "soybean"] } });
    const long = await workedField({ field: { ...without, rotation: ["corn", "soybean", "wheat"] } });
    // P critical level 20 ppm for corn and soybean alone, 30 with wheat (Ohio State pages, read).
    expect(short.need.P2O5.rule!.belowCritical!.areaAc).toBeLessThan(
      long.need.P2O5.rule!.belowCritical!.areaAc,
    );
    const cell = inside(long).find((one) => long.maps.P!.estimate[one]! < 20)!;
    expect(long.need.p2o5LbPerAc[cell]! - short.need.p2o5LbPerAc[cell]!).toBeCloseTo(50, 9);
    const error = await thrown(worked({ field: { rotation: ["corn", "wheat"] } }), InputError);
    expect(error.message).toMatch(/rotation corn, wheat and the guide option rotation=corn-soy contradict/);
  });

  it("that nobody told is asked, and taken as it is answered, for all fields or for one; what the plan says stands", async () => {
    const without = { field: { guideOptions: {} } };
    const asked = await thrown(worked(without), QuestionError);
    expect(asked.questions.map(({ key }) => key)).toEqual(["option.rotation"]);
    const [short, long] = ["corn-soy", "with-wheat-or-alfalfa"] as const;
    const taken = async (change: Change, answers: Answers) =>
      (await workedField(change, { answers })).field.guideOptions;
    const { id } = (await worked()).fields[0]!.field;
    expect(await taken(without, { "option.rotation": long })).toEqual({ rotation: long });
    expect(await taken(without, { "option.rotation": short, [`option.rotation.${id}`]: long })).toEqual({
      rotation: long,
    });
    expect(
      await taken({ field: { guideOptions: { rotation: short } } }, { "option.rotation": long }),
    ).toEqual({
      rotation: short,
    });
    const bad = await thrown(worked(without, { answers: { "option.rotation": "maize" } }), QuestionError);
    expect(bad.questions).toEqual(asked.questions);
  });
});

describe("a guide with figures from memory", () => {
  const confirmed = { by: "A. Adviser", page: "table 7", date: "2027-02-01" };
  const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

  it("is called unconfirmed in summary, order and result until somebody enters a comparison", async () => {
    const result = await worked();
    expect(guidesInUse(result.fields)).toMatchObject([
      {
        id: "tri-state-2020",
        status: "unconfirmed",
        fromMemory: ["removal.soybean.p2o5", "removal.soybean.k2o"],
      },
    ]);
    expect(summary(result)).toMatch(
      /Guide tri-state-2020 \(unconfirmed\); 2 of the figures used are from memory/,
    );
    const rows = text(orderCsv(result)).trim().split(/\r?\n/);
    expect(rows.slice(1).every((row) => row.includes("guide tri-state-2020: unconfirmed"))).toBe(true);
    const json = JSON.parse(JSON.stringify(resultJson(result)));
    expect(json.guides[0]).toMatchObject({ id: "tri-state-2020", status: "unconfirmed" });
    expect(json.fields[0].needRules.P2O5).toMatchObject({ guide: "tri-state-2020", status: "unconfirmed" });
    expect(codes(result.fields[0]!.notices)).toContain("guide-unconfirmed");
  });

  it("is confirmed by who compared it with which page on which date", async () => {
    const result = await worked({ plan: { guides: [{ id: "tri-state-2020", confirmed }] } });
    const [guide] = guidesInUse(result.fields);
    expect(guideMarks(guide!)).toBe("confirmed by A. Adviser, table 7, 2027-02-01");
    expect(codes(result.fields[0]!.notices)).not.toContain("guide-unconfirmed");
    expect(text(orderCsv(result))).not.toContain("unconfirmed");
    expect(summary(result)).toContain("Guide tri-state-2020 (confirmed by A. Adviser");
  });

  it("takes figures put in place of its own, and shows them beside the published ones", async () => {
    const constants = { "removal.soybean.p2o5": 0.9, "p.critical.corn-soy": 22 };
    const result = await worked({ plan: { guides: [{ id: "tri-state-2020", constants }] } });
    const [field] = result.fields;
    const cell = inside(field!).find((one) => field!.maps.P!.estimate[one]! < 20)!;
    const test = field!.maps.P!.estimate[cell]!;
    expect(field!.need.p2o5LbPerAc[cell]).toBeCloseTo((22 - test) * 5 + 55 * 0.9, 9);
    expect(field!.need.P2O5.rule!.guide.overridden).toMatchObject([
      { id: "p.critical.corn-soy", value: 22, published: 20, unit: "ppm" },
      { id: "removal.soybean.p2o5", value: 0.9, published: 0.79, unit: "lb/bu" },
    ]);
    expect(summary(result)).toMatch(/2 figures replaced by the user/);
    const unknown = { id: "tri-state-2020", constants: { "p.critical": 22 } };
    const error = await thrown(worked({ plan: { guides: [unknown] } }), InputError);
    expect(error.message).toBe('Tri-State 2020 (tri-state-2020) has no figure "p.critical"');
  });
});

describe("cautions", () => {
  it("stand in the summary as one line with a pointer, and in full in the result", async () => {
    const result = await worked();
    expect(summary(result)).toMatch(
      /Cautions: \d+ on law, water, wet soil and handling, in full in result\.json and docs\/cautions\.md; .*; no setbacks entered, none respected/,
    );
    const { cautions } = resultJson(result) as { cautions: { id: string }[] };
    expect(cautions.map((one) => one.id)).toContain("ohio-lake-erie-surface");
    expect(codes(result.notices)).toContain("no-setbacks");
  });
});
