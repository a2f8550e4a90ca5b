import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  analysisAllowance,
  type BlendClass,
  type BlendWeights,
  batchRecipe,
  blendCompatibility,
  blendCostAt,
  blendForRates,
  blendGroups,
  blendLeastSquares,
  blendMisfit,
  blendRatio,
  blendRecipe,
  coverWeights,
  criticalHumidity,
  pairHumidities,
  pairVerdict,
  productById,
  productRule,
  productsForNeed,
} from "../../src/products/index.ts";
import { checkRow, example, near, numbersOf } from "../support/operations.ts";

const classesOf = (id: string): BlendClass[] =>
  example(id).inputs.zones.map((zone: { id: string; ac: number; P2O5: number; K2O: number }) => ({
    id: zone.id,
    areaAc: zone.ac,
    p2o5LbPerAc: zone.P2O5,
    k2oLbPerAc: zone.K2O,
  }));
const prices = {
  p2o5PricePerLb: example("c1").inputs.pricePerLbP2O5,
  k2oPricePerLb: example("c1").inputs.pricePerLbK2O,
};
const map = productById("11-52-0");
const mop = productById("0-0-60");
const symmetric: BlendWeights = { overP2o5: 0.75, underP2o5: 0.75, overK2o: 0.4, underK2o: 0.4 };

describe("c1: one bin that covers both needs", () => {
  const { expected } = example("c1");
  const have = blendRatio({ classes: classesOf("c1"), ...prices });
  test("ratio, cost, kind, the cost of other ratios", () => {
    near(have.k2oPerP2o5, expected.best.th);
    near(have.cost, expected.best.f);
    expect(have.kind).toBe(expected.best.kind);
    for (const [theta, cost] of Object.entries(expected.byTheta as Record<string, number>)) {
      near(blendCostAt(classesOf("c1"), coverWeights(prices), Number(theta)), cost);
    }
  });
  test("recipe and rates; the maps of the classes add up to the cost", () => {
    const recipe = blendRecipe(have.k2oPerP2o5, map, mop);
    near(recipe.parts[0]!.share, expected.recipe.fracP);
    near(recipe.parts[1]!.share, expected.recipe.fracK);
    near(recipe.analysis.n / 100, expected.recipe.n);
    near(recipe.analysis.p2o5 / 100, expected.recipe.P);
    near(recipe.analysis.k2o / 100, expected.recipe.K);
    near(100 / recipe.analysis.p2o5, expected.recipe.lbPerLbP);
    have.classes.forEach((zone, i) => {
      near(zone.p2o5LbPerAc, expected.rates[i].P);
      near(zone.k2oLbPerAc, expected.rates[i].K);
      near((zone.p2o5LbPerAc * 100) / recipe.analysis.p2o5, expected.rates[i].lbBlend);
      near(zone.p2o5LbPerAc, expected.lpAtTheta.g[i]);
      expect(zone.p2o5OffLbPerAc).toBeGreaterThanOrEqual(0);
      expect(zone.k2oOffLbPerAc).toBeGreaterThanOrEqual(0);
    });
    near(have.cost, expected.lpAtTheta.obj);
  });
  test("a ratio two products cannot make", () => {
    expect(() => blendRecipe(1, mop, productById("0-0-50-17S"))).toThrow("cannot make");
    expect(blendRecipe(Number.POSITIVE_INFINITY, map, mop).parts[1]!.share).toBe(1);
  });
});

test("c2: two blends from one bin", () => {
  const { expected } = example("c2");
  const have = blendGroups({ classes: classesOf("c2"), groups: 2, cover: prices });
  near(have.cost, expected.f);
  expect(have.groups.map((group) => [...group.members].sort())).toEqual(
    expected.groups.map((group: { zones: string[] }) => group.zones),
  );
  have.groups.forEach((group, i) => {
    near(group.k2oPerP2o5, expected.groups[i].th);
  });
  // Three classes, three blends: nothing is off.
  expect(blendGroups({ classes: classesOf("c2"), groups: 3, cover: prices }).cost).toBeCloseTo(0, 9);
});

describe("c3: misfit", () => {
  const { expected } = example("c3");
  test("symmetric weights", () => {
    const have = blendMisfit(classesOf("c3"), symmetric);
    near(have.k2oPerP2o5, expected.fit.th);
    near(have.cost, expected.fit.f);
    have.classes.forEach((zone, i) => {
      near(zone.p2o5LbPerAc, expected.lp.g[i]);
    });
  });
  test("least squares", () => {
    const have = blendLeastSquares(classesOf("c3"));
    near(have.k2oPerP2o5, expected.ls.th);
    near(have.along, expected.ls.lead);
    near(have.residual, expected.ls.resid);
  });
  test("total rates given", () => {
    const { R, obj, f } = expected.givenTotalRates;
    const have = blendForRates(classesOf("c3"), R, [map.grade, mop.grade], symmetric);
    near(have.firstShare, f.MAP);
    near(have.cost, obj);
  });
});

describe("c4: batch", () => {
  const { inputs, expected } = example("c4");
  const { parts } = blendRecipe(example("c1").expected.best.th, map, mop);
  test("rounded by largest remainder, analysis from the rounded pounds", () => {
    const have = batchRecipe({
      parts: parts.map(({ share }, i) => ({ product: [map, mop][i]!, share })),
      batchLb: inputs.batchLb,
      stepLb: inputs.stepLb,
    });
    expect(have.parts.map((part) => part.lb)).toEqual(expected.lb);
    have.parts.forEach((part, i) => {
      near(part.exactLb, expected.exact[i]);
    });
    near(have.analysis.n, expected.analysis.N);
    near(have.analysis.p2o5, expected.analysis.P);
    near(have.analysis.k2o, expected.analysis.K);
    expect(have.batchLb).toBe(inputs.batchLb);
  });
  test("bags first, the rest keeps the weight", () => {
    const zinc = productById("0-0-0-17S-35.5Zn");
    const have = batchRecipe({
      parts: [
        { product: map, share: 0.4 },
        { product: mop, share: 0.588 },
        { product: zinc, share: 0.012, bagLb: 50 },
      ],
      batchLb: 12_000,
      stepLb: 10,
    });
    expect(have.parts[2]!.lb).toBe(150);
    expect(have.batchLb).toBe(12_000);
    expect(() => batchRecipe({ parts: [{ product: map, share: 0.5 }], batchLb: 1_000, stepLb: 20 })).toThrow(
      "0.5",
    );
  });
});

test("c5: products for a need from bins metered alone", () => {
  const { inputs, expected } = example("c5");
  const grades = inputs.order.map((name: string) => {
    const [n, p2o5, k2o] = inputs.analyses[name];
    return { n, p2o5, k2o };
  });
  const have = productsForNeed(grades, { p2o5: inputs.need.P2O5, k2o: inputs.need.K2O, n: inputs.need.N });
  expected.nnls.forEach((lb: number, i: number) => {
    near(have.lbPerAc[i]!, lb);
  });
  expect(have.residualLbPerAc).toBeLessThan(1e-9);
  // Outside the reach: no N wanted with 11-52-0 alone. Best by hand: (0.52 x 60) / (0.52^2 + 0.11^2).
  const outside = productsForNeed([{ n: 11, p2o5: 52 }], { n: 0, p2o5: 60 });
  near(outside.lbPerAc[0]!, (0.52 * 60) / (0.52 ** 2 + 0.11 ** 2));
  expect(outside.residualLbPerAc).toBeGreaterThan(1);
});

describe("against a fine scan and every grouping", () => {
  const zone = fc.record({
    areaAc: fc.integer({ min: 1, max: 90 }),
    p2o5LbPerAc: fc.integer({ min: 0, max: 90 }),
    k2oLbPerAc: fc.integer({ min: 0, max: 150 }),
  });
  const zones = fc
    .array(zone, { minLength: 1, maxLength: 7 })
    .map((list): BlendClass[] => list.map((one, i) => ({ ...one, id: `Z${i}` })));
  const weight = fc.integer({ min: 1, max: 20 }).map((w) => w / 10);
  const weights = fc.record({ overP2o5: weight, underP2o5: weight, overK2o: weight, underK2o: weight });
  const scan = Array.from({ length: 400 }, (_, i) => 10 ** (-2 + i / 100));

  test("classes that want P alone are covered by a blend of P alone, those of K alone by one of K", () => {
    const classes = (rows: readonly (readonly [number, number])[]): BlendClass[] =>
      rows.map(([p2o5LbPerAc, k2oLbPerAc], i) => ({ id: String(i), areaAc: 10, p2o5LbPerAc, k2oLbPerAc }));
    const cover = { p2o5PricePerLb: 0.7, k2oPricePerLb: 0.4 };
    const onlyP = classes([
      [40, 0],
      [80, 0],
    ]);
    expect(blendRatio({ classes: onlyP, ...cover })).toMatchObject({ k2oPerP2o5: 0, cost: 0 });
    const onlyK = classes([
      [0, 40],
      [0, 90],
    ]);
    expect(blendRatio({ classes: onlyK, ...cover })).toMatchObject({
      k2oPerP2o5: Number.POSITIVE_INFINITY,
      cost: 0,
    });
    // One acre that wants K too is not left without it.
    expect(blendRatio({ classes: [...onlyP, ...classes([[60, 30]])], ...cover }).k2oPerP2o5).toBeGreaterThan(
      0,
    );
    // Two groups over both kinds: each gets its own.
    const { cost } = blendGroups({
      classes: [...onlyP, ...onlyK].map((one, i) => ({ ...one, id: `${i}` })),
      groups: 2,
      cover,
    });
    expect(cost).toBeCloseTo(0, 9);
  });
  test("no ratio of a scan beats the one found, cover and misfit, 300 random maps", () => {
    fc.assert(
      fc.property(zones, weights, (random, w) => {
        const cover = blendRatio({ classes: random, p2o5PricePerLb: w.overP2o5, k2oPricePerLb: w.overK2o });
        const misfit = blendMisfit(random, w);
        const all = coverWeights({ p2o5PricePerLb: w.overP2o5, k2oPricePerLb: w.overK2o });
        near(cover.cost + 1, blendCostAt(random, all, cover.k2oPerP2o5) + 1);
        for (const theta of scan) {
          expect(cover.cost).toBeLessThanOrEqual(blendCostAt(random, all, theta) * (1 + 1e-9) + 1e-9);
          expect(misfit.cost).toBeLessThanOrEqual(blendCostAt(random, w, theta) * (1 + 1e-9) + 1e-9);
        }
      }),
      { seed: 17, numRuns: 300 },
    );
  });
  test("the placed rate is the best one for each class, 300 random classes", () => {
    fc.assert(
      fc.property(zone, weights, fc.integer({ min: 1, max: 60 }), (one, w, tenth) => {
        const theta = tenth / 10;
        const have = blendCostAt([{ ...one, id: "Z" }], w, theta);
        for (let g = 0; g <= 160; g += 4) {
          const offP = g - one.p2o5LbPerAc;
          const offK = theta * g - one.k2oLbPerAc;
          const cost =
            (offP > 0 ? offP * w.overP2o5 : -offP * w.underP2o5) +
            (offK > 0 ? offK * w.overK2o : -offK * w.underK2o);
          expect(have).toBeLessThanOrEqual(cost * one.areaAc + 1e-9);
        }
      }),
      { seed: 19, numRuns: 300 },
    );
  });
  test("groups of classes: the programme over cuts is as good as every grouping, 150 random maps", () => {
    fc.assert(
      fc.property(
        zones,
        weights,
        fc.integer({ min: 1, max: 3 }),
        fc.boolean(),
        (random, w, groups, covers) => {
          const terms = covers
            ? { cover: { p2o5PricePerLb: w.overP2o5, k2oPricePerLb: w.overK2o } }
            : { weights: w };
          const cuts = blendGroups({ classes: random, groups, ...terms });
          // One field a class: every way is tried.
          const fieldOf = Object.fromEntries(random.map((one) => [one.id, one.id]));
          const every = blendGroups({ classes: random, groups, fieldOf, ...terms });
          expect(every.proven).toBe(true);
          near(cuts.cost + 1, every.cost + 1, 1e-8);
        },
      ),
      { seed: 23, numRuns: 150 },
    );
  });
  test("non-negative least squares: no small step does better, 300 random needs", () => {
    const grades = [map.grade, productById("18-46-0").grade, mop.grade, productById("46-0-0").grade];
    fc.assert(
      fc.property(fc.tuple(...[90, 150, 60].map((max) => fc.integer({ min: 0, max }))), ([p2o5, k2o, n]) => {
        const need = { p2o5: p2o5!, k2o: k2o!, n: n! };
        const have = productsForNeed(grades, need);
        const off = (lb: readonly number[]): number =>
          Math.hypot(
            ...(["p2o5", "k2o", "n"] as const).map(
              (key) => need[key] - lb.reduce((sum, rate, i) => sum + (rate * grades[i]![key]) / 100, 0),
            ),
          );
        near(off(have.lbPerAc) + 1, have.residualLbPerAc + 1);
        have.lbPerAc.forEach((rate, i) => {
          expect(rate).toBeGreaterThanOrEqual(0);
          for (const step of [-0.5, 0.5]) {
            if (rate + step < 0) continue;
            const moved = have.lbPerAc.map((other, j) => (j === i ? rate + step : other));
            expect(off(moved)).toBeGreaterThanOrEqual(have.residualLbPerAc - 1e-9);
          }
        });
      }),
      { seed: 29, numRuns: 300 },
    );
  });
  test("a blend for given rates: no share of a scan beats it, 200 random maps", () => {
    fc.assert(
      fc.property(zones, weights, fc.integer({ min: 50, max: 500 }), (random, w, rate) => {
        const rates = random.map((_, i) => rate + 10 * i);
        const have = blendForRates(random, rates, [map.grade, mop.grade], w);
        for (let s = 0; s <= 40; s++) {
          const cost = random.reduce((sum, one, i) => {
            const offP = ((rates[i]! * s) / 40) * 0.52 - one.p2o5LbPerAc;
            const offK = rates[i]! * (1 - s / 40) * 0.6 - one.k2oLbPerAc;
            const p = offP > 0 ? offP * w.overP2o5 : -offP * w.underP2o5;
            const k = offK > 0 ? offK * w.overK2o : -offK * w.underK2o;
            return sum + one.areaAc * (p + k);
          }, 0);
          expect(have.cost).toBeLessThanOrEqual(cost * (1 + 1e-9) + 1e-9);
        }
      }),
      { seed: 31, numRuns: 200 },
    );
  });
});

describe("e1: critical humidity of blends", () => {
  const { inputs, expected } = example("e1");
  const ids: Readonly<Record<string, string>> = {
    MAP: "11-52-0",
    MOP: "0-0-60",
    urea: "46-0-0",
    AS: "21-0-0-24S",
    DAP: "18-46-0",
    TSP: "0-46-0",
    AN: "34-0-0",
  };
  test.each(Object.keys(inputs.shares))("%s", (name) => {
    const parts = Object.entries(inputs.shares[name] as Record<string, number>).map(([id, share]) => ({
      id: ids[id]!,
      share,
    }));
    const have = criticalHumidity(parts);
    near(have.tablePercent, expected[name].crh);
    expect(have.estimated).toBe(expected[name].est);
    expect([...have.from].sort()).toEqual(
      expected[name].from
        .split("+")
        .map((id: string) => ids[id])
        .sort(),
    );
    // The default limit is the commercial figure for a blend, unconfirmed.
    expect([have.limitPercent, have.status]).toEqual([55, "unconfirmed"]);
    near(criticalHumidity(parts, 3).tablePercent, expected[name].crh - 3);
  });
  test("the product rule beside the 12 tabulated pairs", () => {
    for (const [pair, want] of Object.entries(
      expected.productRule as Record<string, { table: number; product: number }>,
    )) {
      const [a, b] = pair.split("|").map((id) => ids[id]!) as [string, string];
      expect(pairVerdict(a, b).criticalHumidityPercent).toBe(want.table);
      const single = (id: string): number => productById(id).criticalHumidityPercent!.value;
      near(productRule(single(a), single(b)), want.product);
    }
    expect(pairHumidities.length).toBe(12);
  });
  test("published single values and pairs, encyclopedia table, Adams and Merz 1929", () => {
    const singles = numbersOf(checkRow("CRH at 30 C, urea").expected);
    ["urea", "AS", "DAP", "MOP", "MAP"].forEach((id, i) => {
      expect(productById(ids[id]!).criticalHumidityPercent!.value).toBe(singles[i]);
    });
    const pairs = numbersOf(checkRow("CRH at 30 C, pairs urea+KCl").expected);
    (["urea MOP", "urea AS", "AS MOP"] as const).forEach((pair, i) => {
      const [a, b] = pair.split(" ").map((id) => ids[id]!) as [string, string];
      expect(pairVerdict(a, b).criticalHumidityPercent).toBe(pairs[i]);
    });
  });
  test("pairs from memory: arithmetic only", () => {
    const pairs = numbersOf(checkRow("CRH at 30 C, pairs MAP+urea").expected);
    (["urea", "MOP", "AS"] as const).forEach((id, i) => {
      expect(pairVerdict(ids.MAP!, ids[id]!).criticalHumidityPercent).toBe(pairs[i]);
    });
  });
  test("urea with nitrate is refused, a nitrate pair is never estimated, 1 % does not count", () => {
    const mix = [
      { id: "46-0-0", share: 0.5 },
      { id: "34-0-0", share: 0.5 },
    ];
    expect(() => criticalHumidity(mix)).toThrow("18 percent");
    expect(() => blendCompatibility(["46-0-0", "0-0-60", "34-0-0"])).toThrow("18 percent");
    const unknown = criticalHumidity([
      { id: "18-46-0", share: 0.5 },
      { id: "34-0-0", share: 0.5 },
    ]);
    expect(unknown.notices.map((notice) => notice.code)).toEqual(["pair-humidity-unknown"]);
    expect(unknown.estimated).toBe(false);
    const trace = criticalHumidity([
      { id: "11-52-0", share: 0.99 },
      { id: "46-0-0", share: 0.01 },
    ]);
    expect([trace.tablePercent, trace.limitPercent]).toEqual([91.6, 70]);
  });
  test("compatibility in words, worst first, unknown never passed off as compatible", () => {
    const have = blendCompatibility(["0-0-60", "11-52-0", "46-0-0", "0-46-0", "0-0-22-22S"]);
    expect(have[0]!.verdict).toBe("incompatible");
    expect(have.every((pair) => pair.words.length > 10)).toBe(true);
    expect(pairVerdict("0-0-22-22S", "11-52-0").verdict).toBe("not known");
    expect(pairVerdict("11-52-0", "0-0-60").verdict).toBe("compatible");
  });
});

test("allowances under a guarantee (N.H. Admin. Code Agr 1105.04)", () => {
  near(analysisAllowance("s", 10), Number(checkRow("analysis allowance S").expected));
  near(analysisAllowance("zn", 1), Number(checkRow("analysis allowance Zn").expected));
  expect(analysisAllowance("mg", 20)).toBe(Number(checkRow("analysis allowance Mg").expected));
  expect(analysisAllowance("p2o5", 20)).toBeNull();
});
