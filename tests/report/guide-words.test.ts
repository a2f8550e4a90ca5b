import { expect, test } from "vitest";
import type { FieldGrid, PlanField } from "../../src/plan/index.ts";
import { cropInWords, messagesOf } from "../../src/report/guide-words.ts";

test("a sentence begins with a capital where a plain word does, and leaves names, pH and figures alone", () => {
  const said = messagesOf(
    [
      "no setbacks entered, none respected",
      "pH is read and shown; this tool makes no lime recommendation",
      "lab_m3.csv, line 7: no value for P; counted as none.",
      "soil-tests.csv does not say when it was taken",
      "grid lab.csv, line 9: 2 values for K",
      "soil tests.csv does not say when it was taken",
      "the date of lab.csv is not stated",
      "catch-up rates are added",
      "unconfirmed: 3 of the figures are from memory",
      "unconfirmed: 3 of the figures are from memory",
      "2 rows left out",
      "river bottom: the samples are old",
    ].map((message) => ({ message })),
    ["river bottom"],
  );
  expect(said).toEqual([
    "No setbacks entered, none respected.",
    "pH is read and shown; this tool makes no lime recommendation.",
    "lab_m3.csv, line 7: no value for P; counted as none.",
    "soil-tests.csv does not say when it was taken.",
    "grid lab.csv, line 9: 2 values for K.",
    "soil tests.csv does not say when it was taken.",
    "The date of lab.csv is not stated.",
    "Catch-up rates are added.",
    "Unconfirmed: 3 of the figures are from memory.",
    "2 rows left out.",
    "river bottom: the samples are old.",
  ]);
});

test("a field's crop with its goals, its later crops and the residue that is taken off", () => {
  const cells = { areaM2: Float64Array.of(100, 100, 0) } as unknown as FieldGrid;
  const of = (more: Partial<PlanField>, yields: number | Float64Array = 210) =>
    cropInWords({ field: { crop: "corn", yieldBuPerAc: 100, ...more } as PlanField, yields, cells });
  expect(of({})).toBe("corn, 210 bu/ac");
  expect(of({}, Float64Array.of(190, 230, 400))).toBe("corn, 190 to 230 bu/ac by zone");
  expect(of({}, Float64Array.of(190, 190, 400))).toBe("corn, 190 bu/ac by zone");
  expect(
    of({
      residueLbPerAc: { P2O5: 5, K2O: 30 },
      alsoFor: [{ crop: "soybean", yieldBuPerAc: 60, residueLbPerAc: { K2O: 8 }, nutrients: ["K2O"] }],
    }),
  ).toBe(
    "corn, 210 bu/ac, residue taken off with 5 lb P₂O₅ and 30 lb K₂O/ac; also for soybean, 60 bu/ac, K₂O only, residue taken off with 8 lb K₂O/ac",
  );
});
