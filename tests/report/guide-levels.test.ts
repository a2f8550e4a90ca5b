import { beforeAll, describe, expect, test } from "vitest";
import { conversionsBetween, convertTest, guideById, recommend } from "../../src/agronomy/index.ts";
import type { FieldResult, PlanField, RunResult } from "../../src/plan/index.ts";
import {
  classOf,
  criticalLevel,
  type DrawnField,
  layerOf,
  oddsBelowCritical,
} from "../../src/report/index.ts";
import { runSample } from "./run-sample.ts";

let result: RunResult;
let field: FieldResult;

beforeAll(async () => {
  result = await runSample("home-farm", ["west-heron"]);
  field = result.fields[0]!;
});

/** The same tests, as if they were read by another guide. */
function under(guide: string, methods: { P: string; K: string }, crop: string): DrawnField {
  const { guideOptions: _, ...rest } = field.field;
  return { ...field, field: { ...rest, guide, crop }, checked: { ...field.checked, methods } };
}

describe("classes of a guide that gives a rate a class", () => {
  test("every cell's class has the name that the guide gives its test", () => {
    const methods = { P: "mehlich-3-icp", K: "mehlich-3" };
    const drawn = under("iowa-2013", methods, "corn");
    const guide = guideById("iowa-2013");
    for (const test of ["P", "K"] as const) {
      const { classes, values } = layerOf(result.plan, drawn, `soil/${test}`);
      expect(classes.names.length).toBe(classes.labels.length);
      const seen = new Set<string>();
      for (let i = 0; i < values.length; i += 11) {
        if (Number.isNaN(values[i]!)) continue;
        const { band } = recommend(guide, {
          crop: "corn",
          yieldBuPerAc: 180,
          nutrient: test === "P" ? "P2O5" : "K2O",
          test: values[i]!,
          testMethod: methods[test],
        });
        const name = classes.names[classOf(classes.limits, values[i]!)];
        expect(name, `${test} ${values[i]}`).toBe(band);
        seen.add(band);
      }
      expect(seen.size).toBeGreaterThan(1);
    }
  });

  test("the user's own limits are the classes, without made-up names", () => {
    const tables = [
      { test: "P", crop: "corn", method: "mehlich-3-icp", belowPpm: [10, 20], lbPerAc: [90, 50, 0] },
      { test: "K", crop: "corn", method: "mehlich-3", belowPpm: [120], lbPerAc: [100, 0] },
    ] as const;
    const plan = { ...result.plan, ownGuides: [{ id: "own", name: "Own", tables }] };
    const drawn = under("own", { P: "mehlich-3-icp", K: "mehlich-3" }, "corn");
    const { classes } = layerOf(plan, drawn, "soil/P");
    expect(classes).toMatchObject({
      limits: [10, 20],
      labels: ["under 10", "10–19", "20 and over"],
      names: [],
    });
  });
});

describe("the critical level", () => {
  // Tri-State 1995 (E-2567): the K critical level is 75 + 2.5 x CEC ppm, all crops.
  test("follows the CEC cell by cell where the guide says so", () => {
    const drawn = under("tri-state-1995", { P: "bray-p1", K: "ammonium-acetate" }, "corn");
    const level = criticalLevel(result.plan, drawn, "K")!;
    const cec = field.maps.CEC!.estimate;
    expect(level.everywhere).toBeNull();
    expect(level.text).toMatch(/^\d+ to \d+ ppm by CEC$/);
    field.cells.areaM2.forEach((areaM2, i) => {
      if (areaM2 > 0) expect(level.ppm[i]).toBeCloseTo(75 + 2.5 * cec[i]!, 9);
      else expect(level.ppm[i]).toBeNaN();
    });
  });

  // Tri-State 2020: Mehlich-3 P critical level 20 ppm for corn and soybean (Ohio State page on soil tests below 50 ppm).
  test("is one level where the guide has one, and a limit of the classes", () => {
    expect(field.field.guide).toBe("tri-state-2020");
    const layer = layerOf(result.plan, field, "soil/P");
    expect(layer.critical).toMatchObject({ everywhere: 20, text: "20 ppm" });
    if (layer.least < 20 && layer.most > 20) expect(layer.classes.limits).toContain(20);
  });

  test("is null for CEC and where the guide does not know the crop", () => {
    expect(criticalLevel(result.plan, field, "CEC")).toBeNull();
    const drawn = under("tri-state-2020", { P: "mehlich-3-icp", K: "mehlich-3" }, "sugarbeet");
    expect(criticalLevel(result.plan, drawn, "P")).toBeNull();
  });
});

test("odds add up to the field's acres, and without variance every cell is likely one or the other", () => {
  for (const test of ["P", "K"] as const) {
    const odds = oddsBelowCritical(result.plan, field, test)!;
    const tenths = [odds.likelyBelowAc, odds.cannotSayAc, odds.likelyAboveAc].map((ac) =>
      Math.round(ac * 10),
    );
    expect(tenths.reduce((all, part) => all + part, 0)).toBe(Math.round(field.checked.areaAc * 10));
    const map = field.maps[test]!;
    const sure = { ...map, variance: map.variance.map(() => 0) };
    const certain = oddsBelowCritical(
      result.plan,
      { ...field, maps: { ...field.maps, [test]: sure } },
      test,
    )!;
    expect(certain.cannotSayAc).toBe(0);
    expect(certain.likelyBelowAc).toBeGreaterThanOrEqual(odds.likelyBelowAc);
  }
});

describe("what the plan says of a guide", () => {
  const methods = { P: "mehlich-3-icp", K: "mehlich-3" };
  const with2020 = (nutrients: PlanField["nutrients"]): DrawnField => {
    const drawn = under("tri-state-2020", methods, "corn");
    return {
      ...drawn,
      field: { ...drawn.field, guideOptions: { rotation: "corn-soy" }, ...(nutrients ? { nutrients } : {}) },
    };
  };

  test("figures put in place of its own move the level and the contour", () => {
    const drawn = with2020(undefined);
    expect(criticalLevel(result.plan, drawn, "P")!.everywhere).toBe(20);
    const plan = {
      ...result.plan,
      guides: [{ id: "tri-state-2020", constants: { "p.critical.corn-soy": 25 } }],
    };
    expect(criticalLevel(plan, drawn, "P")!.everywhere).toBe(25);
    const layer = layerOf(plan, drawn, "soil/P");
    expect(layer.critical).toMatchObject({ everywhere: 25, text: "25 ppm" });
    if (layer.least < 25 && layer.most > 25) expect(layer.classes.limits).toContain(25);
  });

  test("another guide for one nutrient gives that nutrient's level and leaves the other's", () => {
    const own = {
      id: "own",
      name: "Own",
      tables: [{ test: "P", crop: "corn", method: "mehlich-3-icp", belowPpm: [31], lbPerAc: [60, 0] }],
    } as const;
    const plan = { ...result.plan, ownGuides: [own] };
    const drawn = with2020({ P2O5: { guide: "own" } });
    expect(layerOf(plan, drawn, "soil/P").classes.limits).toEqual([31]);
    expect(criticalLevel(plan, drawn, "K")).toEqual(criticalLevel(result.plan, with2020(undefined), "K"));
  });

  // ANR-75: Bray P1 = 1.13 x Mehlich-3 ICP - 14.7 would put 15 ppm Bray at 26.3; the file's own figures are used here.
  test("under a conversion the level stands in ppm of the test as the lab reports it", () => {
    const conversion = conversionsBetween("mehlich-3-icp", ["bray-p1"]).find(
      (one) => one.interceptPpm !== 0,
    )!;
    const drawn = under("tri-state-1995", methods, "corn");
    const converted = {
      ...drawn,
      field: { ...drawn.field, nutrients: { P2O5: { conversion: conversion.id } } },
    };
    const level = criticalLevel(result.plan, converted, "P")!.everywhere!;
    expect(convertTest(conversion, level)).toBeCloseTo(15, 9);
    const typed = { ...drawn, field: { ...drawn.field, nutrients: { P2O5: { criticalLevelPpm: 27.5 } } } };
    expect(criticalLevel(result.plan, typed, "P")!.everywhere).toBe(27.5);
  });
});
