import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { readPlan } from "../../src/plan/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";

const bytesOf = (more: object): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ ...seasonPlanDocument(), ...more }));
const season = seasonPlanDocument().season!;

describe("days from one to another", () => {
  it.each([
    [
      "cropYear",
      { cropYear: { from: "2027-08-31", to: "2026-09-01" } },
      /before from; it has "2026-09-01"\n.*at cropYear\.to/,
    ],
    [
      "workable days",
      { season: { ...season, workableDays: [{ from: "2027-04-30", to: "2027-04-10", daysPerWeek: 4 }] } },
      /before from; it has "2027-04-10"\n.*at season\.workableDays\[0\]\.to/,
    ],
    [
      "humidity",
      {
        season: {
          ...season,
          humidity: [{ from: "2027-04-30", to: "2027-04-10", morningPercent: 80, afternoonPercent: 60 }],
        },
      },
      /before from; it has "2027-04-10"\n.*at season\.humidity\[0\]\.to/,
    ],
  ])("the wrong way round are refused: %s", (_, more, words) => {
    expect(() => readPlan(bytesOf(more), "plan.json")).toThrow(InputError);
    expect(() => readPlan(bytesOf(more), "plan.json")).toThrow(words);
  });

  it("of one day alone are taken", () => {
    const day = { from: "2027-04-10", to: "2027-04-10" };
    expect(readPlan(bytesOf({ cropYear: day }), "plan.json").cropYear).toEqual(day);
  });
});
