import { describe, expect, test } from "vitest";
import type { FieldResult } from "../../src/plan/index.ts";
import { readPlan } from "../../src/plan/index.ts";
import { workedField } from "../support/need-plan.ts";
import { smallPlan } from "../support/small-farm.ts";
import { bins, rig, split, work } from "../support/split-plan.ts";

/** The small farm with a least of its own for the meter of 11-52-0, lb/min; none when left out. */
const withLeast = (meterMinLbPerMin?: number, most: "field-mean" | "most-in-a-cell" = "field-mean") =>
  workedField({
    plan: {
      split: split({ capLbPerAc: 120, capBasis: most }),
      rig: rig(
        bins(
          { product: "11-52-0", ...(meterMinLbPerMin === undefined ? {} : { meterMinLbPerMin }) },
          "0-0-60",
        ),
        { work },
      ),
    },
  });
const rates = (field: FieldResult) => field.prescriptions.find(({ pass }) => pass === "strip")!.rateLbPerAc;
const said = (field: FieldResult, code: string) =>
  field.notices.filter((notice) => notice.code === code).map(({ message }) => message);

/** lb raised and left out, from the maps of two runs; and the mean of both products over the field's passes. */
function between(without: FieldResult, field: FieldResult) {
  let [raised, leftOut, ground, all] = [0, 0, 0, 0];
  field.passes.areaAc.forEach((ac, k) => {
    const [before, after] = [rates(without)[k]!, rates(field)[k]!];
    raised += ac * Math.max(0, after - before);
    leftOut += after === 0 ? ac * before : 0;
    ground += ac;
    for (const map of field.prescriptions) if (map.pass === "strip") all += ac * map.rateLbPerAc[k]!;
  });
  return { raised, leftOut, mean: all / ground };
}
const lb = (pounds: number) => Math.round(pounds).toLocaleString("en-US");

describe("the least that a meter lays", () => {
  test("pounds raised to it, and a mean above the cap, are told", async () => {
    const without = await withLeast();
    expect(said(without, "meter-least")).toEqual([]);
    // lb/min x 495 / (width in ft x mph) = lb/ac (43,560 ft2 an acre, 88 ft/min a mph): 80 x 495 / (40 x 7) = 141.4.
    const field = await withLeast(80);
    const { raised, leftOut, mean } = between(without, field);
    expect(raised).toBeGreaterThan(100);
    const [message] = said(field, "meter-least");
    expect(message).toContain("the meter of bin L lays 141 lb/ac of 11-52-0 at least at 7 mph");
    expect(message).toContain(`${lb(raised)} lb more than the split means`);
    if (leftOut > 0) expect(message).toContain(`${lb(leftOut)} lb left out`);
    expect(mean).toBeGreaterThan(121);
    expect(said(field, "meter-passes-cap")[0]).toContain(
      `the strip has ${lb(mean)} lb/ac in the mean, above the cap of 120`,
    );
  });

  test("a map that it empties is told by its pounds", async () => {
    const field = await withLeast(500);
    const { leftOut } = between(await withLeast(), field);
    expect(rates(field).every((rate) => rate === 0)).toBe(true);
    expect(said(field, "meter-least")[0]).toMatch(new RegExp(`: ${lb(leftOut)} lb left out where rates`));
    expect(said(field, "meter-passes-cap")).toEqual([]);
  });

  test("a cap of every place is kept, so only what is left out and raised is told", async () => {
    const field = await withLeast(30, "most-in-a-cell");
    expect(said(field, "meter-passes-cap")).toEqual([]);
  });

  test("a least above the meter's most is refused by bin and figure", () => {
    const plan = {
      ...smallPlan(),
      rig: rig(bins({ product: "11-52-0", meterMinLbPerMin: 90, meterMaxLbPerMin: 80 })),
    };
    const read = () => readPlan(new TextEncoder().encode(JSON.stringify(plan)), "plan.json");
    expect(read).toThrow(
      /the least that the meter lays is above meterMaxLbPerMin, .*rig\.bins\[0\]\.meterMinLbPerMin/s,
    );
  });
});

describe("the least that a spreader spreads", () => {
  const spread = async (leastLbPerAc?: number) => {
    const spreader = { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5 };
    const field = await workedField({
      plan: {
        split: split(),
        spreader: { ...spreader, ...(leastLbPerAc === undefined ? {} : { leastLbPerAc }) },
      },
    });
    const maps = field.prescriptions.filter(({ pass }) => pass === "broadcast");
    return {
      said: said(field, "spreader-least"),
      needLb: maps.map(({ product, needLb }) => ({ product, needLb })),
    };
  };

  test("what it leaves out is told in pounds of each product", async () => {
    const without = await spread();
    expect(without.said).toEqual([]);
    const none = await spread(1_000);
    expect(none.needLb).toEqual([]);
    const left = without.needLb.map(({ product, needLb }) => `${lb(needLb)} lb of ${product}`).join(" and ");
    expect(none.said).toHaveLength(1);
    expect(none.said[0]).toContain(`the spreader spreads 1,000 lb/ac at least, all products together`);
    expect(none.said[0]).toContain(`where less is left to it ${left} are not spread`);
  });

  test("a least that hardly anything lies below is not worth a line", async () => {
    expect((await spread(5)).said).toEqual([]);
  });
});
