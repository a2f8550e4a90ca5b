import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "season-plan-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let folder: string;
beforeAll(() => {
  folder = join(base, "spring");
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  const plan = seasonPlanDocument();
  const { id } = plan.fields[0]!;
  const fields = plan.fields.map((field) => ({ ...field, rotation: ["corn", "soybean"] }));
  const book = [
    ...plan.order!.book!,
    { date: "2027-03-20", kind: "delivered" as const, product: "11-52-0", supplier: "elevator", tons: 1.2 },
  ];
  expect(id).toBe("low-forty");
  writeFileSync(join(folder, "plan.json"), writePlan({ ...plan, fields, order: { ...plan.order, book } }));
});
const json = async (...words: string[]) => {
  const told = await cli(...words, "--json");
  expect(told.error).toBe("");
  return JSON.parse(told.out);
};

describe("on a plan", () => {
  test("fills: figures and words agree; on from a stop by the scale", async () => {
    const [fills] = (await json("fills", folder)).fields;
    const words = await cli("fills", folder);
    expect(words.out).toContain(`${fills.acPerFill.toFixed(1)} acres a fill`);
    const round = (lb: number) => Math.round(lb).toLocaleString("en-US");
    expect(words.out).toContain(`L 11-52-0 ${round(fills.stops[0].scaleBeforeLb[0])}`);
    expect(words.out).toContain("Unconfirmed defaults");
    const [from] = (await json("fills", folder, "--done-after", "10", "--bin-lb", "500,700")).fields;
    // 50 lb of what the scale shows cannot be metered.
    expect(from.passes[10].leftLb[0]).toBeCloseTo(450 - from.passes[10].lb[0], 6);
    const bad = await cli("fills", folder, "--done-after", "10");
    expect(bad.error).toContain("in each of 2 bins");
  });

  test("season: what if beside today; order: price beside the plan's", async () => {
    const season = await json("season", folder, "--tenders", "2", "--hours", "12");
    expect(season.whatIf.acPerDaySteady).toBeGreaterThan(season.acPerDaySteady);
    expect((await cli("season", folder)).out).toContain("in 8 years of 10");
    const order = await json("order", folder, "--price", "0-0-60=520");
    expect(order.whatIf).toEqual([
      { product: "0-0-60", usdPerTon: 520, cost: order.products[1].line.orderTons * 520 },
    ]);
    expect((await cli("order", folder, "--price", "0-0-60=cheap")).exit).toBe(2);
  });

  test("ledger: written, shown, taken back; it changes season and order; finished is frozen", async () => {
    const before = await json("season", folder);
    const events = join(base, "events.json");
    writeFileSync(
      events,
      JSON.stringify([
        { kind: "placed", fieldId: "low-forty", pass: "strip", product: "11-52-0", lb: 900, areaAc: 9 },
        { kind: "placed", fieldId: "low-forty", pass: "strip", product: "0-0-60", lb: 500, areaAc: 9 },
      ]),
    );
    const { written } = await json("ledger", folder, "--add", events, "--date", "2027-04-18");
    expect(written[0]).toMatchObject({ number: 1, date: "2027-04-18", p2o5Lb: 468, from: "typed" });
    expect((await json("ledger", folder)).fields[0]).toMatchObject({ state: "part stripped", strippedAc: 9 });
    const half = await json("season", folder);
    expect(half.acres).toBeCloseTo(before.acres - 9, 9);
    const order = await json("order", folder);
    await json("ledger", folder, "--void", "1", "--why", "wrong field");
    const more = await json("order", folder);
    expect(more.products[0].line.netLb - order.products[0].line.netLb).toBeCloseTo(900, 6);
    await json("ledger", folder, "--finish", "low-forty", "--date", "2027-04-20");
    expect((await json("ledger", folder)).fields[0]).toMatchObject({ state: "short", frozen: true });
    const again = await cli("ledger", folder, "--add", events);
    expect(again.exit).toBe(2);
    expect(again.error).toContain("was finished");
    expect((await cli("ledger", folder)).out).toContain("line 1 taken back: wrong field");
    const stranger = await cli("ledger", folder, "--finish", "north");
    expect(stranger.error).toContain("no field “north”");
  });

  test("stick: what goes on it stands in the ledger; a finished field is left out", async () => {
    const out = join(base, "out");
    expect((await cli("build", folder, "--out", out, "--quiet")).exit).toBe(0);
    mkdirSync(join(base, "stick"));
    const frozen = await cli(
      "stick",
      out,
      "--to",
      join(base, "stick"),
      "--plan",
      folder,
      "--answer",
      "zero-rate=off",
    );
    expect(frozen.exit).toBe(2);
    expect(frozen.error).toContain("finished in low-forty");
    const { entries } = await json("ledger", folder);
    const finished = entries.find((entry: { kind: string }) => entry.kind === "finished");
    await json("ledger", folder, "--void", `${finished.number}`, "--why", "not yet");
    const told = await cli(
      "stick",
      out,
      "--to",
      join(base, "stick"),
      "--plan",
      folder,
      "--answer",
      "zero-rate=off",
    );
    expect(told.error).toContain("2 lines written into the plan's ledger");
    expect((await json("ledger", folder)).entries.at(-1)).toMatchObject({ kind: "loaded", revision: "A" });
  });

  test("new --from: next season's plan from plan and ledger", async () => {
    await json("ledger", folder, "--add", join(base, "events.json"));
    const next = join(base, "next");
    const told = await cli("new", next, "--from", folder, "--answer", "yield=190");
    expect(told.error).toContain("credited nowhere");
    const made = JSON.parse(readFileSync(join(next, "plan.json"), "utf8"));
    expect(made.seasonYear).toBe(seasonPlanDocument().seasonYear + 1);
    expect(made.fields[0]).toMatchObject({ crop: "corn", yieldBuPerAc: 190, rotation: ["corn", "soybean"] });
    expect(made.fields[0].credits).toBeUndefined();
    expect(made.season).toMatchObject({ start: "2028-04-10", planters: [{ startsOn: "2028-04-20" }] });
    expect(made.carried[0]).toMatchObject({ field: "low-forty", state: "part stripped" });
    // 500 lb and 1.2 tons delivered less the 900 lb placed that stand.
    expect(made.order).toEqual({
      terms: [{ product: "11-52-0", supplier: "elevator", freightUsdPerTon: 18, onHandLb: 2000 }],
    });
    expect(made.pricesUsdPerTon).toBeUndefined();
    expect((await cli("fills", next)).exit).toBe(0);
    const asked = await cli("new", join(base, "third"), "--from", folder);
    expect(asked.exit).toBe(3);
    expect(asked.error).toContain("yield");
  });
});
