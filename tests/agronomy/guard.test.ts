import { describe, expect, test } from "vitest";
import { conversionById, convertTest, guideById, recommend } from "../../src/agronomy/index.ts";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { checkRows } from "./check-values.ts";

type Input = Parameters<typeof recommend>[1];
const base: Input = {
  crop: "corn",
  nutrient: "P2O5",
  yieldBuPerAc: 180,
  test: 22,
  testMethod: "mehlich-3",
  options: {},
};
const run = (guide: string, input: Partial<Input>): ReturnType<typeof recommend> =>
  recommend(guideById(guide), { ...base, ...input });

function refusal(guide: string, input: Partial<Input>): InputError {
  try {
    run(guide, input);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("was not refused");
}
const codes = (result: { notices: readonly { code: string }[] }): string[] =>
  result.notices.map((notice) => notice.code);

describe("refusals say what is wrong and what to do", () => {
  test("crop and nutrient are never borrowed", () => {
    const crop = refusal("nebraska", { crop: "soybean", testMethod: "bray-p1" });
    expect(crop.code).toBe("crop-not-in-guide");
    expect(crop.message).toContain("no rule for soybean; it has corn");
    const nutrient = refusal("kansas-sufficiency", { crop: "soybean", testMethod: "bray-p1" });
    expect([nutrient.code, nutrient.message]).toEqual([
      "nutrient-not-in-guide",
      "Kansas, sufficiency (kansas-sufficiency) has no P2O5 rule for soybean; its P2O5 rules are for corn",
    ]);
    expect(nutrient.remedy).toContain("no rule is borrowed");
  });

  test("a mismatch of extractant lists other guides, conversions with region, a typed critical level", () => {
    const error = refusal("tri-state-1995", { testMethod: "mehlich-3-icp" });
    expect(error.code).toBe("test-method-mismatch");
    expect(error.message).toContain("reads corn P2O5 from Bray P1; the test is Mehlich-3 read by ICP");
    expect(error.remedy).toContain("iowa-2013");
    expect(error.remedy).toContain("tri-state-2020");
    expect(error.remedy).toContain("ohio-icp-to-bray-line (Ohio, read)");
    expect(error.remedy).toContain("tri-state-mehlich-3-to-bray-ratio");
    expect(error.remedy).toContain("type a critical level");
    expect(
      refusal("tri-state-1995", { nutrient: "K2O", testMethod: "mehlich-3", cecMeq: 10 }).remedy,
    ).toContain("tri-state-mehlich-3-to-acetate-ratio");
  });

  test("Mehlich-3 without its finish is refused where the guide has a range for each", () => {
    for (const guide of ["iowa-2013", "kansas-sufficiency", "kansas-build-maintain"]) {
      expect(refusal(guide, guide === "kansas-build-maintain" ? { options: { years: "4" } } : {}).code).toBe(
        "finish-not-stated",
      );
    }
  });

  test("dried and moist K are never mixed", () => {
    expect(
      refusal("tri-state-2020", { nutrient: "K2O", testMethod: "mehlich-3-moist", cecMeq: 10 }).code,
    ).toBe("test-method-mismatch");
    expect(run("iowa-2013", { nutrient: "K2O", test: 100, testMethod: "mehlich-3-moist" }).band).toBe(
      "optimum",
    );
    expect(run("iowa-2013", { nutrient: "K2O", test: 100, testMethod: "mehlich-3" }).band).toBe("very low");
  });

  test("a test reported as oxide, an unknown method, a method of the other nutrient", () => {
    expect(refusal("tri-state-2020", { reading: { basis: "oxide" } }).code).toBe("test-as-oxide");
    expect(refusal("tri-state-2020", { testMethod: "morgan" }).message).toBe(
      '"morgan" is no test method for P',
    );
    expect(refusal("tri-state-2020", { testMethod: "ammonium-acetate" }).code).toBe("unknown-test-method");
  });

  test("options: asked only where needed, unknown ones refused", () => {
    const ask = (): unknown => run("tri-state-2020", {});
    expect(ask).toThrow(QuestionError);
    try {
      ask();
    } catch (error) {
      expect((error as QuestionError).questions[0]).toMatchObject({
        key: "option.rotation",
        choices: ["corn-soy", "with-wheat-or-alfalfa"],
      });
    }
    expect(run("tri-state-2020", { nutrient: "K2O", cecMeq: 12, test: 140 }).lbPerAc).toBeCloseTo(56, 9);
    expect(refusal("tri-state-2020", { options: { years: "4" } }).code).toBe("unknown-option");
    expect(refusal("tri-state-2020", { options: { rotation: "corn-corn" } }).code).toBe(
      "unknown-option-value",
    );
    expect(
      refusal("south-dakota", { testMethod: "olsen", options: { rotation: "corn-soy" } }).remedy,
    ).toContain("no options");
  });

  test("yield, test and CEC must be usable", () => {
    const options = { rotation: "corn-soy" };
    expect(refusal("tri-state-2020", { options, yieldBuPerAc: 0 }).code).toBe("yield-not-usable");
    expect(refusal("tri-state-2020", { options, test: -1 }).code).toBe("test-not-usable");
    expect(refusal("tri-state-2020", { options, test: Number.NaN }).code).toBe("test-not-usable");
    expect(refusal("tri-state-2020", { nutrient: "K2O" }).code).toBe("cec-missing");
    expect(refusal("iowa-2013", { crop: "corn-soybean-two-year", nutrient: "K2O", test: 100 }).code).toBe(
      "second-yield-missing",
    );
    expect(() => guideById("tri-state-2010")).toThrow(/there is no guide "tri-state-2010"/);
  });
});

describe("opt-in conversions", () => {
  const row = (nutrient: string): number =>
    Number(checkRows.find((entry) => entry.guide === "conversion" && entry.nutrient === nutrient)!.expected);
  const line = conversionById("ohio-icp-to-bray-line");
  const ratio = conversionById("tri-state-mehlich-3-to-bray-ratio");

  test("Ohio line: 22 ppm by ICP is 10 ppm Bray P1; clamped at nothing below about 10 ppm (read)", () => {
    expect(Math.round(convertTest(line, 22))).toBe(row("Mehlich3-ICP P to Bray P1"));
    expect(convertTest(line, 9.7)).toBe(0);
  });

  test("ratios of the Ohio fact sheet ANR-75: 1.35 for P, 1.14 for K (read)", () => {
    expect(convertTest(conversionById("tri-state-bray-to-mehlich-3-ratio"), 1)).toBe(
      row("Mehlich3 P / Bray P1 ratio"),
    );
    expect(convertTest(conversionById("tri-state-acetate-to-mehlich-3-ratio"), 1)).toBe(
      row("Mehlich3 K / NH4OAc K ratio"),
    );
    expect(convertTest(ratio, 22)).toBeCloseTo(16.296, 3);
    expect(convertTest(conversionById("tri-state-mehlich-3-to-acetate-ratio"), 114)).toBeCloseTo(100, 9);
  });

  test("the two Ohio rules disagree: the notice shows both, the steps show the one used", () => {
    const byLine = run("tri-state-1995", { testMethod: "mehlich-3-icp", reading: { conversion: line.id } });
    const byRatio = run("tri-state-1995", { testMethod: "mehlich-3-icp", reading: { conversion: ratio.id } });
    for (const result of [byLine, byRatio]) {
      expect(result.notices.find((notice) => notice.code === "conversion-used")?.message).toMatch(
        /22 ppm gives (10\.2|16\.3) by it and (10\.2|16\.3) by .*disagree/,
      );
    }
    expect(byLine.steps[0]).toBe(
      "22 ppm Mehlich-3 read by ICP P becomes 10.224 ppm Bray P1 by ohio-icp-to-bray-line.",
    );
    // (15 - 10.224) x 5 + 66.6, and maintenance.
    expect(byLine.lbPerAc).toBeCloseTo(90.48, 9);
    expect(byRatio.lbPerAc).toBeCloseTo(66.6, 9);
  });

  test("a conversion from another region is said, one that does not fit or is not needed is refused", () => {
    const abroad = run("illinois", {
      testMethod: "mehlich-3-icp",
      reading: { conversion: line.id },
      options: { pSupply: "low" },
    });
    expect(codes(abroad)).toContain("conversion-other-region");
    // 10.224 ppm = 20.448 lb: (50 - 20.448) x 9 / 4 + 66.6
    expect(abroad.lbPerAc).toBeCloseTo((50 - 20.448) * 2.25 + 66.6, 9);
    expect(refusal("tri-state-2020", { testMethod: "olsen", reading: { conversion: line.id } }).code).toBe(
      "conversion-does-not-fit",
    );
    expect(refusal("tri-state-1995", { testMethod: "bray-p1", reading: { conversion: line.id } }).code).toBe(
      "conversion-not-needed",
    );
    expect(refusal("tri-state-1995", { testMethod: "olsen", reading: { conversion: "x" } }).code).toBe(
      "unknown-conversion",
    );
  });

  test("a critical level typed for another test moves the ranges above it along", () => {
    const own = { testMethod: "olsen", reading: { ownCriticalLevelPpm: 10 } } as const;
    const below = run("tri-state-1995", { ...own, test: 8 });
    expect(below.lbPerAc).toBeCloseTo(2 * 5 + 66.6, 9);
    expect(codes(below)).toContain("critical-level-typed");
    expect(run("tri-state-1995", { ...own, test: 25 }).band).toBe("maintenance");
    expect(run("tri-state-1995", { ...own, test: 35 }).lbPerAc).toBe(0);
    expect(refusal("iowa-2013", { testMethod: "mehlich-3", reading: { ownCriticalLevelPpm: 20 } }).code).toBe(
      "critical-level-does-not-fit",
    );
  });
});

test("a critical level typed for the test as reported goes the way of the conversion with it", () => {
  const id = "nebraska-olsen-to-bray"; // Bray P1 = 1.5 x Olsen
  const options = { previousCrop: "corn" };
  const olsen = (test: number) =>
    run("nebraska", {
      options,
      testMethod: "olsen",
      test,
      reading: { conversion: id, ownCriticalLevelPpm: 10 },
    });
  const bray = run("nebraska", {
    options,
    testMethod: "bray-p1",
    test: 12,
    reading: { ownCriticalLevelPpm: 15 },
  });
  expect(olsen(8).band).toBe("below critical");
  expect(olsen(8).lbPerAc).toBeCloseTo(bray.lbPerAc, 9);
  expect(olsen(10.1).band).toBe("none");
  const typed = olsen(8).notices.find(({ code }) => code === "critical-level-typed")!;
  expect(typed.message).toBe(
    `the critical level of 10 ppm was typed by the user in place of the guide's; by ${id} it is 15 ppm`,
  );
});

describe("unit and depth", () => {
  test("lb/ac is twice ppm: 60 lb is 30 ppm (read), with a notice", () => {
    const row = checkRows.find((entry) => entry.nutrient === "soil test lb/ac to ppm")!;
    const input = {
      options: { rotation: "corn-soy" },
      test: Number(row.inputs.lb_ac),
      reading: { unit: "lb/ac" },
    } as const;
    expect(run("tri-state-2020", input).lbPerAc).toBe(
      run("tri-state-2020", { ...input, test: Number(row.expected), reading: { unit: "ppm" } }).lbPerAc,
    );
    expect(codes(run("tri-state-2020", input))).toContain("test-unit-converted");
    expect(run("tri-state-2020", input).steps[0]).toBe("60 lb/ac P is 30 ppm (1 ppm = 2 lb/ac).");
  });

  test("6, 7 and 8 in. are recorded and never a dead end", () => {
    const at = (depthIn: number): ReturnType<typeof recommend> =>
      run("tri-state-2020", {
        options: { rotation: "corn-soy" },
        reading: { unit: "ppm", basis: "element", depthIn },
      });
    expect(codes(at(8))).not.toContain("depth-differs");
    for (const depth of [6, 7]) {
      expect(codes(at(depth))).toContain("depth-differs");
      expect(at(depth).lbPerAc).toBe(at(8).lbPerAc);
    }
    expect(codes(at(8))).not.toContain("test-assumed");
    const assumed = run("tri-state-2020", { options: { rotation: "corn-soy" } }).notices.find(
      (notice) => notice.code === "test-assumed",
    );
    expect(assumed?.message).toBe("the test is taken as ppm, elemental, at the guide's own depth");
    // Where only the depth is open, it is not called the guide's.
    const open = run("tri-state-2020", {
      options: { rotation: "corn-soy" },
      reading: { unit: "ppm", basis: "element" },
    }).notices.find((notice) => notice.code === "test-assumed");
    expect(open?.message).toBe(
      "how deep the samples go is not known; the test is read as if they went to the guide's own 8 in., and is off where they did not",
    );
  });
});
