import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, test } from "vitest";
import {
  cautions,
  guideById,
  guideIds,
  guideStatus,
  guides,
  overrideConstants,
  readGuide,
  recommend,
} from "../../src/agronomy/index.ts";

const folder = resolve(import.meta.dirname, "../../src/agronomy/guides");
const files = readdirSync(folder);
const parse = (file: string): Record<string, unknown> =>
  JSON.parse(readFileSync(resolve(folder, file), "utf8"));

describe("guide files", () => {
  test.each(files)("%s fits the schema; every figure has a source, is named and is used", (file) => {
    const guide = readGuide(parse(file), file);
    expect(`${guide.id}.json`).toBe(file);
    expect(guideById(guide.id)).toEqual(guide);
  });

  test("one file a guide and no guide missing", () => {
    expect(files.map((file) => file.replace(".json", "")).sort()).toEqual(guideIds().sort());
  });

  test("a fault in a file is named with its path", () => {
    const broken = parse("nebraska.json");
    expect(() => readGuide({ ...broken, depthIn: "8 in." }, "x.json")).toThrow(/x\.json.*depthIn/s);
    expect(() => readGuide({ ...broken, sources: {} }, "x.json")).toThrow(/names the source/);
    expect(() => readGuide({ ...broken, constants: {} }, "x.json")).toThrow(/is used and not given/);
    const stray = {
      ...(broken.constants as object),
      stray: { value: 1, unit: "-", what: "x", source: "ec117", status: "read" },
    };
    expect(() => readGuide({ ...broken, constants: stray }, "x.json")).toThrow(/stray is used by no rule/);
    expect(() => readGuide({ ...broken, colour: "red" }, "x.json")).toThrow(/colour/);
  });

  test("every rule can be compiled and run with every answer of its options", () => {
    let runs = 0;
    for (const guide of guides) {
      for (const rule of guide.rules) {
        const answers = guide.options[0]?.choices.map((choice) => ({ [guide.options[0]!.key]: choice })) ?? [
          {},
        ];
        for (const options of answers) {
          for (const testMethod of rule.methods) {
            const result = recommend(guide, {
              crop: rule.crop,
              nutrient: rule.nutrient,
              yieldBuPerAc: 100,
              secondYieldBuPerAc: 50,
              test: 10,
              testMethod,
              cecMeq: 10,
              options,
            });
            expect(result.lbPerAc).toBeGreaterThan(0);
            expect(result.steps.join(" ")).not.toMatch(/NaN|undefined|Infinity/);
            runs += 1;
          }
        }
      }
    }
    expect(runs).toBeGreaterThan(60);
  });
});

describe("status", () => {
  test("every published guide here has figures from memory: unconfirmed until somebody enters a comparison", () => {
    const confirmation = { by: "A. Adviser", page: "table 4, page 12", date: "2026-02-01" };
    for (const guide of guides) {
      expect(guideStatus(guide)).toBe("unconfirmed");
      expect(guideStatus(guide, confirmation)).toBe("confirmed");
    }
  });

  test("the notice lists the recalled figures in use, and goes with a confirmation", () => {
    const input = {
      crop: "corn",
      nutrient: "P2O5",
      yieldBuPerAc: 180,
      test: 30,
      testMethod: "mehlich-3",
      options: { rotation: "corn-soy" },
    } as const;
    const guide = guideById("tri-state-2020");
    const notice = recommend(guide, input).notices.find((entry) => entry.code === "guide-unconfirmed");
    expect(notice?.message).toContain("removal.corn.p2o5");
    expect(notice?.message).not.toContain("k2o");
    const confirmed = recommend(guide, {
      ...input,
      confirmation: { by: "A", page: "1", date: "2026-02-01" },
    });
    expect(confirmed.notices.map((entry) => entry.code)).not.toContain("guide-unconfirmed");
  });

  test("the 1995 build-up of P is all read: its notice names only the ranges above it", () => {
    const result = recommend(guideById("tri-state-1995"), {
      crop: "corn",
      nutrient: "P2O5",
      yieldBuPerAc: 140,
      test: 10,
      testMethod: "bray-p1",
    });
    const notice = result.notices.find((entry) => entry.code === "guide-unconfirmed");
    expect(notice?.message).toContain("(p.plateau, p.to-zero)");
  });

  test("superseded guides say by what", () => {
    const superseded = guides.filter((guide) => guide.supersededBy !== null).map((guide) => guide.id);
    expect(superseded).toEqual(["tri-state-1995", "iowa-2013"]);
    const result = recommend(guideById("iowa-2013"), {
      crop: "corn",
      nutrient: "P2O5",
      yieldBuPerAc: 180,
      test: 8,
      testMethod: "olsen",
    });
    expect(result.notices.find((entry) => entry.code === "guide-superseded")?.message).toContain("2023");
  });
});

describe("overriding a figure", () => {
  const guide = guideById("tri-state-2020");
  const input = {
    crop: "soybean",
    nutrient: "P2O5",
    yieldBuPerAc: 60,
    test: 30,
    testMethod: "mehlich-3",
    options: { rotation: "corn-soy" },
  } as const;

  test("changes the rate, keeps the published figure beside it and shows both", () => {
    const own = overrideConstants(guide, { "removal.soybean.p2o5": 0.75 });
    const result = recommend(own, input);
    expect(result.lbPerAc).toBe(45);
    expect(own.constants["removal.soybean.p2o5"]).toMatchObject({
      value: 0.75,
      published: 0.79,
      status: "typed",
    });
    expect(result.notices.find((entry) => entry.code === "guide-overridden")?.message).toContain(
      "0.75 (guide 0.79)",
    );
    expect(guide.constants["removal.soybean.p2o5"]!.value).toBe(0.79);
  });

  test("twice keeps the guide's own figure; a figure not in use raises no notice", () => {
    const own = overrideConstants(overrideConstants(guide, { "removal.corn.p2o5": 0.4 }), {
      "removal.corn.p2o5": 0.41,
    });
    expect(own.constants["removal.corn.p2o5"]!.published).toBe(0.35);
    expect(recommend(own, input).notices.map((entry) => entry.code)).not.toContain("guide-overridden");
  });

  test("an unknown figure and one that is no number are refused", () => {
    expect(() => overrideConstants(guide, { "removal.barley.p2o5": 1 })).toThrow(
      /no figure "removal.barley.p2o5"/,
    );
    expect(() => overrideConstants(guide, { "k.addition": Number.NaN })).toThrow(
      /cannot stand for k.addition/,
    );
  });
});

test("every caution has a place, a text, a status and a source, and its own id", () => {
  expect(new Set(cautions.map((caution) => caution.id)).size).toBe(cautions.length);
  expect(
    cautions.every((caution) => caution.text.length > 20 && caution.source !== "" && caution.place !== ""),
  ).toBe(true);
  expect(cautions.map((caution) => caution.id)).toContain("no-lime");
});
