import { describe, expect, test } from "vitest";
import { type Ledger, type LedgerEvent, ledgerAddition, readLedger } from "../../src/ledger/index.ts";
import { type OrderedField, orderOfPlan, type Plan, standsOf } from "../../src/plan/index.ts";
import { ledgerNotices } from "../../src/plan/stands/ledger-of-plan.ts";
import { noNutrients } from "../../src/products/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";

const plan: Plan = { ...seasonPlanDocument(), order: { overlapShare: 0, lossShare: 0 } };
const GRADES = {
  "11-52-0": { ...noNutrients, n: 11, p2o5: 52 },
  "18-46-0": { ...noNutrients, n: 18, p2o5: 46 },
  "0-0-60": { ...noNutrients, k2o: 60 },
};
type Sold = keyof typeof GRADES;

/** A field of 60 ac with strip and broadcast maps of so many lb, its rates even. */
function fieldWith(maps: readonly (readonly [Sold, number, number])[]): OrderedField {
  const prescriptions = maps.flatMap(([product, stripLb, broadcastLb]) =>
    (["strip", "broadcast"] as const).map((pass) => {
      const totalLb = pass === "strip" ? stripLb : broadcastLb;
      const stem = `HOME_${pass}_${product}`;
      return {
        pass,
        product,
        stem,
        analysis: GRADES[product],
        totalLb,
        maxLbPerAc: totalLb / 60,
        rateLbPerAc: [totalLb / 60],
      };
    }),
  );
  const passes = { pieces: [{}], areaAc: [60] };
  const field = { id: "home", name: "Home" };
  return {
    ...{ field, checked: { areaAc: 60 }, passes, finished: [], need: { hasAllReadings: false } },
    ...{ prescriptions },
  } as unknown as OrderedField;
}

function placed(
  product: Sold,
  lb: number,
  areaAc: number,
  pass: "strip" | "broadcast" = "strip",
): LedgerEvent {
  const { p2o5, k2o } = GRADES[product];
  return {
    ...({ kind: "placed", fieldId: "home", pass, product, lb, areaAc, map: "HOME", revision: "" } as const),
    ...{ p2o5Lb: (lb * p2o5) / 100, k2oLb: (lb * k2o) / 100, from: "typed" },
  };
}

function orderAfter(field: OrderedField, ...events: readonly LedgerEvent[]) {
  let bytes = new Uint8Array();
  for (const event of events)
    bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", "2027-04-14", event)]);
  const ledger: Ledger = readLedger(bytes, "ledger.txt");
  const stands = standsOf(ledger, [field] as unknown as Parameters<typeof standsOf>[1]);
  const order = orderOfPlan(plan, [field], { stands });
  const lbOf = (product: Sold) => {
    const [own] = order.products.find(({ line }) => line.product === product)!.byField;
    return [own!.stripLb, own!.broadcastLb];
  };
  const told = (code: string, from = order.notices) =>
    from.filter((one) => one.code === code).map(({ message }) => message);
  return { lbOf, told, built: ledgerNotices({}, [field], stands) };
}

/** By the maps of before: 8,046 lb 11-52-0 and 5,111 lb 0-0-60. */
const BEFORE = [placed("11-52-0", 8_046, 60), placed("0-0-60", 5_111, 60)];
/** Then the product of one bin was changed and the cap lowered; the field wants 8,479 lb 0-0-60 in all. */
const changed = fieldWith([
  ["18-46-0", 8_884, 79],
  ["0-0-60", 1_940, 6_539],
]);

test("what is spread is not to place: of another product by its oxide, of a finished pass nothing", () => {
  const field = fieldWith([
    ["11-52-0", 4_000, 1_649],
    ["0-0-60", 2_000, 2_588],
  ]);
  // 2,222 lb of 18-46-0 bring 1,022 lb P2O5 of the 857 that the map has; 500 lb of it bring 230, that is 442 lb of 11-52-0.
  const spread = (lb: number) => placed("18-46-0", lb, 60, "broadcast");
  expect(orderAfter(field, spread(2_222)).lbOf("11-52-0")).toEqual([4_000, 0]);
  const part = orderAfter(field, spread(500));
  expect(part.lbOf("11-52-0")[1]).toBeCloseTo(1_649 - 230 / 0.52, 6);
  expect(part.lbOf("0-0-60")).toEqual([2_000, 2_588]);
  expect(part.told("spread-other-product")).toEqual([
    "Home: by the ledger 18-46-0 was spread, not the 11-52-0 of its broadcast map: 442 lb of its 1,649 lb do not count as to place",
  ]);
  const done = orderAfter(field, { kind: "finished", fieldId: "home", pass: "broadcast" });
  expect([done.lbOf("11-52-0"), done.lbOf("0-0-60")]).toEqual([
    [4_000, 0],
    [2_000, 0],
  ]);
});

describe("the plan changed after a broadcast pass", () => {
  const spread = placed("0-0-60", 9_806, 60, "broadcast");
  const finished: LedgerEvent = { kind: "finished", fieldId: "home", pass: "broadcast" };

  test("what the strip maps would lay although it is spread is not ordered again, and told", () => {
    const field = fieldWith([
      ["11-52-0", 8_000, 0],
      ["0-0-60", 22_927, 760],
    ]);
    // 22,927 + 760 - 9,806 = 13,881 are still to place, all in the strip: 9,046 of the map's lie there.
    for (const events of [[spread, finished], [spread]]) {
      const { lbOf, told, built } = orderAfter(field, ...events);
      expect(lbOf("0-0-60")[0]).toBeCloseTo(13_881, 6);
      expect(lbOf("0-0-60")[1]).toBe(0);
      expect(lbOf("11-52-0")).toEqual([8_000, 0]);
      expect(told("spread-for-strip")).toEqual([
        "Home: by the ledger more is spread than its broadcast maps have: 9,046 lb of the 22,927 lb 0-0-60 of its strip map do not count as to place",
      ]);
      for (const [message] of [told("spread-not-as-planned"), told("spread-not-as-planned", built)])
        expect(message).toContain("would lay 9,046 lb 0-0-60 (5,428 lb K2O) too much");
    }
    // Half the strips done as mapped: what is left of them is what lacks.
    const half = orderAfter(field, spread, placed("0-0-60", 11_463, 30), placed("11-52-0", 4_000, 30));
    expect(half.lbOf("0-0-60")[0]).toBeCloseTo(22_927 / 2 - 9_046, 6);
    // The whole done: nothing is left to lay too much.
    const whole = orderAfter(field, spread, placed("0-0-60", 22_927, 60), placed("11-52-0", 8_000, 60));
    expect(whole.told("spread-not-as-planned")).toEqual([]);
    // By its acres with fewer pounds: no map of it is to be loaded any more.
    const fewer = orderAfter(field, spread, placed("0-0-60", 13_000, 60), placed("11-52-0", 8_000, 60));
    expect(fewer.told("spread-not-as-planned")).toEqual([]);
  });

  test("driving the spreader twice over some ground takes nothing off the strips", () => {
    const field = fieldWith([["0-0-60", 9_000, 9_400]]);
    const { lbOf, built, told } = orderAfter(field, spread);
    expect(lbOf("0-0-60")).toEqual([9_000, 0]);
    expect(told("spread-not-as-planned", built)).toEqual([]);
  });

  test("a pass that is finished with less than this plan's maps says what lacks", () => {
    const field = fieldWith([["0-0-60", 4_649, 18_858]]);
    // (18,858 - 9,806) x 0.6 of 18,858 x 0.6.
    const { lbOf, built, told } = orderAfter(field, spread, finished);
    expect(lbOf("0-0-60")).toEqual([4_649, 0]);
    const [message] = told("spread-short", built);
    expect(message).toContain("5,431 of the 11,315 lb K2O that this plan's broadcast maps lay lack");
    expect(told("spread-short")).toHaveLength(1);
    expect(told("spread-short", orderAfter(field, spread).built)).toEqual([]);
    const asMapped = fieldWith([["0-0-60", 4_649, 9_850]]);
    expect(told("spread-short", orderAfter(asMapped, spread, finished).built)).toEqual([]);
  });
});

describe("the plan changed after a strip pass", () => {
  test("what lies there is neither ordered nor laid again without a word", () => {
    const { lbOf, told, built } = orderAfter(changed, ...BEFORE);
    // 1,940 + 6,539 - 5,111 = 3,368. P2O5: 4,184 lb lie there, 2.4 % over the 4,087 of the maps: that may be driving twice.
    expect(lbOf("0-0-60")[0]).toBe(0);
    expect(lbOf("0-0-60")[1]).toBeCloseTo(3_368, 6);
    expect(lbOf("18-46-0")).toEqual([0, 79]);
    expect(told("placed-for-broadcast")).toContain(
      "Home: by the ledger more lies in its strips than its strip maps have: 3,171 lb of the 6,539 lb 0-0-60 of its broadcast map do not count as to place",
    );
    for (const [message] of [told("placed-not-as-planned"), told("placed-not-as-planned", built)]) {
      expect(message).toContain("5,111 lb 0-0-60 (the maps have 1,940)");
      // 3,171 lb with 60 %.
      expect(message).toContain("and would lay 3,171 lb 0-0-60 (1,903 lb K2O) too much: `applied` makes");
      expect(message).toContain("with the build from before the product was changed as PLAN");
      expect(message).toContain("have no 11-52-0");
    }
  });

  test("half a field with the product of before and half with the new one has no catch-up: what lacks is told", () => {
    const field = fieldWith([
      ["18-46-0", 5_760, 1_067],
      ["0-0-60", 0, 5_536],
    ]);
    const old = [placed("11-52-0", 2_653, 28), placed("0-0-60", 2_308, 28)];
    const { lbOf, told } = orderAfter(field, ...old, placed("18-46-0", 3_000, 32));
    const [message] = told("placed-not-as-planned");
    expect(message).not.toContain("`applied`");
    expect(message).toContain(
      "no catch-up can be worked out here, since no build's maps have both 11-52-0 and 18-46-0, and none reads the logs of both: once its strips are done `ledger --finish` it, then spread by hand what `order` still has of its broadcast maps",
    );
    // 5,536 - 2,308. P2O5: 1,380 + 1,380 lb for 2,650 of the maps, 4 % over, which may be driving twice.
    expect(message).toContain("1,067 of 1,067 lb 18-46-0 and 3,228 of 5,536 lb 0-0-60 still lack");
    expect(lbOf("0-0-60")[1]).toBeCloseTo(3_228, 6);
    // Both products of before on the same acres: one pass, whose logs the build from before reads.
    const before = fieldWith([
      ["11-52-0", 5_760, 1_067],
      ["0-0-60", 0, 5_536],
    ]);
    const one = orderAfter(before, placed("18-46-0", 2_000, 30), placed("11-52-0", 1_000, 30));
    expect(one.told("placed-not-as-planned").join()).not.toContain("no catch-up can");
    // Halves of the same size: potash, which lies in both, tells them from one pass.
    const halves = [placed("11-52-0", 2_653, 30), placed("0-0-60", 2_308, 30)];
    const twoDays = [...halves, placed("18-46-0", 3_000, 30), placed("0-0-60", 2_100, 30)];
    expect(orderAfter(field, ...twoDays).told("placed-not-as-planned")[0]).toContain("no catch-up can");
    const oneDay = [...halves, placed("18-46-0", 3_000, 30)];
    expect(orderAfter(field, ...oneDay).told("placed-not-as-planned")[0]).not.toContain("no catch-up can");
    expect(lbOf("18-46-0")[1]).toBeCloseTo(1_067, 6);
  });

  test("nothing lacks of a product in whose place another brought as much", () => {
    const finished: LedgerEvent = { kind: "finished", fieldId: "home", pass: "strip" };
    const field = fieldWith([
      ["18-46-0", 5_000, 100],
      ["0-0-60", 1_000, 100],
    ]);
    // 4,500 lb with 52 % are 2,340 lb P2O5, the map's 5,000 with 46 % 2,300.
    const [told] = orderAfter(
      field,
      placed("11-52-0", 4_500, 60),
      placed("0-0-60", 1_000, 60),
      finished,
    ).told("placed-not-as-planned");
    expect(told).toContain("0 lb 18-46-0 (the maps have 5,000) and 4,500 lb 11-52-0 (the maps have 0)");
    // 2,000 lb bring 1,040 of the 2,300: 1,260 lb P2O5 lack, 2,739 lb of the product.
    const [half] = orderAfter(
      field,
      placed("11-52-0", 2_000, 60),
      placed("0-0-60", 1_000, 60),
      finished,
    ).told("placed-not-as-planned");
    expect(half).toContain("0 lb 18-46-0 (the maps have 5,000: 2,739 lack, which the order does not hold)");
  });

  test("a product mixed anew after the pass is told by its oxides, not by its pounds", () => {
    const line = placed("11-52-0", 5_000, 60);
    const before = { ...line, p2o5Lb: 2_000 } as LedgerEvent;
    const finished: LedgerEvent = { kind: "finished", fieldId: "home", pass: "strip" };
    const field = fieldWith([["11-52-0", 5_000, 100]]);
    // 5,000 lb of the map with 52 % are 2,600 lb P2O5; there lie 2,000.
    expect(orderAfter(field, before, finished).told("placed-not-as-planned")[0]).toContain(
      "5,000 lb 11-52-0 with 40.0 % P2O5 (the maps have 5,000 with 52.0 % P2O5: 600 lb P2O5 lack, which the order does not hold)",
    );
    // 100 lb of the broadcast map and 600 / 0.52 more.
    const caughtUp = placed("11-52-0", 100 + 600 / 0.52, 60, "broadcast");
    expect(orderAfter(field, before, finished, caughtUp).told("placed-not-as-planned")).toEqual([]);
    // Other pounds with the oxide of the map: nothing to tell.
    const asMuch = { ...line, lb: 6_500, p2o5Lb: 2_600 } as LedgerEvent;
    expect(orderAfter(field, asMuch, finished).told("placed-not-as-planned")).toEqual([]);
  });

  test("finished, and what the spreader has laid since, come off the same", () => {
    const finished: LedgerEvent = { kind: "finished", fieldId: "home", pass: "strip" };
    expect(orderAfter(changed, ...BEFORE, finished).lbOf("0-0-60")[1]).toBeCloseTo(3_368, 6);
    const spread = placed("0-0-60", 3_000, 60, "broadcast");
    const after = orderAfter(changed, ...BEFORE, spread);
    expect(after.lbOf("0-0-60")[1]).toBeCloseTo(368, 6);
    const all = orderAfter(changed, ...BEFORE, placed("0-0-60", 6_000, 60, "broadcast"));
    expect(all.lbOf("0-0-60")).toEqual([0, 0]);
    // 539 lb of the broadcast map are left at most.
    expect(all.told("placed-not-as-planned")[0]).toContain("539 lb 0-0-60 (323 lb K2O) too much");
  });

  test("of a pass that is begun: what no map can have on those acres", () => {
    const half = fieldWith([
      ["11-52-0", 5_932, 124],
      ["0-0-60", 1_268, 4_269],
    ]);
    const { lbOf, told } = orderAfter(half, placed("11-52-0", 2_900, 30), placed("0-0-60", 2_308, 30));
    // 1,268 / 60 x 30 = 634 lb by the maps, done and still to do: 4,269 - (2,308 - 634).
    expect(lbOf("0-0-60")[0]).toBeCloseTo(634, 6);
    expect(lbOf("0-0-60")[1]).toBeCloseTo(2_595, 6);
    // 2 % under by the meter: the 30 ac that are left want their half of it all the same.
    expect(lbOf("11-52-0")).toEqual([2_966, 124]);
    expect(told("placed-by-acres")).toEqual([
      "Home: by the ledger 2,308 lb 0-0-60 lie where this plan's strip map has 634 lb on as many acres (a meter that laid more, ground driven twice or a plan changed since does that): 634 lb of the map count as done and 634 lb as left; `remainder` works out what is left on the ground, by the logs or by the pass that is done",
    ]);
    expect(told("placed-not-as-planned")).toEqual([
      "Home: by the ledger there lie in the strip so far 2,308 lb 0-0-60 on 30.0 ac (the maps have 634 at most on as many); its broadcast maps reckon with this plan's strip maps, not with what lies there, and would lay 1,674 lb 0-0-60 (1,004 lb K2O) too much: `applied` makes catch-up maps of what was logged; where pounds have no log and the plan was changed after the pass, with the build from before as PLAN",
    ]);
    // More than the maps have on half of it and less than on all: 5,537 - 1,000 in all.
    const less = orderAfter(half, placed("0-0-60", 1_000, 30));
    expect(less.lbOf("0-0-60")[0]).toBeCloseTo(634, 6);
    expect(less.lbOf("0-0-60")[1]).toBeCloseTo(3_903, 6);
    expect(less.told("placed-not-as-planned")[0]).toContain("366 lb 0-0-60 (220 lb K2O) too much");
    expect(orderAfter(half, placed("0-0-60", 660, 30)).told("placed-not-as-planned")).toEqual([]);
    // Less than the maps have there: the acres that are left want their share, what lacks on the others a catch-up.
    const low = orderAfter(half, placed("11-52-0", 1_500, 30));
    expect(low.lbOf("11-52-0")[0]).toBeCloseTo(2_966, 6);
    expect(low.told("placed-by-acres")[0]).toContain(
      "2,966 lb of the map count as done and 2,966 lb as left; `remainder` works out what is left on the ground, by the logs or by the pass that is done; 1,466 lb lack on the acres done, which no map and no order has",
    );
    expect(low.told("placed-not-as-planned")[0]).toContain(
      "1,500 lb 11-52-0 on 30.0 ac (the maps have 2,966 at least on as many); its broadcast maps and the order reckon with this plan's strip maps, not with what lies there: `applied` makes catch-up maps",
    );
  });

  test("more in the strips is no matter any more once the catch-up beside it is spread", () => {
    const field = fieldWith([
      ["11-52-0", 4_000, 1_000],
      ["0-0-60", 2_000, 100],
    ]);
    const strips = [placed("11-52-0", 4_600, 60), placed("0-0-60", 2_000, 60)];
    expect(orderAfter(field, ...strips).told("placed-not-as-planned")[0]).toContain("600 lb 11-52-0");
    // 1,000 - 600 lb lack, and the potash of its broadcast map.
    const spread = [placed("11-52-0", 400, 60, "broadcast"), placed("0-0-60", 100, 60, "broadcast")];
    expect(orderAfter(field, ...strips, ...spread).told("placed-not-as-planned")).toEqual([]);
    expect(orderAfter(field, ...strips, spread[0]!).told("placed-not-as-planned")).toHaveLength(1);
    // A lack of the other product does not bring back what is done with.
    const lacks = orderAfter(field, strips[0]!, placed("0-0-60", 1_800, 60), ...spread);
    expect(lacks.told("placed-not-as-planned")[0]).toContain("1,800 lb 0-0-60 (the maps have 2,000)");
    expect(lacks.told("placed-not-as-planned")[0]).not.toContain("too much");
  });

  test("a line over the map is right where the plan was changed", () => {
    expect(orderAfter(changed, ...BEFORE).told("placed-beyond-map")).toEqual([
      "Home: by the ledger 5,111 lb 0-0-60 in its strip pass, 2.6 times the map's 1,940 lb; where cap, product or budget were changed in the plan after the pass, the line is right and stays, else look for a line that is mistyped or entered twice (`ledger --void N --why TEXT` takes it back)",
    ]);
    // A catch-up in the place of a small broadcast map is no slip either.
    const small = fieldWith([["0-0-60", 1_940, 50]]);
    const caughtUp = { ...placed("0-0-60", 66, 60, "broadcast"), pass: "catch-up" } as LedgerEvent;
    for (const event of [caughtUp, placed("0-0-60", 66, 60, "broadcast")])
      for (const message of orderAfter(small, ...BEFORE, event)
        .told("placed-beyond-map")
        .slice(1))
        expect(message).toContain("where it is a catch-up, or cap, product or budget were changed");
    expect(
      orderAfter(small, ...BEFORE, placed("0-0-60", 66, 60, "broadcast")).told("placed-beyond-map"),
    ).toHaveLength(2);
  });
});

test("within what a meter misses by and driving twice lays nothing comes off the broadcast map", () => {
  const field = fieldWith([["0-0-60", 5_000, 3_000]]);
  const { lbOf, told } = orderAfter(field, placed("0-0-60", 5_240, 60));
  expect(lbOf("0-0-60")).toEqual([0, 3_000]);
  expect(told("placed-for-broadcast")).toEqual([]);
  expect(orderAfter(field, placed("0-0-60", 5_400, 60)).lbOf("0-0-60")).toEqual([0, 2_600]);
});
