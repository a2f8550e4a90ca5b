import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { beginHistory, letGo, redone, undone, withEdit } from "../../app/src/state/edits.ts";
import { withCap } from "../../app/src/state/plan-edits.ts";
import { readHash, writeHash } from "../../app/src/state/route.ts";
import { signedGap } from "../../app/src/state/signed-gap.ts";
import { readPlan } from "../../src/plan/index.ts";
import { sample } from "./support/browser.ts";

const plan = readPlan(new Uint8Array(readFileSync(join(sample("single-field"), "plan.json"))), "plan.json");
const capped = (capLbPerAc: number) => ({ ...plan, split: { ...plan.split, capLbPerAc } });

describe("named edits", () => {
  it("undo and redo bring back the very plan, with the edit's name", () => {
    const begun = Object.freeze(beginHistory(plan));
    const edited = withEdit(begun, "strip cap 150 → 140 lb/ac", capped(140));
    expect(edited.past.at(-1)?.name).toBe("strip cap 150 → 140 lb/ac");
    const back = undone(edited);
    expect(back.plan).toBe(plan);
    expect(back.future[0]?.name).toBe("strip cap 150 → 140 lb/ac");
    expect(redone(back).plan).toBe(edited.plan);
  });

  it("count a drag as one edit, named by its last move, and begin a new one once it is let go", () => {
    const first = withEdit(beginHistory(plan), "150 → 149", capped(149), "cap");
    const moved = withEdit(withEdit(first, "150 → 145", capped(145), "cap"), "150 → 140", capped(140), "cap");
    expect(moved.past.map((edit) => edit.name)).toEqual(["150 → 140"]);
    expect(undone(moved).plan).toBe(plan);
    const again = withEdit(letGo(moved), "140 → 130", capped(130), "cap");
    expect(again.past.map((edit) => edit.name)).toEqual(["150 → 140", "140 → 130"]);
  });

  it("forget what could be redone once another edit is made", () => {
    const back = undone(withEdit(beginHistory(plan), "a", capped(140)));
    expect(withEdit(back, "b", capped(120)).future).toEqual([]);
  });

  it("do nothing at either end", () => {
    const begun = beginHistory(plan);
    expect([undone(begun), redone(begun)]).toEqual([begun, begun]);
  });
});

describe("addresses", () => {
  it.each([
    ["#farm", { sheet: "farm", field: "", part: "" }],
    ["#farm/order", { sheet: "order", field: "", part: "" }],
    ["#cab-sheet", { sheet: "cab-sheet", field: "", part: "" }],
    ["#north-kettle/cab-sheet", { sheet: "cab-sheet", field: "north-kettle", part: "" }],
    ["#north-kettle/soil/P", { sheet: "soil", field: "north-kettle", part: "P" }],
    ["#north-kettle/need/K2O", { sheet: "need", field: "north-kettle", part: "K2O" }],
    ["#north-kettle/split", { sheet: "split", field: "north-kettle", part: "" }],
    ["#north-kettle/strips/0-0-60", { sheet: "strips", field: "north-kettle", part: "0-0-60" }],
    ["#/strips", { sheet: "strips", field: "", part: "" }],
    ["#/soil/P", { sheet: "soil", field: "", part: "P" }],
  ] as const)("%s is read and written the same", (hash, route) => {
    expect(readHash(hash)).toEqual({ ...route, unknown: false });
    expect(writeHash(route)).toBe(hash);
  });

  it.each(["#nothing", "#north-kettle/nothing", "#farm/nothing", "#/nothing", "#%"])(
    "%s is unknown and shows the farm",
    (hash) => {
      expect(readHash(hash)).toMatchObject({ sheet: "farm", unknown: true });
    },
  );
});

it("before, now and their difference subtract as they are shown", () => {
  expect(signedGap("8.13", "8.11")).toBe("−0.02");
  expect(signedGap("4.90", "6.99")).toBe("+2.09");
  expect(signedGap("13,750", "8,499")).toBe("−5,251");
});

it("a cap typed in kilograms is named in them on both sides", () => {
  const plan = readPlan(new Uint8Array(readFileSync(join(sample("single-field"), "plan.json"))), "plan.json");
  // 1 lb/ac is 1.12085 kg/ha (src/units, from definitions).
  expect(withCap(plan, 178.44, 200, "metric").name).toBe("strip cap 224.2 → 200 kg/ha");
  expect(withCap(plan, 180.5, 200).name).toBe("strip cap 200 → 180.5 lb/ac");
});
