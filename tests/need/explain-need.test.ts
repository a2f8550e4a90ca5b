import { describe, expect, test } from "vitest";
import { guideById, ownGuide } from "../../src/agronomy/index.ts";
import { QuestionError } from "../../src/errors/index.ts";
import { explainNeed } from "../../src/need/index.ts";

// Figures: tests/data/agronomy/check-values.csv (2020: 180 bu corn, P 10 ppm 113 lb; K 90 ppm at CEC 12 104 lb).
const input = {
  crop: "corn",
  yieldBuPerAc: 180,
  p: { value: 10, method: "mehlich-3" },
  k: { value: 90, method: "mehlich-3" },
  cecMeq: 12,
  options: { rotation: "corn-soy" },
} as const;

describe("explainNeed", () => {
  test("both nutrients, the steps, the status, notices said once", () => {
    const need = explainNeed(guideById("tri-state-2020"), input);
    expect(need).toMatchObject({ guide: "tri-state-2020", crop: "corn", status: "unconfirmed" });
    expect(need.p2o5?.lbPerAc).toBeCloseTo(113, 9);
    expect(need.k2o?.lbPerAc).toBeCloseTo(104, 9);
    expect(need.p2o5?.roundedLbPerAc).toBe(113);
    expect(need.k2o?.steps[0]).toBe(
      "Critical level 120 ppm (CEC 12 is above 5); the test, 90 ppm K, is below it.",
    );
    const texts = need.notices.map((notice) => JSON.stringify(notice));
    expect(new Set(texts).size).toBe(texts.length);
    expect(need.notices.filter((notice) => notice.code === "test-assumed")).toHaveLength(2);
  });

  test("a nutrient without a test is left out, its options are not asked", () => {
    const { p: _p, options: _options, ...onlyK } = input;
    const need = explainNeed(guideById("tri-state-2020"), onlyK);
    expect(need.p2o5).toBeUndefined();
    expect(need.k2o?.lbPerAc).toBeCloseTo(104, 9);
  });

  test("no test at all is refused", () => {
    expect(() => explainNeed(guideById("tri-state-2020"), { crop: "corn", yieldBuPerAc: 180 })).toThrow(
      /neither a P nor a K test/,
    );
  });

  test("open options of both nutrients come as one question each, once", () => {
    const ask = (): unknown =>
      explainNeed(guideById("kansas-build-maintain"), {
        crop: "corn",
        yieldBuPerAc: 150,
        p: { value: 10, method: "bray-p1" },
        k: { value: 90, method: "mehlich-3" },
      });
    expect(ask).toThrow(QuestionError);
    try {
      ask();
    } catch (error) {
      expect((error as QuestionError).questions.map((question) => question.key)).toEqual(["option.years"]);
    }
  });

  test("status: confirmed by a comparison, own for the user's table", () => {
    const confirmation = { by: "A. Adviser", page: "table 4", date: "2026-02-01" };
    expect(explainNeed(guideById("tri-state-2020"), { ...input, confirmation }).status).toBe("confirmed");
    const own = ownGuide({
      id: "own-table",
      name: "Ours",
      tables: [{ test: "P", crop: "corn", method: "olsen", belowPpm: [10], lbPerAc: [40, 0] }],
    });
    const need = explainNeed(own, { crop: "corn", yieldBuPerAc: 180, p: { value: 10, method: "olsen" } });
    expect([need.status, need.p2o5?.lbPerAc]).toEqual(["own", 0]);
  });
});
