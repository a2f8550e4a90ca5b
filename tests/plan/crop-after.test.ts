import { describe, expect, it } from "vitest";
import { nextSeasonPlan, type Plan } from "../../src/plan/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";

const id = seasonPlanDocument().fields[0]!.id;

/** The small farm's first field with a rotation. */
function planWith(rotation: readonly string[], crop = rotation[0]!): Plan {
  const plan = seasonPlanDocument();
  const [field, ...others] = plan.fields;
  const { guideOptions: _, ...rest } = field!;
  return { ...plan, fields: [{ ...rest, crop, rotation }, ...others] };
}

/** Crops of the next `years` seasons, each planned from the one before, and what was told of them. */
function seasonsAfter(plan: Plan, years: number, answers: Readonly<Record<string, string>> = {}) {
  const crops: string[] = [];
  const told: string[] = [];
  for (let year = 0, last = plan; year < years; year++) {
    const made = nextSeasonPlan(last, "next", "2028-01-10", [], [], new Map(), {
      yield: "60",
      "option.rotation": "corn-soy",
      ...answers,
    });
    last = made.plan;
    crops.push(last.fields[0]!.crop);
    told.push(
      ...made.notices.filter(({ code }) => code === "crop-twice-in-rotation").map(({ message }) => message),
    );
  }
  return { crops, told };
}

describe("the crop of the season after", () => {
  it("goes on in a rotation that has a crop twice", () => {
    const { crops, told } = seasonsAfter(planWith(["corn", "corn", "soybean"]), 7);
    expect(crops).toEqual(["corn", "soybean", "corn", "corn", "soybean", "corn", "corn"]);
    expect(told[0]).toBe(
      `${seasonPlanDocument().fields[0]!.name}: corn follows corn, which stands more than once in the rotation corn, corn, soybean; if soybean is to follow, answer crop.${id}=soybean`,
    );
  });

  it("goes on from the place of an answered crop", () => {
    const plan = planWith(["corn", "corn", "soybean"]);
    const [first] = seasonsAfter(plan, 1, { [`crop.${id}`]: "soybean" }).crops;
    expect(first).toBe("soybean");
    const made = nextSeasonPlan(plan, "next", "2028-01-10", [], [], new Map(), {
      [`crop.${id}`]: "soybean",
      yield: "60",
    });
    expect(made.plan.fields[0]!.rotation).toEqual(["soybean", "corn", "corn"]);
    expect(made.notices.map(({ code }) => code)).not.toContain("crop-twice-in-rotation");
    expect(seasonsAfter(made.plan, 3).crops).toEqual(["corn", "corn", "soybean"]);
  });

  it("leaves a rotation without a crop twice as it was typed", () => {
    const rotation = ["soybean", "corn"];
    const next = nextSeasonPlan(planWith(rotation, "corn"), "next", "2028-01-10", [], [], new Map(), {
      yield: "60",
      "option.rotation": "corn-soy",
    });
    expect(next.plan.fields[0]).toMatchObject({ crop: "soybean", rotation });
    expect(seasonsAfter(planWith(rotation, "corn"), 3)).toEqual({
      crops: ["soybean", "corn", "soybean"],
      told: [],
    });
  });
});
