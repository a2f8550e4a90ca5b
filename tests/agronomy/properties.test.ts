import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { guides, type Rule, readyRule } from "../../src/agronomy/index.ts";

const seed = 20260301;
const cases = guides.flatMap((guide) =>
  guide.rules.flatMap((rule, index) => {
    const option = guide.options[0];
    const answers = option === undefined ? [{}] : option.choices.map((choice) => ({ [option.key]: choice }));
    return answers.map((options) => ({
      name: `${guide.id} ${rule.crop} ${rule.nutrient} ${index} ${JSON.stringify(options)}`,
      guide,
      rule,
      options,
    }));
  }),
);
const compile = (
  { guide, rule, options }: (typeof cases)[number],
  secondYieldBuPerAc: number,
): ReturnType<typeof readyRule> =>
  readyRule(guide, {
    crop: rule.crop,
    nutrient: rule.nutrient,
    reading: { method: rule.methods[0]! },
    options,
    secondYieldBuPerAc,
  });
const tests = fc.double({ min: 0, max: 600, noNaN: true });
const cecs = fc.double({ min: 0, max: 45, noNaN: true });
const yields = fc.double({ min: 1, max: 400, noNaN: true });
const isBuildUpWithDrawdown = (rule: Rule): boolean =>
  rule.form.kind === "build-up" && rule.form.zeroAt !== undefined;

describe("every rule", () => {
  test.each(cases.map((entry) => [entry.name, entry] as const))(
    "%s: never negative, NaN in NaN out",
    (_name, entry) => {
      const { rule } = compile(entry, 50);
      fc.assert(
        fc.property(tests, cecs, yields, (ppm, cec, bu) => {
          const rate = rule.rate(ppm, cec, bu);
          expect(rate).toBeGreaterThanOrEqual(0);
          expect(rule.rate(Number.NaN, cec, bu)).toBeNaN();
          if (rule.needsCec) expect(rule.rate(ppm, Number.NaN, bu)).toBeNaN();
          // A class or range that gives nothing and a rate of nothing agree.
          if (rule.band(ppm, cec) === "none") expect(rate).toBe(0);
        }),
        { seed, numRuns: 40 },
      );
    },
  );

  test.each(
    cases
      .filter(({ rule }) => rule.form.kind === "build-up" || rule.form.kind === "raise-to")
      .map((entry) => [entry.name, entry] as const),
  )("%s: NaN in NaN out under a typed critical level too", (_name, { guide, rule, options }) => {
    const { rule: ready } = readyRule(guide, {
      crop: rule.crop,
      nutrient: rule.nutrient,
      reading: { method: rule.methods[0]!, ownCriticalLevelPpm: 40 },
      options,
      secondYieldBuPerAc: 50,
    });
    fc.assert(
      fc.property(tests, cecs, yields, (ppm, cec, bu) => {
        expect(ready.rate(ppm, cec, bu)).toBeGreaterThanOrEqual(0);
        expect(ready.rate(Number.NaN, cec, bu)).toBeNaN();
        if (ready.needsCec) expect(ready.rate(ppm, Number.NaN, bu)).toBeNaN();
      }),
      { seed, numRuns: 40 },
    );
  });

  test.each(
    cases.filter((entry) => entry.rule.neverRisesWithTest).map((entry) => [entry.name, entry] as const),
  )("%s: never rises with the test", (_name, entry) => {
    const { rule } = compile(entry, 50);
    fc.assert(
      fc.property(tests, tests, cecs, yields, (a, b, cec, bu) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        expect(rule.rate(high, cec, bu)).toBeLessThanOrEqual(rule.rate(low, cec, bu) * (1 + 1e-12) + 1e-9);
      }),
      { seed, numRuns: 60 },
    );
  });

  test("the rules that may rise with the test do so somewhere, so that the mark is earned", () => {
    const marked = cases.filter((entry) => !entry.rule.neverRisesWithTest);
    expect(marked.length).toBeGreaterThan(0);
    for (const entry of marked) {
      const { rule } = compile(entry, 400);
      const rates = Array.from({ length: 300 }, (_, ppm) => rule.rate(ppm, 10, 600));
      expect(rates.some((rate, i) => i > 0 && rate > rates[i - 1]!)).toBe(true);
    }
  });

  test.each(
    cases.filter((entry) => isBuildUpWithDrawdown(entry.rule)).map((entry) => [entry.name, entry] as const),
  )("%s: has no step (the guide is continuous)", (_name, entry) => {
    const { rule } = compile(entry, 50);
    fc.assert(
      fc.property(tests, cecs, yields, (ppm, cec, bu) => {
        // The steepest line is the drawdown: all of the rate within 10 ppm.
        const steepest = Math.max(rule.rate(0, cec, bu), 1) / 5 + 5;
        expect(Math.abs(rule.rate(ppm + 1e-6, cec, bu) - rule.rate(ppm, cec, bu))).toBeLessThanOrEqual(
          steepest * 1e-6 + 1e-9,
        );
        expect(rule.jumps(cec)).toEqual([]);
      }),
      { seed, numRuns: 60 },
    );
  });

  test.each(cases.map((entry) => [entry.name, entry] as const))(
    "%s: jumps only where it says so",
    (_name, entry) => {
      const { rule } = compile(entry, 50);
      fc.assert(
        fc.property(cecs, yields, (cec, bu) => {
          const jumps = rule.jumps(cec);
          const step = 0.1;
          for (let ppm = 0; ppm < 450; ppm += step) {
            const change = Math.abs(rule.rate(ppm + step, cec, bu) - rule.rate(ppm, cec, bu));
            const near = jumps.some((jump) => jump >= ppm - 1e-9 && jump <= ppm + step + 1e-9);
            const slope = Math.max(rule.rate(0, cec, bu), 1) / 5 + 5;
            if (!near && change > slope * step + 1e-9) expect(`jump near ${ppm}`).toBe("");
          }
        }),
        { seed, numRuns: 1 },
      );
    },
  );
});
