import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { keysIn, PLACES, placeOfKey } from "../../app/src/state/key-places.ts";

const sheets = resolve(import.meta.dirname, "../../app/src/sheets");
const written = readdirSync(sheets)
  .map((name) => readFileSync(join(sheets, name), "utf8"))
  .join("\n");
const schema = JSON.parse(
  readFileSync(resolve(import.meta.dirname, "../../docs/plan.schema.json"), "utf8"),
) as Schema;

interface Schema {
  readonly properties?: Readonly<Record<string, Schema>>;
}

describe("where a key of the plan is given", () => {
  it("keys are found in words, files and fields are not", () => {
    expect(keysIn("above it on 12 ac; give seed.distanceIn", "seed")).toEqual(["seed.distanceIn"]);
    expect(keysIn("no setbacks entered, none respected", "exclusions")).toEqual(["exclusions"]);
    expect(keysIn("Type tender.lb and tender.tripMin in the plan first.")).toEqual([
      "tender.lb",
      "tender.tripMin",
    ]);
    expect(keysIn("the plan does not tell rig.work.mph, rig.bins[0].volumeFt3.")).toEqual([
      "rig.work.mph",
      "rig.bins[0].volumeFt3",
    ]);
    expect(keysIn("order.html and docs/split.md say so", "north-kettle")).toEqual([]);
  });

  it("the most particular place counts; what the page has no control for is for plan.json", () => {
    expect(placeOfKey("rig.leadS")?.under).toBe("Turns, lead, delays");
    expect(placeOfKey("rig.bins[0].volumeFt3")).toMatchObject({ sheet: "fills", under: "Rig and tender" });
    expect(placeOfKey("season.workableDays")?.sheet).toBe("fills");
    for (const key of ["season.persistence", "fills.headlandMph", "controller.zeroRate", "spreader.products"])
      expect(placeOfKey(key)).toBe(null);
    expect(placeOfKey("rigging.rope")).toBe(undefined);
  });

  it.each(PLACES)("$key is a key of the plan, and $under stands on a sheet", ({ key, under }) => {
    const [first, second] = (key === "planter" ? "rig.planter" : key).split(".");
    const top = schema.properties?.[first!];
    expect(top).toBeDefined();
    if (second) expect(top?.properties?.[second]).toBeDefined();
    expect(written).toContain(under);
  });
});
