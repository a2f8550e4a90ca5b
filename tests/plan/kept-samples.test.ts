import { describe, expect, it } from "vitest";
import type { FieldResult, Plan } from "../../src/plan/index.ts";
import { type Change, workedField } from "../support/need-plan.ts";
import { labCsv, SAMPLES } from "../support/small-farm.ts";

/** Two rows of samples more, and one typed tenfold. */
const rows = [
  ...SAMPLES,
  ...SAMPLES.map(([id, lon, lat, ...rest]) => [
    Number(id) + 9,
    Number(lon) + 0.0003,
    Number(lat) + 0.0003,
    ...rest,
  ]),
].map((row) => (row[0] === 5 ? [...row.slice(0, 3), 780, ...row.slice(4)] : row));
const kriged: Plan["maps"] = { cellM: 10, method: "kriging" };
const worked = (field: Change["field"], maps: Plan["maps"] = kriged): Promise<FieldResult> =>
  workedField({ field: field ?? {}, plan: { maps }, files: { "lab.csv": labCsv(rows) } });
const doubts = ({ notices }: FieldResult) => notices.filter(({ code }) => code === "check-sample");
const outliers = ({ maps }: FieldResult) => maps.P!.decisions.find(({ topic }) => topic === "outliers")!;

describe("a sample that its neighbours deny", () => {
  it("is a notice until it is kept with a reason; the map stays the same to the last bit", async () => {
    const before = await worked({});
    expect(doubts(before).map(({ where }) => where)).toEqual([`${before.field.id}: P, sample 5`]);
    const kept = await worked({ kept: [{ sample: "5", test: "P", reason: "an old feed lot" }] });
    expect(doubts(kept)).toEqual([]);
    expect(kept.maps.P!.estimate).toEqual(before.maps.P!.estimate);
    expect(outliers(kept).sentence).toContain("Checked and kept by the user: 5 (an old feed lot).");
    expect(outliers(before).figures).toMatchObject({ check: 1, kept: 0 });
    expect(outliers(kept).figures).toMatchObject({ check: 0, kept: 1 });
  });

  it("kept for one test is still asked about for another, and one that is not there is pointed out", async () => {
    const other = await worked({ kept: [{ sample: "5", test: "K", reason: "looked at" }] });
    expect(doubts(other)).toHaveLength(1);
    const stray = await worked({ kept: [{ sample: "55", test: "P", reason: "looked at" }] });
    expect(stray.notices.find(({ code }) => code === "sample-not-there")?.message).toContain("sample 55");
  });
});

describe("a typed variogram", () => {
  it("brings its own direction, before that of all maps", async () => {
    const typed = { nugget: 5, structures: [{ type: "spherical" as const, partialSill: 80, rangeM: 150 }] };
    const own = { ...typed, anisotropy: { angleDeg: 90, ratio: 0.4 } };
    const maps = { ...kriged, anisotropy: { angleDeg: 0, ratio: 0.4 } };
    const [northward, eastward, alike] = await Promise.all([
      worked({ models: { P: typed } }, maps),
      worked({ models: { P: own } }, maps),
      worked({ models: { P: typed } }),
    ]);
    expect(northward.maps.P!.model?.anisotropy).toEqual({ angleDeg: 0, ratio: 0.4 });
    expect(eastward.maps.P!.model?.anisotropy).toEqual({ angleDeg: 90, ratio: 0.4 });
    expect(alike.maps.P!.model).not.toHaveProperty("anisotropy");
    expect(eastward.maps.P!.estimate).not.toEqual(northward.maps.P!.estimate);
    const direction = eastward.maps.P!.decisions.at(-1)!;
    expect(direction.sentence).toContain("90 degrees");
  });
});
