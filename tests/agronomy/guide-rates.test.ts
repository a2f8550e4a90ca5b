import { describe, expect, test } from "vitest";
import {
  criticalLevelOf,
  type Guide,
  guideById,
  guideRemoval,
  type Nutrient,
  overrideConstants,
  recommend,
  roundToStep,
} from "../../src/agronomy/index.ts";
import { type CheckRow, checkRows, guideIdOf, methodsOf, named } from "./check-values.ts";

// Sources stand in each row of tests/data/agronomy/check-values.csv.
const rows = checkRows.filter((row) => guideIdOf[row.guide] !== undefined);

const rotations: Record<string, string> = {
  "corn-soy": "corn-soy",
  "with wheat or alfalfa": "with-wheat-or-alfalfa",
};

function guideFor(row: CheckRow): Guide {
  const guide = guideById(guideIdOf[row.guide]!);
  const { removal } = row.inputs;
  if (removal === undefined) return guide;
  const nutrient = row.nutrient.startsWith("P2O5") ? "p2o5" : "k2o";
  return overrideConstants(guide, { [`removal.${row.crop}.${nutrient}`]: Number(removal) });
}

function optionsFor(row: CheckRow, nutrient: Nutrient): Record<string, string> {
  const { rotation, previous, goal_lb: goal } = row.inputs;
  if (rotation !== undefined) return { rotation: rotations[rotation]! };
  if (previous !== undefined) return { previousCrop: previous };
  // 45 lb is the P goal of the regions of medium supply.
  return goal === "45" && nutrient === "P2O5" ? { pSupply: "medium" } : {};
}

const numberOf = (text: string | undefined): number => Number.parseFloat(text ?? "");

/** The rate by every method the row names. */
function ratesOf(
  row: CheckRow,
  nutrient: Nutrient,
): { guide: Guide; lbPerAc: number; band: string; rounded: number }[] {
  const { inputs } = row;
  const guide = guideFor(row);
  const isTwoYear = row.crop === "corn+soybean";
  const crop = isTwoYear
    ? "corn-soybean-two-year"
    : row.crop === "any" || row.crop.includes("/")
      ? "corn"
      : row.crop;
  const cec = inputs.cec === undefined ? (inputs.goal_lb === "300" ? 15 : undefined) : numberOf(inputs.cec);
  return methodsOf[inputs.test!]!.map((testMethod) => {
    const result = recommend(guide, {
      crop,
      nutrient,
      yieldBuPerAc: inputs.yield_bu === undefined ? 180 : numberOf(inputs.yield_bu),
      test: numberOf(inputs.stp_ppm ?? inputs.stk_ppm ?? inputs.stp_lb ?? inputs.stk_lb),
      testMethod,
      reading: { unit: (inputs.stp_lb ?? inputs.stk_lb) ? "lb/ac" : "ppm" },
      options: optionsFor(row, nutrient),
      ...(cec === undefined ? {} : { cecMeq: cec }),
      ...(isTwoYear ? { secondYieldBuPerAc: 55 } : {}),
    });
    return { guide, lbPerAc: result.lbPerAc, band: result.band, rounded: result.roundedLbPerAc };
  });
}

const nutrientOf = (text: string): Nutrient | undefined =>
  text.startsWith("P2O5") || text.startsWith("P ") ? "P2O5" : /^K/.test(text) ? "K2O" : undefined;

function isRate(row: CheckRow): boolean {
  return (
    /^(P2O5|K2O)( broadcast| for two years| annual.*)?$/.test(row.nutrient) &&
    methodsOf[row.inputs.test ?? ""] !== undefined
  );
}

const disputed = (row: CheckRow): boolean => row.source.startsWith("DISPUTED");
const rateRows = rows.filter((row) => isRate(row) && !disputed(row));
const bandRows = rows.filter((row) => row.nutrient === "P2O5 band");
const classRows = rows.filter((row) => /class$/.test(row.nutrient));
const criticalRows = rows.filter((row) => /critical level$/.test(row.nutrient));
const handled = new Set([...rateRows, ...bandRows, ...classRows, ...criticalRows]);

describe("rates against the check values", () => {
  test.each(named(rateRows))("%s", (_name, row) => {
    const results = ratesOf(row, nutrientOf(row.nutrient)!);
    expect(results.length).toBeGreaterThan(0);
    for (const result of results) {
      const isIowa = result.guide.id === "iowa-2013";
      if (row.inputs.round === "5") expect(result.rounded).toBe(Number(row.expected));
      else if (isIowa) expect(roundToStep(result.lbPerAc, 1)).toBe(Number(row.expected));
      // Two rows print two decimals of a figure with three.
      else expect(Math.abs(result.lbPerAc - Number(row.expected))).toBeLessThanOrEqual(0.005 + 1e-9);
    }
  });

  test.each(named(bandRows))("%s", (_name, row) => {
    for (const { guide, lbPerAc } of ratesOf(row, "P2O5")) {
      expect(lbPerAc * guide.constants[guide.bandFactor.P2O5!]!.value).toBe(Number(row.expected));
    }
  });

  test.each(named(classRows))("%s", (_name, row) => {
    for (const { band } of ratesOf(row, nutrientOf(row.nutrient)!)) expect(band).toBe(row.expected);
  });

  test.each(named(criticalRows))("%s", (_name, row) => {
    const guide = guideById(guideIdOf[row.guide]!);
    const nutrient = nutrientOf(row.nutrient)!;
    const crops = row.crop === "all" ? ["corn", "soybean", "wheat"] : row.crop.split("/");
    const method = methodsOf[row.inputs.test ?? "NH4OAc"]![0]!;
    const cec = { "<=5": 5, ">5": 5.01 }[row.inputs.cec ?? ""] ?? numberOf(row.inputs.cec);
    for (const crop of crops.filter((name) => name !== "alfalfa" || guide.criticalLevels.length > 0)) {
      const options = guide.options.some((option) => option.key === "rotation")
        ? optionsFor(row, nutrient)
        : {};
      expect(criticalLevelOf(guide, { crop, nutrient, method, cecMeq: cec, options })).toBe(
        Number(row.expected),
      );
    }
  });
});

describe("other rows of the guides covered", () => {
  const one = (guide: string, nutrient: string, match: (row: CheckRow) => boolean = () => true): CheckRow => {
    const found = rows.filter((row) => row.guide === guide && row.nutrient === nutrient && match(row));
    expect(found.length).toBe(1);
    handled.add(found[0]!);
    return found[0]!;
  };
  const at1995 = { crop: "corn", yieldBuPerAc: 150, nutrient: "P2O5", testMethod: "bray-p1" } as const;

  test("1995: 20 lb P2O5 raise the P test by 1 ppm over the four years (read)", () => {
    const guide = guideById("tri-state-1995");
    const years = Number(one("tri-state-1995", "build-up years").expected);
    const slope =
      recommend(guide, { ...at1995, test: 10 }).lbPerAc - recommend(guide, { ...at1995, test: 11 }).lbPerAc;
    expect(slope * years).toBeCloseTo(
      Number(one("tri-state-1995", "P2O5 to raise P test 1 ppm").expected),
      9,
    );
  });

  test("1995: 6 lb K2O raise the K test by 1 ppm at CEC 10 over the four years (read)", () => {
    const guide = guideById("tri-state-1995");
    const k = {
      crop: "corn",
      yieldBuPerAc: 150,
      nutrient: "K2O",
      testMethod: "ammonium-acetate",
      cecMeq: 10,
    } as const;
    const slope = recommend(guide, { ...k, test: 80 }).lbPerAc - recommend(guide, { ...k, test: 81 }).lbPerAc;
    expect(slope * 4).toBeCloseTo(Number(one("tri-state-1995", "K2O to raise K test 1 ppm").expected), 9);
  });

  test("1995: the K plateau is 30 ppm wide, then less (read)", () => {
    const guide = guideById("tri-state-1995");
    const width = Number(one("tri-state-1995", "K plateau width").expected);
    const rate = (ppm: number): number =>
      recommend(guide, {
        crop: "corn",
        yieldBuPerAc: 150,
        nutrient: "K2O",
        testMethod: "ammonium-acetate",
        cecMeq: 10,
        test: ppm,
      }).lbPerAc;
    expect(rate(100 + width)).toBe(rate(100));
    expect(rate(100 + width + 1)).toBeLessThan(rate(100));
    expect(rate(99)).toBeGreaterThan(rate(100));
  });

  test("1995: removal of 150 bu corn is 55 lb within 1 (read)", () => {
    const row = one("tri-state-1995", "P2O5 removal");
    const removal = guideRemoval(guideById("tri-state-1995"), "corn", "P2O5", 150)!;
    expect(Math.abs(removal - Number(row.expected))).toBeLessThanOrEqual(Number(row.inputs.tolerance));
  });

  test("1995: rotation K2O removal of 180 bu corn and 60 bu soybean is 220 lb of 0-0-60 within 2 (read)", () => {
    const row = one("tri-state-1995", "potash 0-0-60 equal to rotation K2O removal");
    const guide = guideById("tri-state-1995");
    const k2o = guideRemoval(guide, "corn", "K2O", 180)! + guideRemoval(guide, "soybean", "K2O", 60)!;
    expect(Math.abs(k2o / 0.6 - Number(row.expected))).toBeLessThanOrEqual(2);
  });

  test("2020: rotation P2O5 removal of 180 bu corn and 60 bu soybean is 240 lb of 18-46-0 (read)", () => {
    const row = one("tri-state-2020", "DAP 18-46-0 equal to rotation P2O5 removal");
    const guide = guideById("tri-state-2020");
    const p2o5 = guideRemoval(guide, "corn", "P2O5", 180)! + guideRemoval(guide, "soybean", "P2O5", 60)!;
    expect(Math.round(p2o5 / 0.46)).toBe(Number(row.expected));
  });

  test("2020: K2O maintenance is removal plus 20 lb (read)", () => {
    const guide = guideById("tri-state-2020");
    const addition = Number(one("tri-state-2020", "K2O maintenance add-on").expected);
    const rate = recommend(guide, {
      crop: "corn",
      yieldBuPerAc: 180,
      nutrient: "K2O",
      testMethod: "mehlich-3",
      cecMeq: 12,
      test: 150,
    });
    expect(rate.lbPerAc - guideRemoval(guide, "corn", "K2O", 180)!).toBeCloseTo(addition, 9);
  });

  test.each(["P maintenance limit", "K maintenance limit"])(
    "2020: %s (second-hand), at the limit nothing (read)",
    (what) => {
      const guide = guideById("tri-state-2020");
      const limits = rows.filter((row) => row.guide === "tri-state-2020" && row.nutrient === what);
      expect(limits.length).toBe(what.startsWith("P") ? 1 : 2);
      for (const row of limits) {
        handled.add(row);
        const cec = row.inputs.cec === "<=5" ? 5 : 6;
        const at = (ppm: number): number =>
          recommend(guide, {
            crop: "soybean",
            yieldBuPerAc: 60,
            nutrient: nutrientOf(row.nutrient)!,
            testMethod: "mehlich-3",
            cecMeq: cec,
            test: ppm,
            options: { rotation: "corn-soy" },
          }).lbPerAc;
        expect(at(Number(row.expected) - 1e-9)).toBeGreaterThan(0);
        expect(at(Number(row.expected))).toBe(0);
      }
    },
  );

  test("Illinois: 9 lb P2O5 and 4 lb K2O per lb of test, 18 lb P2O5 per ppm (second-hand)", () => {
    const guide = guideById("illinois");
    const p = {
      crop: "corn",
      yieldBuPerAc: 200,
      nutrient: "P2O5",
      testMethod: "bray-p1",
      options: { pSupply: "medium" },
    } as const;
    const k = {
      crop: "corn",
      yieldBuPerAc: 200,
      nutrient: "K2O",
      testMethod: "ammonium-acetate",
      cecMeq: 15,
    } as const;
    const lb = { reading: { unit: "lb/ac" } } as const;
    const overFourYears = (a: { lbPerAc: number }, b: { lbPerAc: number }): number =>
      (a.lbPerAc - b.lbPerAc) * 4;
    expect(
      overFourYears(recommend(guide, { ...p, ...lb, test: 30 }), recommend(guide, { ...p, ...lb, test: 31 })),
    ).toBeCloseTo(Number(one("illinois-handbook", "P2O5 to raise P test 1 lb/ac").expected), 9);
    expect(
      overFourYears(recommend(guide, { ...p, test: 15 }), recommend(guide, { ...p, test: 16 })),
    ).toBeCloseTo(Number(one("illinois-handbook", "P2O5 to raise P test 1 ppm").expected), 9);
    expect(
      overFourYears(
        recommend(guide, { ...k, ...lb, test: 200 }),
        recommend(guide, { ...k, ...lb, test: 201 }),
      ),
    ).toBeCloseTo(Number(one("illinois-handbook", "K2O to raise K test 1 lb/ac").expected), 9);
  });

  test("every row of a guide covered was used, but the disputed one", () => {
    const left = rows.filter((row) => !handled.has(row));
    expect(left.map((row) => row.source.slice(0, 8))).toEqual(["DISPUTED"]);
    expect(handled.size).toBeGreaterThan(110);
  });
});
