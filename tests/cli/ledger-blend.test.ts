// Pounds of the plan's own blend, typed into the ledger by its name as its maps bear it.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "ledger-blend-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let folder: string;
beforeAll(() => {
  folder = join(base, "farm");
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  const plan = seasonPlanDocument();
  const bins = [{ ...plan.rig.bins[0]!, product: "mix", lbPerFt3: 60 }];
  const { book: _, terms: __, ...order } = plan.order!;
  writeFileSync(
    join(folder, "plan.json"),
    writePlan({
      ...plan,
      blends: [{ id: "mix", of: ["11-52-0", "0-0-60"], fit: "typed", shares: [0.6, 0.4], rate: "no-excess" }],
      rig: { ...plan.rig, bins },
      order,
    }),
  );
});

const written = (events: readonly object[]): string => {
  const file = join(base, "events.json");
  writeFileSync(file, JSON.stringify(events));
  return file;
};
const add = async (event: object) => {
  const file = written([{ kind: "placed", fieldId: "low-forty", pass: "strip", areaAc: 5, ...event }]);
  return await cli("ledger", folder, "--add", file, "--json");
};

test("oxides of a blend come from the ratio that the plan finds, or as they are typed; the order takes them off", async () => {
  const before = JSON.parse((await cli("order", folder, "--json")).out);
  const told = await add({ product: "mix", lb: 500 });
  expect(told.exit).toBe(0);
  // 0.6 x 52 % of 500 lb; 0.4 x 60 % of 500 lb.
  expect(JSON.parse(told.out).written[0]).toMatchObject({ product: "mix", lb: 500 });
  expect(JSON.parse(told.out).written[0].p2o5Lb).toBeCloseTo(156, 6);
  expect(JSON.parse(told.out).written[0].k2oLb).toBeCloseTo(120, 6);
  const mixed = (text: string) =>
    JSON.parse(text).notices.find(({ code }: { code: string }) => code === "mixed-today")?.message;
  expect(mixed(told.out)).toContain("mix counts as it is mixed in the plan now, 31.2 % P2O5 and 24.0 % K2O");
  const typed = await add({ product: "mix", lb: 100, areaAc: 1, p2o5Lb: 30, k2oLb: 25 });
  expect(JSON.parse(typed.out).written[0]).toMatchObject({ p2o5Lb: 30, k2oLb: 25 });
  expect(mixed(typed.out)).toBeUndefined();
  const after = JSON.parse((await cli("order", folder, "--json")).out);
  const leftLb = (order: typeof before): number =>
    order.products
      .flatMap((one: { byField: { fieldId: string; stripLb: number }[] }) => one.byField)
      .filter(({ fieldId }: { fieldId: string }) => fieldId === "low-forty")
      .reduce((lb: number, { stripLb }: { stripLb: number }) => lb + stripLb, 0);
  expect(leftLb(before) - leftLb(after)).toBeCloseTo(600, 0);
});

test("what is neither a product nor a blend of the plan is refused", async () => {
  const { exit, error, out } = await add({ product: "mox", lb: 500 });
  expect(exit).toBe(2);
  expect(error + out).toContain('there is no product \\"mox\\"');
  expect(error + out).toContain("Name one of mix, 11-52-0");
});

test("pounds on no acres, and a map without a name, are refused by their place in the list", async () => {
  const placed = await add({ product: "11-52-0", lb: 8400, areaAc: 0 });
  expect(placed.exit).toBe(2);
  expect(placed.error + placed.out).toContain("[0].areaAc: pounds on 0 ac: type the acres they lie on");
  const loaded = await cli(
    "ledger",
    folder,
    "--add",
    written([{ kind: "loaded", fieldId: "low-forty", map: "", revision: "1" }]),
  );
  expect(loaded.exit).toBe(2);
  expect(loaded.error).toContain("[0].map");
});
