import { describe, expect, it } from "vitest";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { lastFields, type NextSeason, nextSeasonPlan, run } from "../../src/plan/index.ts";
import {
  codes,
  inside,
  needPlan,
  openBalance,
  pounds,
  rectangles,
  thrown,
  worked,
  workedField,
} from "../support/need-plan.ts";
import { labCsv, SAMPLES, smallFarmFiles, sourceOf } from "../support/small-farm.ts";

// Season 2027, plan of 2027-03-20 (tests/support/small-farm.ts).
const dated = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g,Date,pH,Lab";
const withDate = (date: string, rows = SAMPLES, pH = "6.5"): (string | number)[][] =>
  rows.map((row) => [...row, date, pH, "North"]);
/** The same places a little to the north, with other P. */
const earlierVisit = withDate(
  "2021-10-02",
  SAMPLES.map(([id, lon, lat, , k, cec]) => [`o${id}`, lon!, Number(lat) + 0.0002, 5, k!, cec!]),
);

describe("samplings", () => {
  const both = { "lab.csv": labCsv([...withDate("2026-10-20"), ...earlierVisit], dated) };

  it("date, laboratory and depth come from the file, or from the plan over it", async () => {
    const field = await workedField({ files: { "lab.csv": labCsv(withDate("2026-10-20"), dated) } });
    expect(field.checked.samplings).toEqual([
      {
        id: "lab.csv",
        source: "lab.csv",
        date: "2026-10-20",
        depthIn: null,
        lab: "North",
        coresToBands: null,
        samples: 9,
        usedFor: ["P", "K", "CEC"],
      },
    ]);
    const typed = { date: "2026-11-01", depthIn: 8, lab: "South", coresToBands: "off the bands" };
    const over = await workedField({
      files: { "lab.csv": labCsv(withDate("2026-10-20"), dated) },
      sampling: typed,
    });
    expect(over.checked.samplings[0]).toMatchObject(typed);
    expect(codes(over.notices)).not.toContain("cores-to-bands-not-stated");
    expect(codes(field.notices)).toContain("cores-to-bands-not-stated");
  });

  it("a day that reads two ways is asked; the answer, or the day typed in the plan, settles it", async () => {
    const change = { files: { "lab.csv": labCsv(withDate("11/03/2026"), dated) } };
    const asked = await thrown(worked(change), QuestionError);
    expect(asked.questions.map(({ key }) => key)).toEqual(["date-order"]);
    const dateOf = async (order: string) =>
      (await workedField(change, { answers: { "date-order": order } })).checked.samplings[0]!.date;
    expect([await dateOf("month-first"), await dateOf("day-first")]).toEqual(["2026-11-03", "2026-03-11"]);
    const typed = await workedField({ ...change, sampling: { date: "2026-11-01" } });
    expect(typed.checked.samplings[0]!.date).toBe("2026-11-01");
  });

  it("dated after the plan, and years that cannot follow one another, are doubted", async () => {
    const told = async (date: string, plan = {}, field = {}) =>
      (await workedField({ files: { "lab.csv": labCsv(withDate(date), dated) }, plan, field })).notices
        .filter(({ code }) => /in-future|season-/.test(code))
        .map(({ message }) => message);
    expect(await told("2026-10-20")).toEqual([]);
    expect((await told("2062-11-02"))[0]).toBe(
      "lab.csv of 2062-11-02 is dated after 2027-03-20, the day of the plan; mend the date that is wrong",
    );
    expect(await told("2026-10-20", { seasonYear: 2024 })).toEqual([
      "Low Forty: the plan's season 2024 is over before its samples of 2026-10-20 were taken; mend seasonYear or the date of the sampling",
    ]);
    expect(await told("2026-10-20", {}, { firstSeasonYear: 2029 })).toEqual([
      "Low Forty: firstSeasonYear 2029 lies after the plan's season 2027, which is counted as the first; mend one of them",
    ]);
  });

  it("a day that is not read is named, and the sampling not said to state none", async () => {
    const field = await workedField({ files: { "lab.csv": labCsv(withDate("11/23/26"), dated) } });
    const told = field.notices.filter(({ code }) => code === "sampling-date-not-stated");
    expect(told[0]!.message).toMatch(/^lab\.csv gives “11\/23\/26” as its day, which is not read;/);
  });

  it("of two visits the newest is read, and that is said", async () => {
    const field = await workedField({ files: both });
    expect(field.checked.samplings.map(({ id, usedFor }) => [id, usedFor.length])).toEqual([
      ["lab.csv 2021-10-02", 0],
      ["lab.csv 2026-10-20", 3],
    ]);
    expect(field.checked.samples).toHaveLength(9);
    expect(codes(field.notices)).toContain("newest-sampling-used");
    expect(Math.min(...inside(field).map((cell) => field.maps.P!.estimate[cell]!))).toBeGreaterThan(7);
  });

  it("of two visits to the very same places too, for points and for a composite a zone", async () => {
    const older = SAMPLES.map(([id, lon, lat, , k, cec]) => [id!, lon!, lat!, 5, k!, cec!]);
    const points = await workedField({
      files: { "lab.csv": labCsv([...withDate("2023-10-18", older), ...withDate("2026-10-20")], dated) },
    });
    const alone = await workedField({ files: { "lab.csv": labCsv(withDate("2026-10-20"), dated) } });
    const newest = points.notices.find(({ code }) => code === "newest-sampling-used");
    expect(newest!.message).toBe(
      '2 samplings have P; the newest, lab.csv of 2026-10-20, is used (9 samples; lab.csv of 2023-10-18: 9); where they are one sampling, the answer "sampling.P=lab.csv 2026-10-20, lab.csv 2023-10-18", or samplings in plan.json, takes both',
    );
    expect(points.checked.samplings.map(({ date, usedFor }) => [date, usedFor.length])).toEqual([
      ["2023-10-18", 0],
      ["2026-10-20", 3],
    ]);
    expect(pounds(points, (cell) => points.need.p2o5LbPerAc[cell]!)).toBe(
      pounds(alone, (cell) => alone.need.p2o5LbPerAc[cell]!),
    );
    const zones = rectangles([[-93.501, 41.999, -93.496, 42.004, { ZONE: "W1" }]]);
    const lab =
      "Zone,Date,P M3 ppm,K M3 ppm,CEC meq/100g\nW1,2026-10-20,12,110,14\nW1,2023-10-18,40,180,14\n";
    const composite = await workedField({
      files: { "zones.geojson": zones, "lab.csv": lab },
      as: { "zones.geojson": "zones" },
      field: { needFrom: { kind: "zones", source: "zones.geojson", idColumn: "ZONE" } },
    });
    expect(composite.maps.P!.mean).toBe(12);
    expect(composite.checked.samplings.find(({ usedFor }) => usedFor.length > 0)!.date).toBe("2026-10-20");
  });

  it("an older one can be chosen for one test; older than the limit is said, and the limit is the user's", async () => {
    const samplings = { P: ["lab.csv 2021-10-02"] };
    const field = await workedField({ files: both, field: { samplings } });
    expect(codes(field.notices)).toEqual(expect.arrayContaining(["older-sampling-chosen", "sampling-old"]));
    expect(inside(field).every((cell) => Math.abs(field.maps.P!.estimate[cell]! - 5) < 1e-9)).toBe(true);
    expect(field.maps.K!.samples).toBe(9);
    const patient = await workedField({
      files: both,
      field: { samplings },
      plan: { samplingLimitYears: 6 },
    });
    expect(codes(patient.notices)).not.toContain("sampling-old");
  });

  it("mixing several on one map is asked first", async () => {
    const samplings = { P: ["lab.csv 2021-10-02", "lab.csv 2026-10-20"] };
    const asked = await thrown(worked({ files: both, field: { samplings } }), QuestionError);
    expect(asked.questions.map((question) => question.key)).toEqual(["mix-samplings.P"]);
    const answers = { "mix-samplings.P": "yes" };
    const mixed = await workedField({ files: both, field: { samplings } }, { answers });
    expect(mixed.maps.P!.samples).toBe(18);
    expect(codes(mixed.notices)).toContain("samplings-mixed");
    const kept = await workedField({ files: both, field: { samplings: { ...samplings, mix: ["P"] } } });
    expect(kept.maps.P!.samples).toBe(18);
    const no = await workedField(
      { files: both, field: { samplings } },
      { answers: { "mix-samplings.P": "no" } },
    );
    expect(no.maps.P!.samples).toBe(9);
  });

  it("two files by different extractants are never one map", async () => {
    const olsen = labCsv(earlierVisit, dated.replace("P M3 ppm", "P Olsen ppm"));
    const change = {
      files: { "lab.csv": labCsv(withDate("2026-10-20"), dated), "old.csv": olsen },
      as: { "old.csv": "samples" as const },
      field: { moreSamples: ["old.csv"], samplings: { P: ["lab.csv", "old.csv"], mix: ["P" as const] } },
    };
    const error = await thrown(worked(change), InputError);
    expect(error.message).toBe("Low Forty: the samplings mixed for P were tested by mehlich-3 and olsen.");
    const newest = await workedField({ ...change, field: { moreSamples: ["old.csv"] } });
    expect(newest.checked.methods.P).toBe("mehlich-3");
    expect(newest.maps.P!.samples).toBe(9);
  });

  it("pH is shown, changes nothing, and no lime recommendation is made; Bray P1 on calcareous soil is said", async () => {
    const plain = await workedField();
    const files = { "lab.csv": labCsv(withDate("2026-10-20", SAMPLES, "7.6"), dated) };
    const field = await workedField({ files });
    expect(field.shownTests.pH).toEqual({ samples: 9, min: 7.6, mean: expect.closeTo(7.6, 9), max: 7.6 });
    expect(codes(field.notices)).toContain("no-lime-recommendation");
    expect(pounds(field, (cell) => field.need.p2o5LbPerAc[cell]!)).toBeCloseTo(
      pounds(plain, (cell) => plain.need.p2o5LbPerAc[cell]!),
      9,
    );
    const bray = await workedField({
      files: { "lab.csv": files["lab.csv"].replace("P M3 ppm", "P Bray P1 ppm") },
      field: { nutrients: { P2O5: { guide: "tri-state-1995" } } },
    });
    expect(codes(bray.notices)).toContain("bray-p1-on-calcareous-soil");
  });
});

describe("years", () => {
  const below = (field: Awaited<ReturnType<typeof workedField>>) =>
    inside(field).find((cell) => field.maps.P!.estimate[cell]! < 15)!;

  it("build-up counts from the season after the sampling and stops after its last year", async () => {
    const files = { "lab.csv": labCsv(withDate("2026-10-20"), dated) };
    const first = await workedField({ files });
    const last = await workedField({ files, plan: { seasonYear: 2030, date: "2030-03-01" } });
    const over = await workedField({ files, plan: { seasonYear: 2031, date: "2031-03-01" } });
    expect([first, last, over].map((field) => field.need.P2O5.rule!.buildUp)).toEqual([
      "year 1 of 4 of build-up",
      "year 4 of 4 of build-up",
      "the 4 years of build-up ended with 2030; removal alone until a new test",
    ]);
    const cell = below(first);
    const test = first.maps.P!.estimate[cell]!;
    expect(last.need.p2o5LbPerAc[cell]).toBeCloseTo((20 - test) * 5 + 55 * 0.79, 9);
    expect(over.need.p2o5LbPerAc[cell]).toBeCloseTo(55 * 0.79, 9);
    expect(codes(over.notices)).toEqual(expect.arrayContaining(["build-up-over", "sampling-old"]));
    const spring = await workedField({ files: { "lab.csv": labCsv(withDate("2027-03-02"), dated) } });
    expect(spring.need.P2O5.rule!.buildUp).toBe("year 1 of 4 of build-up");
  });

  it("an unknown day is counted as year 1 with a notice, and the first season can be typed", async () => {
    const unknown = await workedField();
    expect(codes(unknown.notices)).toEqual(
      expect.arrayContaining(["sampling-date-not-stated", "build-up-year-assumed"]),
    );
    const typed = await workedField({ field: { firstSeasonYear: 2025 } });
    expect(typed.need.P2O5.rule!.buildUp).toBe("year 3 of 4 of build-up");
    expect(codes(typed.notices)).not.toContain("build-up-year-assumed");
    // No test serves before it is taken: what was typed of the samples before does not hold for new ones.
    const files = { "lab.csv": labCsv(withDate("2027-03-02"), dated) };
    const anew = await workedField({ field: { firstSeasonYear: 2025 }, files });
    expect(anew.need.P2O5.rule!.buildUp).toBe("year 1 of 4 of build-up");
  });

  it("the season after goes on counting undated samples, where none has a date", async () => {
    const buildUps: (string | undefined)[] = [];
    const seasonAfter = async ({ plan }: Pick<NextSeason, "plan">): Promise<NextSeason> => {
      const { fields, stands } = await run(plan, sourceOf(smallFarmFiles()));
      buildUps.push(fields[0]!.need.P2O5.rule!.buildUp ?? undefined);
      const crop = plan.fields[0]!.crop;
      return nextSeasonPlan(plan, "next", "2028-01-10", stands, [], lastFields(plan.seasonYear, fields), {
        crop,
      });
    };
    const first = await seasonAfter(needPlan());
    expect(codes(first.notices)).toContain("first-season-kept");
    const second = await seasonAfter(first);
    expect(codes(second.notices)).not.toContain("first-season-kept");
    await seasonAfter(second);
    expect([first, second].map(({ plan }) => plan.fields[0]!.firstSeasonYear)).toEqual([2027, 2027]);
    expect(buildUps).toEqual([1, 2, 3].map((year) => `year ${year} of 4 of build-up`));
  });

  it("a dated table of CEC, or a test of the same season, is no reason to count undated samples anew", async () => {
    const isAssumedWith = async (test: "K" | "CEC", date: string) => {
      const field = await workedField({
        files: { "older.csv": labCsv(withDate(date), dated) },
        as: { "older.csv": "samples" },
        field: {
          moreSamples: ["older.csv"],
          samplings: { P: ["lab.csv"], K: ["lab.csv"], CEC: ["lab.csv"], [test]: ["older.csv"] },
        },
      });
      return lastFields(2027, [field]).get(field.field.id)!.isYearAssumed;
    };
    expect(await isAssumedWith("CEC", "2021-10-02")).toBe(true);
    expect(await isAssumedWith("K", "2026-10-20")).toBe(true);
    // Typing 2027 would count the years of an older test anew.
    expect(await isAssumedWith("K", "2024-10-20")).toBe(false);
  });

  it("the season an earlier application covers needs nothing, nutrient by nutrient", async () => {
    const earlier = [{ nutrient: "K2O", seasonYear: 2026, yearsCovered: 2 }] as const;
    const field = await workedField({ field: { earlier } });
    expect(inside(field).every((cell) => field.need.k2oLbPerAc[cell] === 0)).toBe(true);
    expect(field.need.K2O.cover).toEqual({ coveredThrough: 2027, by: "an earlier application" });
    expect(field.need.figures.K2O.mappedTestLb).toBe(0);
    expect(pounds(field, (cell) => field.need.p2o5LbPerAc[cell]!)).toBeGreaterThan(500);
    expect(openBalance(field)).toBeLessThan(1e-6);
    const later = await workedField({ field: { earlier }, plan: { seasonYear: 2028 } });
    expect(later.need.K2O.cover.coveredThrough).toBeNull();
    expect(pounds(later, (cell) => later.need.k2oLbPerAc[cell]!)).toBeGreaterThan(500);
  });

  it("one application for two crops asks how a flat addition counts, and says how far it covers", async () => {
    const alsoFor = [{ crop: "corn", yieldBuPerAc: 180, nutrients: ["K2O" as const] }];
    const asked = await thrown(worked({ field: { alsoFor } }), QuestionError);
    expect(asked.questions.map((question) => question.key)).toEqual(["addition-counts"]);
    const once = await workedField(
      { field: { alsoFor } },
      { answers: { "addition-counts": "per application" } },
    );
    const twice = await workedField({
      field: { alsoFor, nutrients: { K2O: { additionCounts: "per crop" } } },
    });
    const one = await workedField();
    const cell = inside(one).find((i) => one.maps.K!.estimate[i]! > 121 && one.maps.K!.estimate[i]! < 165)!;
    // Removal 1.15 x 55 and 0.20 x 180 lb K2O, and 20 lb once or twice (agronomy.md: from memory; read).
    expect(one.need.k2oLbPerAc[cell]).toBeCloseTo(55 * 1.15 + 20, 9);
    expect(once.need.k2oLbPerAc[cell]).toBeCloseTo(55 * 1.15 + 36 + 20, 9);
    expect(twice.need.k2oLbPerAc[cell]).toBeCloseTo(55 * 1.15 + 36 + 40, 9);
    expect(once.need.K2O.cover).toEqual({ coveredThrough: 2028, by: "this application" });
    expect(once.need.P2O5.cover.coveredThrough).toBeNull();
    expect([once, twice, one].map((field) => field.need.K2O.rule!.additionCounts)).toEqual([
      "per application",
      "per crop",
      null,
    ]);
    expect(codes(once.notices)).toEqual(
      expect.arrayContaining(["addition-counted", "build-up-of-several-years"]),
    );
  });

  it("a guide's own two-crop rate covers two seasons, of that nutrient alone", async () => {
    const icp = labCsv(SAMPLES, "id,lon,lat,P M3 ICP ppm,K M3 ppm,CEC meq/100g");
    const field = await workedField({
      files: { "lab.csv": icp },
      field: {
        ...{ guide: "iowa-2013", guideOptions: {}, crop: "corn", yieldBuPerAc: 180 },
        secondYieldBuPerAc: 55,
        nutrients: { K2O: { crop: "corn-soybean-two-year" } },
      },
    });
    expect(field.need.K2O.rule).toMatchObject({ crops: ["corn-soybean-two-year"], yearsCovered: 2 });
    expect(field.need.K2O.cover).toEqual({ coveredThrough: 2028, by: "this application" });
    expect(field.need.P2O5.cover.coveredThrough).toBeNull();
    expect(field.need.K2O.rule!.bands.map((band) => band.band)).toContain("optimum");
    const low = inside(field).find((cell) => Math.round(field.maps.K!.estimate[cell]!) <= 120)!;
    expect(field.need.k2oLbPerAc[low]).toBe(220); // very low, two years (second-hand in agronomy.md)
  });

  it("potash for two years on light soil is a notice", async () => {
    const light = SAMPLES.map(([id, lon, lat, p, k]) => [id!, lon!, lat!, p!, k!, 4]);
    const field = await workedField({
      files: { "lab.csv": labCsv(light) },
      field: {
        alsoFor: [{ crop: "corn", yieldBuPerAc: 180 }],
        nutrients: { K2O: { additionCounts: "per crop" } },
      },
    });
    expect(codes(field.notices)).toContain("low-cec-under-two-year-potash");
  });

  it("residue that leaves counts with removal", async () => {
    const one = await workedField();
    const residue = await workedField({ field: { residueLbPerAc: { K2O: 30 } } });
    const cell = inside(one).find((i) => one.maps.K!.estimate[i]! < 165)!;
    expect(residue.need.k2oLbPerAc[cell]! - one.need.k2oLbPerAc[cell]!).toBeCloseTo(30, 9);
    expect(residue.need.p2o5LbPerAc[cell]).toBe(one.need.p2o5LbPerAc[cell]);
  });
});

describe("credits", () => {
  const manure = {
    name: "slurry",
    kind: "manure",
    date: "2026-10-10",
    lbPerAc: { P2O5: 30, N: 40 },
  } as const;
  const starter = {
    name: "starter",
    kind: "starter",
    date: "2027-05-02",
    lbPerAc: { P2O5: 20, K2O: 10 },
  } as const;

  it("reduce what strip and broadcast bring, not the need; the balance holds them", async () => {
    const plain = await workedField();
    const field = await workedField({ field: { credits: [manure, starter] } });
    expect(field.need.p2o5LbPerAc).toEqual(plain.need.p2o5LbPerAc);
    const { areaAc } = field.checked;
    const [phosphate, potash] = field.balances;
    expect(phosphate!.creditsLb).toBeCloseTo(50 * areaAc, 4);
    expect(potash!.creditsLb).toBeCloseTo(10 * areaAc, 4);
    for (const cell of inside(field)) {
      const need = field.need.p2o5LbPerAc[cell]!;
      expect(field.wanted.p2o5LbPerAc[cell]).toBeCloseTo(Math.max(0, need - 50), 9);
    }
    const beyond = pounds(field, (cell) => Math.max(0, 50 - field.need.p2o5LbPerAc[cell]!));
    expect(beyond).toBeGreaterThan(10);
    expect(field.balanceReasons.P2O5.creditsBeyondNeedLb).toBeCloseTo(beyond, 6);
    expect(openBalance(field)).toBeLessThan(1e-6);
    expect(Math.abs(phosphate!.roundingLb)).toBeLessThan(0.001 * phosphate!.needLb);
    expect(field.alsoWanted.find((one) => one.nutrient === "N")!.creditsLb).toBeCloseTo(40 * areaAc, 6);
  });

  it("outside the crop year are not counted, and are named; the year can be typed", async () => {
    const old = { ...manure, date: "2026-08-30" };
    const field = await workedField({ field: { credits: [old] } });
    expect(field.balances[0]!.creditsLb).toBe(0);
    expect(codes(field.notices)).toContain("credit-outside-crop-year");
    const wider = await workedField({
      field: { credits: [old] },
      plan: { cropYear: { from: "2026-08-01", to: "2027-07-31" } },
    });
    expect(wider.balances[0]!.creditsLb).toBeGreaterThan(0);
  });
});
