import { describe, expect, it } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";
import type { FieldStand } from "../../src/ledger/index.ts";
import { type NextSeason, nextSeasonPlan, type PlanField, type PlanOrder } from "../../src/plan/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";

/** Next season's plan where `lb` of MAP are placed. */
function stockAfter(order: PlanOrder, lb: number): NextSeason {
  const last = { ...seasonPlanDocument(), order };
  const placed = [{ pass: "strip", product: "11-52-0", lb, areaAc: 100, map: "x" }];
  const stands = [{ fieldId: "low-forty", state: "stripped", placed, p2o5Lb: lb * 0.52, k2oLb: 0 }];
  const { id, crop } = last.fields[0]!;
  return nextSeasonPlan(
    last,
    "next",
    "2028-01-10",
    stands as unknown as FieldStand[],
    [],
    new Map([[id, { areaAc: 100, plannedLb: { P2O5: 0, K2O: 0 }, isYearAssumed: false }]]),
    {
      crop,
      yield: "190",
    },
  );
}

const line = (kind: "booked" | "cancelled" | "delivered", supplier: string, tons: number, date: string) => ({
  ...{ kind, supplier, tons, date },
  product: "11-52-0",
});
const stockOf = ({ plan, notices }: NextSeason) => [
  (plan.order?.terms ?? []).map(({ supplier, onHandLb }) => [supplier, onHandLb]),
  notices.flatMap(({ code, message }) => (code === "stock-carried" ? [message] : [])),
];

describe("stock of the season after", () => {
  it("counts once, whoever sells the product", () => {
    const made = stockAfter(
      {
        terms: [
          { product: "11-52-0", supplier: "Elevator", onHandLb: 1_300 },
          { product: "11-52-0", supplier: "River dock" },
        ],
        book: [
          line("booked", "Elevator", 30, "2027-02-01"),
          line("delivered", "elevator ", 30, "2027-03-01"),
        ],
      },
      45_800,
    );
    // 1,300 + 60,000 - 45,800.
    expect(stockOf(made)).toEqual([
      [
        ["Elevator", 15_500],
        ["River dock", 0],
      ],
      ["11-52-0: 15,500 lb should be on hand by tickets and ledger; weigh it"],
    ]);
  });

  it("counts what went back and what was cancelled as the order does; and what came without terms", () => {
    const book = [
      line("booked", "Elevator", 30, "2027-02-01"),
      line("delivered", "Elevator", 25, "2027-03-01"),
      line("delivered", "Elevator", -2, "2027-03-05"),
      line("cancelled", "Elevator", 30, "2027-03-09"),
    ];
    // 2,000 lb a ton: 46,000 delivered less 40,000 placed.
    const message = "11-52-0: 6,000 lb should be on hand by tickets and ledger; weigh it";
    expect(stockOf(stockAfter({ book }, 40_000))).toEqual([[["Elevator", 6_000]], [message]]);
    const more = [...book, line("delivered", "Elevator", -40, "2027-03-12")];
    expect(() => stockAfter({ book: more }, 0)).toThrow(/are taken back than are delivered/);
  });

  it("tells what is booked and was not delivered, by supplier, with its $", () => {
    const book = [
      { ...line("booked", "Elevator", 17.6, "2027-02-01"), pricePerTon: 760 },
      line("delivered", "Elevator", 12, "2027-03-01"),
      line("booked", "River dock", 2, "2027-03-02"),
      line("booked", "Depot", 3, "2027-03-02"),
      line("delivered", "Depot", 3, "2027-03-09"),
    ];
    const { notices } = stockAfter({ book }, 0);
    // 5.6 x 760.
    expect(
      notices.filter(({ code }) => code === "booked-not-delivered").map(({ message }) => message),
    ).toEqual([
      "11-52-0: 5.60 tons, $4,256 at $760.00 a ton without freight, are booked with Elevator and not delivered; they are not in this plan. Book here what still comes of them",
      "11-52-0: 2.00 tons are booked with River dock and not delivered; they are not in this plan. Book here what still comes of them",
    ]);
  });
});

describe("what an application for several crop years covers, and what goes with one crop", () => {
  const [field, ...others] = seasonPlanDocument().fields;
  /** Next season's field where `own` is what it had, 5,000 lb P2O5 and 8,000 lb K2O were planned and so many are placed. */
  function nextOf(own: Partial<PlanField>, p2o5Lb: number, k2oLb: number, crop = "corn", more = {}) {
    const last = { ...seasonPlanDocument(), fields: [{ ...field!, crop: "corn", ...own }, ...others] };
    const stands = [{ fieldId: field!.id, state: "stripped", placed: [], p2o5Lb, k2oLb }];
    const had = { areaAc: 100, plannedLb: { P2O5: 5_000, K2O: 8_000 }, isYearAssumed: false };
    const made = nextSeasonPlan(
      ...([last, "next", "2028-01-10", stands as unknown as FieldStand[], []] as const),
      new Map([[field!.id, had]]),
      { crop, yield: "60", ...more },
    );
    const told = made.notices.filter(({ code }) => code === "cover-not-placed" || code.startsWith("crop-"));
    return { field: made.plan.fields[0]!, told: told.map(({ message }) => message) };
  }
  const { seasonYear } = seasonPlanDocument();

  it("each nutrient once its own pounds lie there, strip and broadcast", () => {
    const alsoFor = [{ crop: "soybean", yieldBuPerAc: 60 }];
    const made = nextOf({ alsoFor }, 4_900, 1_800);
    expect(made.field.earlier).toEqual([{ nutrient: "P2O5", seasonYear, yearsCovered: 2 }]);
    expect(made.told).toEqual([
      `${field!.name}: last season's K2O was to cover 2 crop years with 8,000 lb, and the ledger has 1,800 lb placed: the need counts in full`,
    ]);
    expect(nextOf({ alsoFor }, 4_900, 7_700).field.earlier).toHaveLength(2);
  });

  it("a guide's rate for two crop years covers the second, and is not given again", () => {
    const two = { guide: "iowa-2013", nutrients: { K2O: { crop: "corn-soybean-two-year" } } };
    const made = nextOf(two, 5_000, 8_000, "soybean");
    expect(made.field.earlier).toEqual([{ nutrient: "K2O", seasonYear, yearsCovered: 2 }]);
    const again = nextOf(
      { ...two, earlier: made.field.earlier!.map((one) => ({ ...one, seasonYear: seasonYear - 1 })) },
      5_000,
      8_000,
    );
    expect(again.field.earlier).toHaveLength(1);
    expect(again.told).toEqual([]);
  });

  it("residue and yield goals by zone do not go on to another crop", () => {
    const own = {
      residueLbPerAc: { K2O: 30 },
      yieldZones: { source: "goals.geojson", column: "BU" },
    };
    const other = nextOf(own, 0, 0, "soybean");
    expect([other.field.residueLbPerAc, other.field.yieldZones]).toEqual([undefined, undefined]);
    expect(other.told).toEqual([
      `${field!.name}: the residue taken off and the yield goals by zone of goals.geojson went with last season's crop and are not carried on; type what goes with that of ${seasonYear + 1}`,
    ]);
    expect(nextOf(own, 0, 0).field).toMatchObject(own);
  });

  it("planters that keep fields whose crops have changed are told", () => {
    const season = {
      ...seasonPlanDocument().season!,
      planters: [{ id: "16 rows", acPerDay: 200, startsOn: "2027-04-25", fields: [field!.id] }],
    };
    const codes = (crop: string) =>
      nextSeasonPlan(
        { ...seasonPlanDocument(), season, fields: [{ ...field!, crop: "corn" }, ...others] },
        ...(["next", "2028-01-10", [], [], new Map()] as const),
        { crop, yield: "60" },
      ).notices.map(({ code }) => code);
    expect(codes("soybean")).toContain("planter-fields-kept");
    expect(codes("corn")).not.toContain("planter-fields-kept");
  });

  it("the crop before is last season's, not what was told of the one before that", () => {
    // Nebraska, corn: below 20 ppm after corn, below 15 after soybean, 4 lb a ppm up to 25; 17 ppm: 32 lb or none.
    const need = (options: PlanField["guideOptions"]) =>
      recommend(guideById("nebraska"), {
        ...{ crop: "corn", nutrient: "P2O5", yieldBuPerAc: 60, test: 17, testMethod: "bray-p1" },
        options: options ?? {},
      } as Parameters<typeof recommend>[1]).lbPerAc;
    const own = { guide: "nebraska", guideOptions: { previousCrop: "soybean" } };
    expect(need(own.guideOptions)).toBe(0);
    const made = nextOf(own, 0, 0);
    expect(made.field.guideOptions).toEqual({ previousCrop: "corn" });
    expect(need(made.field.guideOptions)).toBe(32);
    expect(made.told).toEqual([
      `${field!.name}: previousCrop taken as corn, last season's crop; if another stood there since, answer option.previousCrop.${field!.id} or change guideOptions in plan.json`,
    ]);
    const ofP = { nutrients: { P2O5: own, K2O: { maxLbPerAc: 90 } } };
    expect(nextOf(ofP, 0, 0).field.nutrients).toEqual({
      P2O5: { guide: "nebraska", guideOptions: { previousCrop: "corn" } },
      K2O: { maxLbPerAc: 90 },
    });
    // Wheat is none of the guide's choices: asked, and what is answered stands.
    expect(() => nextOf({ ...own, crop: "wheat" }, 0, 0)).toThrow(
      expect.objectContaining({
        questions: [expect.objectContaining({ key: `option.previousCrop.${field!.id}` })],
      }),
    );
    // For this field alone it goes before one for all.
    const alone = { "option.previousCrop": "soybean", [`option.previousCrop.${field!.id}`]: "corn" };
    expect(nextOf({ ...own, crop: "wheat" }, 0, 0, "corn", alone).field.guideOptions).toEqual({
      previousCrop: "corn",
    });
    const answered = nextOf({ ...own, crop: "wheat" }, 0, 0, "corn", { "option.previousCrop": "soybean" });
    expect(answered.field.guideOptions).toEqual({ previousCrop: "soybean" });
    expect(answered.told).toEqual([
      `${field!.name}: previousCrop is soybean as answered, though last season's crop is wheat`,
    ]);
    expect(nextOf(own, 0, 0, "soybean").field.guideOptions).toBeUndefined();
  });
});
