import { describe, expect, test } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";
import { QuestionError } from "../../src/errors/index.ts";
import {
  buildUpYear,
  chooseSamplings,
  coveredThrough,
  isOlderThan,
  needAfterCover,
  needAfterCredits,
  needForCrops,
  needOfNutrient,
  soilNotices,
} from "../../src/need/index.ts";

const M2 = 4046.8564224;
const codes = (result: { notices: readonly { code: string }[] }): string[] =>
  result.notices.map((notice) => notice.code);
function questions(work: () => unknown): string[] {
  try {
    work();
  } catch (error) {
    if (error instanceof QuestionError) return error.questions.map((question) => question.key);
    throw error;
  }
  throw new Error("nothing was asked");
}

describe("samplings", () => {
  const old = {
    id: "s2021",
    date: "2021-11-03",
    tests: ["P", "K"],
    depthIn: 8,
    lab: "North",
    coresToBands: "off the bands",
  } as const;
  const recent = {
    id: "s2025",
    date: "2025-10-20",
    tests: ["P", "CEC"],
    depthIn: 6,
    lab: "South",
    coresToBands: "off the bands",
  } as const;
  const today = "2026-03-15";

  test("the newest that has the test is offered", () => {
    expect(chooseSamplings("P", [old, recent], { today }).samplings.map((one) => one.id)).toEqual(["s2025"]);
    expect(codes(chooseSamplings("P", [old, recent], { today }))).toEqual(["newest-sampling-used"]);
    expect(codes(chooseSamplings("CEC", [old, recent], { today }))).toEqual([]);
  });

  test("one dated after the day of the plan is not the newest, and is told; so is how many samples each has", () => {
    const late = { ...recent, id: "s2062", date: "2062-10-20", count: 1 };
    const made = chooseSamplings("P", [late, { ...recent, count: 62 }], { today });
    expect(made.samplings.map((one) => one.id)).toEqual(["s2025"]);
    expect(made.notices.map(({ message }) => message)).toEqual([
      "2 samplings have P; the newest, s2025 of 2025-10-20, is used (62 samples; s2062 of 2062-10-20: 1)",
      "s2062 of 2062-10-20 is dated after 2026-03-15, the day of the plan; it is not used; mend the date that is wrong",
    ]);
    expect(codes(chooseSamplings("P", [late], { today }))).toEqual(["sampling-in-future"]);
  });

  test("two of one day, and a newest of few samples beside a fuller one, are asked about", () => {
    const seen = (samplings: Parameters<typeof chooseSamplings>[1]): string => {
      try {
        chooseSamplings("P", samplings, { today, leastSamples: 5 });
      } catch (error) {
        if (error instanceof QuestionError) return error.questions[0]!.seen!;
      }
      return "";
    };
    const choices = (samplings: Parameters<typeof chooseSamplings>[1]): readonly string[] => {
      try {
        chooseSamplings("P", samplings, { today, ...(samplings.length === 1 ? { chosen: ["x"] } : {}) });
      } catch (error) {
        if (error instanceof QuestionError) return error.questions[0]!.choices;
      }
      return [];
    };
    const again = { ...recent, id: "other" };
    expect(seen([recent, again])).toBe("other of 2025-10-20 and s2025 of 2025-10-20 are of one day");
    expect(choices([recent, again, old])).toEqual(["other", "s2025", "s2021", "other, s2025"]);
    expect(choices([recent])).toEqual(["s2025"]);
    const [one, full] = [
      { ...recent, count: 1 },
      { ...old, count: 63 },
    ];
    expect(seen([one, full])).toBe(
      "the newest, s2025 of 2025-10-20, has 1 sample, fewer than a map takes; s2021 of 2021-11-03 has 63",
    );
    expect(seen([{ ...one, count: 5 }, full])).toBe("");
    expect(seen([one, { ...full, count: 3 }])).toBe("");
    const chosen = chooseSamplings("P", [one, full], { today, leastSamples: 5, chosen: ["s2021"] });
    expect(chosen.samplings.map(({ id }) => id)).toEqual(["s2021"]);
  });

  test("none is called the newest beside one whose day is not known, and a day not read is named", () => {
    const { date: _day, ...undated } = recent;
    const unread = { ...undated, unreadDate: "11/23/26" };
    const told = (samplings: Parameters<typeof chooseSamplings>[1]) =>
      chooseSamplings("P", samplings, { today, limitYears: 9 }).notices.map(({ message }) => message);
    expect(told([old, unread])).toEqual([
      '2 samplings have P; s2021 of 2021-11-03 is used, the newest of those with a date; whether newer cannot be told: s2025 of “11/23/26”, a day not read; where they are one sampling, the answer "sampling.P=s2021, s2025", or samplings in plan.json, takes both',
    ]);
    expect(told([unread])).toEqual([
      "s2025 gives “11/23/26” as its day, which is not read; whether it is older than 9 years cannot be told",
    ]);
    expect(told([undated, { ...undated, id: "other" }])[0]).toMatch(
      /which is the newest cannot be told: other/,
    );
  });

  test("an older one that is the only one, or is chosen, says so and says when it is too old", () => {
    expect(codes(chooseSamplings("K", [old, recent], { today }))).toEqual(["sampling-old"]);
    expect(codes(chooseSamplings("K", [old, recent], { today, limitYears: 5 }))).toEqual([]);
    expect(codes(chooseSamplings("P", [old, recent], { today, chosen: ["s2021"] }))).toEqual([
      "older-sampling-chosen",
      "sampling-old",
    ]);
    expect([isOlderThan("2022-03-15", today, 4), isOlderThan("2022-03-14", today, 4)]).toEqual([false, true]);
  });

  test("mixing is asked; once agreed it is said, with different depths and laboratories", () => {
    const both = { today, chosen: ["s2021", "s2025"] };
    expect(questions(() => chooseSamplings("P", [old, recent], both))).toEqual(["mix-samplings.P"]);
    const mixed = chooseSamplings("P", [old, recent], { ...both, mix: true });
    expect(mixed.samplings.map((one) => one.id)).toEqual(["s2025", "s2021"]);
    expect(codes(mixed)).toEqual([
      "sampling-old",
      "samplings-mixed",
      "samplings-of-different-depths",
      "samplings-of-different-laboratories",
    ]);
  });

  test("what one alone leaves out is told with its samples, and that mixing mixes nothing then", () => {
    const [five, six] = [
      { ...recent, count: 5 },
      { ...recent, id: "other", count: 6 },
    ];
    const told = (samplings: Parameters<typeof chooseSamplings>[1], choice: object) =>
      chooseSamplings("P", samplings, { today, ...choice }).notices.map(({ message }) => message);
    const one = "P comes from s2025 of 2025-10-20 (5 samples); left out: other of 2025-10-20 (6 samples)";
    expect(told([five, six], { chosen: ["s2025"] })).toEqual([one]);
    expect(told([five, six], { chosen: ["s2025"], mix: true })).toEqual([
      `${one}; mix-samplings.P mixes nothing while one is named alone`,
    ]);
    expect(told([five, six], { chosen: ["s2025", "other"], mix: true })[0]).toBe(
      "the map of P mixes other of 2025-10-20 (6 samples) and s2025 of 2025-10-20 (5 samples)",
    );
    const [newest] = told([five, { ...old, count: 7 }], { mix: true });
    expect(newest).toBe(
      '2 samplings have P; the newest, s2025 of 2025-10-20, is used (5 samples; s2021 of 2021-11-03: 7); mix-samplings.P mixes nothing while one is used; where they are one sampling, the answer "sampling.P=s2025, s2021", or samplings in plan.json, takes both',
    );
    expect(told([five, { ...old, count: 7 }], { mix: false })[0]).toMatch(/s2021 of 2021-11-03: 7\)$/);
    const older = told([five, { ...old, count: 7 }], { chosen: ["s2021"] })[0];
    expect(older).toBe(
      "P comes from s2021 of 2021-11-03; s2025 of 2025-10-20 is newer (7 samples; s2025 of 2025-10-20: 5)",
    );
  });

  test("none with the test, or a name that is not there, is a question; cores not stated a notice", () => {
    expect(questions(() => chooseSamplings("K", [recent], { today }))).toEqual(["sampling.K"]);
    expect(questions(() => chooseSamplings("P", [recent], { today, chosen: ["x"] }))).toEqual(["sampling.P"]);
    const { coresToBands: _cores, ...bare } = recent;
    expect(codes(chooseSamplings("P", [bare], { today }))).toEqual(["cores-to-bands-not-stated"]);
  });
});

describe("years of build-up", () => {
  test("four years in the Tri-State guides (read), then nothing more without a new test", () => {
    const guide = guideById("tri-state-2020");
    expect(buildUpYear(guide, 2026, 2026)).toMatchObject({
      year: 1,
      of: 4,
      isOver: false,
      inWords: "year 1 of 4 of build-up",
      notices: [],
    });
    expect(buildUpYear(guide, 2026, 2029)?.isOver).toBe(false);
    const over = buildUpYear(guide, 2026, 2030)!;
    expect(over.isOver).toBe(true);
    expect(over.inWords).toContain("ended with 2029");
    expect(codes(over)).toEqual(["build-up-over"]);
  });

  test("the years chosen in Kansas, none in a sufficiency guide", () => {
    expect(buildUpYear(guideById("kansas-build-maintain"), 2026, 2031, { years: "6" })).toMatchObject({
      year: 6,
      of: 6,
      isOver: false,
    });
    expect(buildUpYear(guideById("kansas-sufficiency"), 2026, 2031)).toBeUndefined();
  });
});

describe("cover by an earlier application", () => {
  const made = [
    { nutrient: "K2O", seasonYear: 2026, yearsCovered: 2 },
    { nutrient: "P2O5", seasonYear: 2026, yearsCovered: 1 },
  ] as const;
  const need = Float64Array.of(80, Number.NaN, 0);

  test("the covered year's need is zero, per nutrient; the year after it is not", () => {
    expect(coveredThrough("K2O", made)).toBe(2027);
    expect(coveredThrough("P2O5", [])).toBeUndefined();
    const covered = needAfterCover("K2O", need, 2027, made);
    expect([...covered.lbPerAc]).toEqual([0, Number.NaN, 0]);
    expect(codes(covered)).toEqual(["nutrient-covered"]);
    expect(needAfterCover("P2O5", need, 2027, made).lbPerAc).toEqual(need);
    expect(needAfterCover("K2O", need, 2028, made).lbPerAc).toEqual(need);
  });

  test("an application of the season itself covers nothing away", () => {
    expect(needAfterCover("K2O", need, 2026, made).lbPerAc).toEqual(need);
  });
});

describe("one application for two crops", () => {
  const guide = guideById("tri-state-2020");
  const shared = { reading: { method: "mehlich-3" } } as const;
  const crops = [
    { crop: "corn", yieldBuPerAc: 180 },
    { crop: "soybean", yieldBuPerAc: 60 },
  ];
  const k = Float64Array.of(150, 200);
  const cec = Float64Array.of(12, 12);

  test("whether the 20 lb K2O count once or twice is asked, since the text read does not say", () => {
    expect(questions(() => needForCrops(guide, "K2O", crops, shared, k, cec))).toEqual(["addition-counts"]);
  });

  test("removal of both crops is 105 lb K2O, with 40 or 20 lb on top; above the limit nothing", () => {
    const perCrop = needForCrops(guide, "K2O", crops, shared, k, cec, "per crop");
    const perApplication = needForCrops(guide, "K2O", crops, shared, k, cec, "per application");
    expect([...perCrop.lbPerAc]).toEqual([36 + 20 + 69 + 20, 0]);
    expect([...perApplication.lbPerAc]).toEqual([36 + 20 + 69, 0]);
    expect(perCrop.yearsCovered).toBe(2);
    expect(codes(perCrop)).toContain("addition-counted");
  });

  test("one crop is asked nothing and is what the guide gives", () => {
    const one = needForCrops(guide, "K2O", crops.slice(0, 1), shared, k, cec);
    expect([...one.lbPerAc]).toEqual([56, 0]);
    expect(codes(one)).not.toContain("build-up-of-several-years");
  });

  test("several shares of a raise at once are said", () => {
    const p = needForCrops(
      guide,
      "P2O5",
      crops,
      { ...shared, options: { rotation: "corn-soy" } },
      Float64Array.of(10),
    );
    expect(p.lbPerAc[0]).toBeCloseTo(2 * 50 + 63 + 47.4, 9);
    expect(codes(p)).toContain("build-up-of-several-years");
  });
});

describe("residue", () => {
  const k = {
    crop: "corn",
    yieldBuPerAc: 200,
    nutrient: "K2O",
    test: 150,
    testMethod: "mehlich-3",
    cecMeq: 12,
  } as const;

  test("stover K2O of 220 lb (IPNI 2008, read: 1.1 lb a bushel) counts with removal and is in the steps", () => {
    const result = recommend(guideById("tri-state-2020"), { ...k, residueLbPerAc: 220 });
    expect(result.lbPerAc).toBeCloseTo(40 + 220 + 20, 9);
    expect(result.steps.join(" ")).toContain("220 lb with the residue");
  });

  test("changes nothing in a guide without removal, and says so; a negative one is refused", () => {
    const sufficiency = recommend(guideById("kansas-sufficiency"), { ...k, test: 100, residueLbPerAc: 220 });
    expect(sufficiency.lbPerAc).toBe(recommend(guideById("kansas-sufficiency"), { ...k, test: 100 }).lbPerAc);
    expect(codes(sufficiency)).toContain("residue-not-counted");
    expect(() => recommend(guideById("tri-state-2020"), { ...k, residueLbPerAc: -1 })).toThrow(/-1 lb K2O/);
  });
});

describe("credits", () => {
  const year = { from: "2025-09-01", to: "2026-08-31" };
  const manure = {
    name: "slurry",
    kind: "manure",
    date: "2025-10-10",
    p2o5LbPerAc: 30,
    k2oLbPerAc: 50,
  } as const;
  const starter = {
    name: "2x2",
    kind: "starter",
    date: "2026-04-25",
    p2o5LbPerAc: Float64Array.of(10, 0, 10),
    k2oLbPerAc: 0,
  } as const;
  const need = Float64Array.of(60, 20, Number.NaN);

  test("come off the need, never below zero; what goes beyond is kept in sight", () => {
    const after = needAfterCredits("P2O5", need, [manure, starter], year);
    expect([...after.lbPerAc]).toEqual([20, 0, Number.NaN]);
    expect([...after.beyondNeedLbPerAc]).toEqual([0, 10, Number.NaN]);
    expect(after.notices).toEqual([]);
  });

  test("outside the crop year they are not counted and said; negative ones are refused", () => {
    const late = needAfterCredits("K2O", need, [{ ...manure, date: "2026-09-01" }], year);
    expect([...late.lbPerAc]).toEqual([...need]);
    expect(codes(late)).toEqual(["credit-outside-crop-year"]);
    expect(() => needAfterCredits("K2O", need, [{ ...manure, k2oLbPerAc: -5 }], year)).toThrow(
      /slurry.*-5 lb K2O/,
    );
  });
});

describe("what soil chemistry says", () => {
  const areaM2 = Float64Array.of(M2, M2, M2);
  const seen = (facts: Partial<Parameters<typeof soilNotices>[0]>): string[] =>
    soilNotices({ areaM2, pMethod: "bray-p1", potashYears: 1, ...facts }).map((notice) => notice.code);

  test("Bray P1 on calcareous soil, with its acres; no lime recommendation where pH is shown", () => {
    const facts = { ph: Float64Array.of(6.5, 7.4, 8), areaM2, pMethod: "bray-p1", potashYears: 1 };
    expect(soilNotices(facts)[0]?.message).toContain("2.0 ac");
    expect(seen({ ph: facts.ph })).toEqual(["bray-p1-on-calcareous-soil", "no-lime-recommendation"]);
    expect(seen({ ph: facts.ph, pMethod: "olsen" })).toEqual(["no-lime-recommendation"]);
    expect(seen({ ph: Float64Array.of(6, 6.5, 7) })).toEqual(["no-lime-recommendation"]);
  });

  test("low CEC under two-year potash", () => {
    const cecMeq = Float64Array.of(4, 5, 12);
    expect(seen({ cecMeq, potashYears: 2 })).toEqual(["low-cec-under-two-year-potash"]);
    expect(seen({ cecMeq, potashYears: 1 })).toEqual([]);
    expect(seen({ cecMeq: Float64Array.of(6, 9, 12), potashYears: 2 })).toEqual([]);
  });
});

test("needOfNutrient stops the raise when the years are over", () => {
  const inputs = {
    crop: "corn",
    yieldBuPerAc: 180,
    reading: { method: "mehlich-3" },
    options: { rotation: "corn-soy" },
  } as const;
  const p = Float64Array.of(10, 30);
  expect([
    ...needOfNutrient(guideById("tri-state-2020"), "P2O5", { ...inputs, buildUp: false }, p).lbPerAc,
  ]).toEqual([63, 63].map((x) => expect.closeTo(x, 9)));
});
