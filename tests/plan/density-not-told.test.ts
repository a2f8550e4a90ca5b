import { describe, expect, it } from "vitest";
import {
  binsWithoutDensity,
  missingRigKeys,
  type Plan,
  rigFigures,
  run,
  seasonOfPlan,
} from "../../src/plan/index.ts";
import { densityNotices } from "../../src/plan/rig/rig-figures.ts";
import { sheetFiles } from "../../src/report/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const season = seasonPlanDocument();

/** Bin R with potassium sulfate, the one listed product that no source gives a density of. */
function sulfatePlan(lbPerFt3?: number): Plan {
  const [l, r] = season.rig.bins;
  const { lbPerFt3: _, ...bin } = { ...r!, product: "0-0-50-17S" };
  return {
    ...season,
    rig: { ...season.rig, bins: [l!, lbPerFt3 === undefined ? bin : { ...bin, lbPerFt3 }] },
  };
}

const worked = (plan: Plan) => run(plan, sourceOf(smallFarmFiles()));

describe("a bin whose product has no published density", () => {
  it("keeps back fills and season alone: maps and order are those of a weighed one, and a notice says what to weigh", async () => {
    const [unknown, weighed] = [await worked(sulfatePlan()), await worked(sulfatePlan(70))];
    const pounds = ({ fields }: typeof unknown) =>
      fields.flatMap(({ prescriptions }) => prescriptions.map((map) => [map.stem, map.totalLb]));
    expect(pounds(unknown).some(([stem, lb]) => String(stem).includes("005017S") && Number(lb) > 0)).toBe(
      true,
    );
    expect(pounds(unknown)).toEqual(pounds(weighed));
    const [before, after] = [sheetFiles(unknown), sheetFiles(weighed)].map((files) => [...files.keys()]);
    expect(after!.filter((path) => !before!.includes(path))).toEqual(["fills.html", "season.html"]);
    expect(before).toContain("order.html");
    const told = (result: typeof unknown) => result.notices.filter(({ code }) => code === "density-not-told");
    expect(told(unknown)).toEqual([
      {
        code: "density-not-told",
        message:
          "bin R: no density of 0-0-50-17S is published: give rig.bins[1].lbPerFt3 as weighed, and acres a fill and a day, stops and season are worked out; maps and order do not wait for it",
        where: "rig.bins[1].lbPerFt3",
      },
    ]);
    expect(told(weighed)).toEqual([]);
    expect(() => seasonOfPlan(unknown.plan, unknown.fields)).toThrow(
      "the plan does not tell rig.bins[1].lbPerFt3 (bin R)",
    );
  });

  it("is a key that the rig lacks, by the parts of a blend too; the error says what to weigh", () => {
    expect(missingRigKeys(season)).toEqual([]);
    expect(missingRigKeys(sulfatePlan(70))).toEqual([]);
    expect(missingRigKeys(sulfatePlan())).toEqual(["rig.bins[1].lbPerFt3 (bin R)"]);
    const blend = { id: "mix", of: ["11-52-0", "0-0-50-17S"], fit: "cover-both" } as const;
    const [l] = season.rig.bins;
    const { lbPerFt3: _, ...bin } = { ...l!, product: "mix" };
    const mixed: Plan = { ...season, rig: { ...season.rig, bins: [bin] }, blends: [blend] };
    expect(binsWithoutDensity(mixed)).toEqual([
      { bin: "L", key: "rig.bins[0].lbPerFt3", products: ["0-0-50-17S"], blend: "mix" },
    ]);
    // The figure is of what the bin holds: that of the part alone would be wrong for the blend.
    expect(densityNotices(mixed)[0]!.message).toBe(
      "bin L: it holds the blend mix, and no density of 0-0-50-17S is published: give rig.bins[0].lbPerFt3 as weighed of the blend, not of this part, and acres a fill and a day, stops and season are worked out; maps and order do not wait for it",
    );
    expect(() => rigFigures(mixed)).toThrow(
      expect.objectContaining({
        remedy: expect.stringMatching(
          /^Weigh a known volume of the blend mix as the bin holds it, no density of 0-0-50-17S in it is published; type /,
        ),
      }),
    );
    expect(() => rigFigures(sulfatePlan())).toThrow(
      expect.objectContaining({
        code: "rig-not-told",
        remedy: expect.stringMatching(
          /^Weigh a known volume of 0-0-50-17S, of which no density is published; type /,
        ),
      }),
    );
  });

  it("is not asked for where speed and volumes are not told either", async () => {
    const { work: _, ...rig } = sulfatePlan().rig;
    const { season: __, ...plan } = sulfatePlan();
    expect((await worked({ ...plan, rig })).notices.map(({ code }) => code)).not.toContain(
      "density-not-told",
    );
  });
});
