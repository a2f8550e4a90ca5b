// One sampling that stands in two lab tables, half of a field's samples in each.
import { describe, expect, it } from "vitest";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { sha256Hex } from "../../src/formats/index.ts";
import { type FieldResult, run } from "../../src/plan/index.ts";
import { type Change, inside, needPlan, thrown, worked, workedField } from "../support/need-plan.ts";
import { labCsv, SAMPLES, sourceOf } from "../support/small-farm.ts";

const HEADINGS = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g,Date";
const on = (date: string, rows: typeof SAMPLES) =>
  labCsv(
    rows.map((row) => [...row, date]),
    HEADINGS,
  );
/** The first four samples (P 8, 12, 22, 14: 56 together) and the other five (18, 35, 17, 26, 44: 140). */
const halves = (dates: readonly [string, string], name = "more.csv"): Change => ({
  files: { "lab.csv": on(dates[0], SAMPLES.slice(0, 4)), [name]: on(dates[1], SAMPLES.slice(4)) },
  as: { [name]: "samples" },
  field: { moreSamples: [name] },
});
const ONE_DAY = ["2026-10-20", "2026-10-20"] as const;
const TESTS = ["P", "K", "CEC"];
const each = (key: string, answer: string) =>
  Object.fromEntries(TESTS.map((test) => [`${key}.${test}`, answer]));
const ppm = (field: FieldResult) =>
  field.checked.samples.reduce((total, { P }) => total + (P === null ? 0 : P), 0);
const needs = (field: FieldResult) =>
  inside(field).flatMap((cell) => [field.need.p2o5LbPerAc[cell]!, field.need.k2oLbPerAc[cell]!]);
const told = (field: FieldResult, code: string) =>
  field.notices.filter((notice) => notice.code === code).map(({ message }) => message);

async function asked(change: Change, answers: Readonly<Record<string, string>>) {
  const { questions } = await thrown(worked(change, { answers }), QuestionError);
  return questions.map(({ key, choices, seen }) => ({ key, choices, seen }));
}

describe("a sampling in two tables", () => {
  const whole = () => workedField({ files: { "lab.csv": on("2026-10-20", SAMPLES) } });

  it("of one day: both are a choice, mixing is asked then, and the needs are those of one table", async () => {
    const change = halves(ONE_DAY);
    const choices = ["lab.csv", "more.csv", "lab.csv, more.csv"];
    const first = await asked(change, {});
    expect(first.map(({ key }) => key)).toEqual(["sampling.P", "sampling.K", "sampling.CEC"]);
    expect(first[0]!.choices).toEqual(choices);
    const both = each("sampling", "lab.csv, more.csv");
    const second = await asked(change, both);
    expect(second.map(({ key }) => key)).toEqual(TESTS.map((test) => `mix-samplings.${test}`));
    const field = await workedField(change, { answers: { ...both, ...each("mix-samplings", "yes") } });
    // 56 + 140, and nine samples.
    expect([field.maps.P!.samples, ppm(field)]).toEqual([9, 196]);
    const one = needs(await whole());
    needs(field).forEach((need, i) => {
      expect(need).toBeCloseTo(one[i]!, 9);
    });
    expect(told(field, "samplings-mixed")[0]).toBe(
      "the map of P mixes lab.csv of 2026-10-20 (4 samples) and more.csv of 2026-10-20 (5 samples)",
    );
    expect(told(field, "sampling-left-out")).toEqual([]);
  });

  it("of one day: one alone leaves the other out, which is told", async () => {
    const field = await workedField(halves(ONE_DAY), { answers: each("sampling", "more.csv") });
    expect([field.maps.P!.samples, ppm(field)]).toEqual([5, 140]);
    expect(told(field, "sampling-left-out")).toEqual(
      TESTS.map(
        (test) =>
          `${test} comes from more.csv of 2026-10-20 (5 samples); left out: lab.csv of 2026-10-20 (4 samples)`,
      ),
    );
  });

  it("a part of a table beside the whole of it: each sample counts once, told", async () => {
    const change = halves(ONE_DAY);
    const part = { ...change, files: { ...change.files, "more.csv": on(ONE_DAY[1], SAMPLES) } };
    const answers = { ...each("sampling", "lab.csv, more.csv"), ...each("mix-samplings", "yes") };
    const field = await workedField(part, { answers });
    expect([field.maps.P!.samples, ppm(field)]).toEqual([9, 196]);
    const one = needs(await whole());
    needs(field).forEach((need, i) => {
      expect(need).toBeCloseTo(one[i]!, 9);
    });
    expect(told(field, "sample-repeated")).toEqual([
      "Low Forty: 4 samples of more.csv stand in another of its tables too, with the same values; they count once",
    ]);
  });

  it("one sample with other values in the second table is refused by tables and lines", async () => {
    const change = halves(ONE_DAY);
    const other = SAMPLES.map((row, i) => (i === 1 ? row.with(3, "13") : row)) as typeof SAMPLES;
    const part = { ...change, files: { ...change.files, "more.csv": on(ONE_DAY[1], other) } };
    const answers = { ...each("sampling", "lab.csv, more.csv"), ...each("mix-samplings", "yes") };
    expect(await thrown(worked(part, { answers }), InputError)).toMatchObject({
      code: "sample-in-two-tables",
      message: "Low Forty: lab.csv, line 3, and more.csv, line 3, stand at one place with P 12 and 13",
    });
  });

  it("a day apart: the newest is used, the notice names the answer for both, and that mixing alone mixes nothing", async () => {
    const change = halves(["2026-10-20", "2026-10-21"]);
    const newest = await workedField(change, { answers: { "mix-samplings.P": "yes" } });
    expect([newest.maps.P!.samples, ppm(newest)]).toEqual([5, 140]);
    const [ofP, ofK] = told(newest, "newest-sampling-used");
    expect(ofP).toMatch(
      /\(5 samples; lab\.csv of 2026-10-20: 4\); mix-samplings\.P mixes nothing while one is used; .*"sampling\.P=more\.csv, lab\.csv"/,
    );
    expect(ofK).toMatch(/: 4\); where they are one sampling, .*"sampling\.K=more\.csv, lab\.csv"/);
    const answers = { ...each("sampling", "more.csv, lab.csv"), ...each("mix-samplings", "yes") };
    const both = await workedField(change, { answers });
    expect([both.maps.P!.samples, ppm(both)]).toEqual([9, 196]);
  });

  it("names stand with or without a blank, a file's own comma is no border, and a name that is nowhere is asked", async () => {
    const mix = each("mix-samplings", "yes");
    const odd = halves(ONE_DAY, "b, 2.csv");
    for (const names of ["b, 2.csv,lab.csv", " lab.csv , b, 2.csv"]) {
      const field = await workedField(odd, { answers: { ...each("sampling", names), ...mix } });
      expect([field.maps.P!.samples, ppm(field)]).toEqual([9, 196]);
    }
    const wrong = { ...each("sampling", "lab.csv, more.csv"), "sampling.K": "lab.csv, mor.csv", ...mix };
    expect(await asked(halves(ONE_DAY), wrong)).toEqual([
      {
        key: "sampling.K",
        choices: ["lab.csv", "more.csv", "lab.csv, more.csv"],
        seen: "not there: mor.csv",
      },
    ]);
  });

  it("an answer that names tables of another field alone leaves this one as it is", async () => {
    const { plan, files } = needPlan(halves(ONE_DAY));
    const field = plan.fields[0]!;
    const shape = new TextDecoder().decode(files.get(field.boundary[0]!.source)!);
    const far = SAMPLES.map(([id, lon, lat, ...tests]) => [id!, Number(lon) + 0.01, lat!, ...tests]);
    const added = {
      "far.geojson": shape.replaceAll(/-93\.\d+/g, (lon) => String(Number(lon) + 0.01)),
      "far.csv": on("2026-10-20", far),
      "far-old.csv": on("2024-10-20", far),
    };
    const sources = Object.entries(added).map(([path, text]) => {
      files.set(path, new TextEncoder().encode(text));
      const as = path.endsWith("csv") ? ("samples" as const) : ("boundary" as const);
      return { path, as, sha256: sha256Hex(files.get(path)!), answers: {} };
    });
    const boundary = field.boundary.map((one) => ({ ...one, source: "far.geojson" }));
    const tables = { samples: "far.csv", moreSamples: ["far-old.csv"] };
    const two = {
      ...plan,
      sources: [...plan.sources, ...sources],
      fields: [field, { ...field, id: "far", name: "Far", boundary, ...tables }],
    };
    const answers = { ...each("sampling", "lab.csv, more.csv"), ...each("mix-samplings", "yes") };
    const { fields } = await run(two, sourceOf(files), { files: "later", answers });
    expect(fields.map((one) => [one.field.id, one.maps.P!.samples])).toEqual([
      [field.id, 9],
      ["far", 9],
    ]);
    expect(fields[1]!.checked.samplings.map(({ id, usedFor }) => [id, usedFor.length])).toEqual([
      ["far.csv", 3],
      ["far-old.csv", 0],
    ]);
  });

  it("denied the mixing, it is asked again which", async () => {
    const answers = { ...each("sampling", "lab.csv, more.csv"), ...each("mix-samplings", "no") };
    expect((await asked(halves(ONE_DAY), answers)).map(({ key }) => key)).toEqual(
      TESTS.map((test) => `sampling.${test}`),
    );
  });
});
