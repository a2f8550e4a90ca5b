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

  const days = { daysPerWeek: 4 };
  const air = { morningPercent: 80, afternoonPercent: 60 };
  it.each([
    ["workableDays", days],
    ["humidity", air],
  ])("that share a day with others are refused: %s", (key, figures) => {
    const spans = (...of: readonly (readonly [string, string])[]) =>
      bytesOf({ season: { ...season, [key]: of.map(([from, to]) => ({ from, to, ...figures })) } });
    const shared = spans(
      ["2027-05-01", "2027-05-31"],
      ["2027-04-10", "2027-04-20"],
      ["2027-04-20", "2027-04-30"],
    );
    expect(() => readPlan(shared, "plan.json")).toThrow(
      new RegExp(
        `days to 2027-04-30 that are in 2027-04-10 to 2027-04-20 too; .*; it has "2027-04-20"\\n.*at season\\.${key}\\[2\\]\\.from`,
      ),
    );
    const apart = spans(["2027-05-01", "2027-05-31"], ["2027-04-10", "2027-04-30"]);
    expect(readPlan(apart, "plan.json").season).toHaveProperty(key);
  });

  it("of one day alone are taken", () => {
    const day = { from: "2027-04-10", to: "2027-04-10" };
    expect(readPlan(bytesOf({ cropYear: day }), "plan.json").cropYear).toEqual(day);
  });
});

describe("planters", () => {
  const with2 = (...planters: readonly object[]) =>
    bytesOf({
      season: {
        ...season,
        planters: planters.map((one) => ({ acPerDay: 100, startsOn: "2027-04-20", ...one })),
      },
    });

  it("of one id, or with a field in common, are refused", () => {
    const fields = ["low-forty"];
    expect(() =>
      readPlan(with2({ id: "corn", fields }, { id: "corn", fields: undefined }), "plan.json"),
    ).toThrow(/season\.planters has two that are called “corn”/);
    expect(() => readPlan(with2({ id: "corn", fields }, { id: "beans", fields }), "plan.json")).toThrow(
      /planter corn and planter beans both name the field “low-forty”, which would be planted twice/,
    );
    expect(() => readPlan(with2({ id: "corn", fields }), "plan.json")).not.toThrow();
  });
});
