// Logs simulated from a known truth, through the command, in every form that a terminal hands out: passes left out, a
// meter that follows late, scales that say 7 % more and 7 % less than the log.
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type FieldResult, type Plan, run, workedPasses, writePlan } from "../../src/plan/index.ts";
import { type DrivenPoint, driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { logPointsZip, logTaskDataZip } from "../support/log-files.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "applied-logs-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const folder = join(base, "spring");
const plan: Plan = seasonPlanDocument();
const products = ["11-52-0", "0-0-60"] as const;
const WIDTH_FT = 30;
const SKIPS = [9, 14];
const LAG_S = 2;
const FACTORS = [1.07, 0.93] as const;
const M_PER_S = 7 * 0.44704;

let field: FieldResult;
let driven: DrivenPoint[][];
beforeAll(async () => {
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan(plan));
  field = (await run(plan, sourceOf(smallFarmFiles()), { files: "later" })).fields[0]!;
  driven = [0, 1].map((bin) => driveField(plan, field, bin, { skips: SKIPS, lagS: LAG_S }));
  const tickets = products.map((product, bin) => {
    // A reading a second at 7 mph: what the meter believes, by nothing but the truth.
    const meterLb = driven[bin]!.reduce(
      (lb, { applied }) => lb + (applied * WIDTH_FT * (M_PER_S / 0.3048)) / 43_560,
      0,
    );
    const usedLb = FACTORS[bin]! * meterLb;
    return [product, { startLb: 300, endLb: 800, tickets: [[20_500 + usedLb, 20_000]] }];
  });
  writeFileSync(join(base, "tickets.json"), JSON.stringify(Object.fromEntries(tickets)));
});

const write = (name: string, bytes: Uint8Array | string): string => {
  writeFileSync(join(base, name), bytes);
  return join(base, name);
};
const merged = (names: readonly string[]): string => {
  const tables = products.map((_, b) => logCsv(driven[b]!, names[b]!, WIDTH_FT).trimEnd().split("\r\n"));
  // A row of one, a row of the other.
  const rows = tables[0]!.slice(1).flatMap((row, k) => [row, tables[1]![k + 1]!]);
  return `${[tables[0]![0]!, ...rows].join("\r\n")}\r\n`;
};

const forms: Readonly<Record<string, () => string[]>> = {
  "a CSV a product": () =>
    products.flatMap((product, b) => [
      "--log",
      `${product}=${write(`${b}.csv`, logCsv(driven[b]!, "DRY", WIDTH_FT))}`,
    ]),
  "one CSV of both": () => ["--log", write("both.csv", merged(products))],
  "one CSV of both, called otherwise": () => [
    ...["--log", write("other.csv", merged(["MAP", "Potash"]))],
    ...["--answer", "log-product.MAP=11-52-0", "--answer", "log-product.Potash=0-0-60"],
  ],
  "points in a shapefile a product": () =>
    products.flatMap((product, b) => [
      "--log",
      write(`points-${b}.zip`, logPointsZip(driven[b]!, product, WIDTH_FT)),
    ]),
  "task data, both products in one time log": () => [
    "--log",
    write("task.zip", logTaskDataZip(driven, products, WIDTH_FT)),
  ],
};

test("a log of two products given for one: what is not read of it is told, and nothing where it is given for both", async () => {
  const path = write("two.csv", merged(products));
  const one = await cli("applied", folder, "--log", `11-52-0=${path}`);
  const count = driven[1]!.length.toLocaleString("en-US");
  expect(one.error).toContain(
    `Notice: two.csv is given for 11-52-0, and its readings of other products are not read: ${count} of 0-0-60. Give it without a product, --log ${path}, to have all of it read`,
  );
  expect(one.out).toContain("no log of 0-0-60: taken as planned");
  const both = await cli("applied", folder, "--log", `11-52-0=${path}`, "--log", `0-0-60=${path}`);
  expect([both.exit, both.error]).toEqual([0, ""]);
  expect((await cli("applied", folder, "--log", path)).error).toBe("");
});

test("pounds typed as used give the factor of a log, and start and end weights do without a refill", async () => {
  const log = `11-52-0=${write("used.csv", logCsv(driven[0]!, "DRY", WIDTH_FT))}`;
  const of = async (ticket: object) => {
    const tickets = write("used.json", JSON.stringify({ "11-52-0": ticket }));
    const told = await cli("applied", folder, "--log", log, "--tickets", tickets, "--json");
    expect(told.error).toBe("");
    return JSON.parse(told.out).fields[0].products[0];
  };
  const { loggedLb, meterFactorFrom } = await of({ usedLb: 1 });
  expect(meterFactorFrom).toBe("none");
  const usedLb = Math.round(1.04 * loggedLb);
  const typed = await of({ usedLb });
  expect(typed).toMatchObject({ meterFactorFrom: "typed", tickets: { usedLb } });
  expect(typed.meterFactor).toBeCloseTo(usedLb / loggedLb, 9);
  expect(await of({ startLb: 500 + usedLb, endLb: 500 })).toMatchObject({
    meterFactorFrom: "tickets",
    meterFactor: typed.meterFactor,
  });
});

test("catch-up maps are not written while the strip pass is not finished", async () => {
  const half = driveField(plan, field, 0, { upTo: 10 });
  const log = `11-52-0=${write("half.csv", logCsv(half, "DRY", WIDTH_FT))}`;
  const out = join(base, "half-out");
  const told = await cli("applied", folder, "--log", log, "--out", out);
  expect(told.error).toContain("the strip pass is not finished");
  expect(existsSync(out)).toBe(false);
  expect((await cli("applied", folder, "--log", log)).out).toMatch(/not driven yet \d+\.\d, skipped \d/);
});

describe.each(Object.keys(forms))("%s", (form) => {
  test("skips, lag and both meters are found, and the catch-up brings what lacks", async () => {
    const told = await cli(
      "applied",
      folder,
      ...forms[form]!(),
      "--tickets",
      join(base, "tickets.json"),
      "--json",
    );
    expect(told.error).toBe("");
    const [applied] = JSON.parse(told.out).fields;
    expect(applied.products.map((one: { product: string }) => one.product)).toEqual(products);
    const passes = workedPasses(plan, field);
    const skippedAc = SKIPS.reduce((ac, k) => ac + passes[k]!.areaAc, 0);
    for (const [b, one] of applied.products.entries()) {
      expect(Math.abs(one.meterFactor / FACTORS[b]! - 1), `${one.product} factor`).toBeLessThan(0.01);
      expect(one.meterFactorFrom).toBe("tickets");
      expect(one.tickets.notices.map((notice: { code: string }) => notice.code)).toContain("meter-off");
      expect(one.placedLb).toBeCloseTo(one.meterFactor * one.insideLb, 6);
      expect(Math.abs(one.lag.lagSeconds - LAG_S), `${one.product} lag`).toBeLessThanOrEqual(0.5);
      expect(Math.abs(one.skippedAc / skippedAc - 1), `${one.product} skips`).toBeLessThan(0.1);
      // Planned less the passes left out, times what the scale found.
      const done = passes.reduce((lb, pass, k) => lb + (SKIPS.includes(k) ? 0 : pass.lb[b]!), 0);
      expect(Math.abs(one.placedLb / (FACTORS[b]! * done) - 1), `${one.product} pounds`).toBeLessThan(0.03);
    }
    for (const balance of applied.catchUp.balances) {
      const { stripLb, broadcastLb, creditsLb, shortageLb, excessLb, roundingLb, needLb } = balance;
      expect(stripLb + broadcastLb + creditsLb + shortageLb - excessLb - roundingLb).toBeCloseTo(needLb, 6);
    }
  });
});

test("a name that is no product of the plan is asked about, by name", async () => {
  const told = await cli("applied", folder, "--log", write("names.csv", merged(["MAP", "Potash"])));
  expect(told.exit).toBe(2);
  expect(told.error).toMatch(/holds MAP, Potash; “MAP” is none of the plan's products/);
  expect(told.error).toContain("--answer log-product.MAP=11-52-0");
  const spaced = await cli("applied", folder, "--log", write("names.csv", merged(["MAP 11-52", "Potash"])));
  expect(spaced.error).toContain('--answer "log-product.MAP 11-52=11-52-0", of:');
  const one = await cli(
    "applied",
    folder,
    "--log",
    `0-0-60=${write("names.csv", merged(["0-0-60", "Lime"]))}`,
  );
  expect(one.exit).toBe(0);
  expect(one.out).toContain("0-0-60");
});

test("no log: scale tickets or typed pounds are enough, and go into the ledger with the map that was loaded", async () => {
  const planned = (bin: number) => field.prescriptions.filter((map) => map.pass === "strip")[bin]!;
  const path = write(
    "pounds.json",
    JSON.stringify({
      "11-52-0": { startLb: 100, endLb: 50, tickets: [[20_000 + 0.95 * planned(0).totalLb - 50, 20_000]] },
      "0-0-60": { usedLb: 800 },
    }),
  );
  const loaded = { kind: "loaded", fieldId: field.field.id, map: `${planned(0).stem}_B`, revision: "B" };
  await cli("ledger", folder, "--add", write("loaded.json", JSON.stringify([loaded])));
  const told = await cli("applied", folder, "--tickets", path, "--into-ledger", "--json");
  expect(told.error).toBe("");
  const [applied] = JSON.parse(told.out).fields;
  expect(applied.products).toEqual([]);
  expect(applied.byPounds[0].lb).toBeCloseTo(0.95 * planned(0).totalLb, 6);
  const { entries } = JSON.parse((await cli("ledger", folder, "--json")).out);
  expect(entries.slice(-2)).toMatchObject([
    { product: "11-52-0", map: `${planned(0).stem}_B`, revision: "B", from: "tickets" },
    { product: "0-0-60", lb: 800, map: planned(1).stem, revision: "", from: "typed", k2oLb: 480 },
  ]);
  expect((await cli("applied", folder, "--tickets", path)).out).toContain("in proportion to the map");
  const twice = write("twice.json", '{"0-0-60":{"tickets":[[79420,31260],[79420,31260]]}}');
  const loud = await cli("applied", folder, "--tickets", twice);
  expect(loud.out).toMatch(/^Notice: 0-0-60: 96,320 LB WENT OUT, [\d.,]+ TIMES THE MAP'S/m);
  expect(loud.out).toMatch(/^Notice: 0-0-60: tickets 1 and 2 hold the same weighings, 79,420 and 31,260 lb/m);
  expect((await cli("applied", folder)).error).toContain("without logs --tickets");
});

test("read tells what each product of a log comes to", async () => {
  const path = write("task.zip", logTaskDataZip(driven, products, WIDTH_FT));
  const facts = JSON.parse((await cli("read", path, "--as", "applied", "--json")).out);
  expect(Object.keys(facts.appliedLbOf)).toEqual(products);
  const lb = Object.values(facts.appliedLbOf as Record<string, number>);
  expect(lb[0]! + lb[1]!).toBeCloseTo(facts.appliedLb, 6);
  // Both go over the same ground: its acres count once.
  expect(facts.coveredAcres).toBeLessThan(1.1 * field.checked.areaAc);
});

test("a product that is none of the plan's is told as that, and no file is looked for", async () => {
  const told = await cli("applied", folder, "--log", `46-0-0=${join(base, "0.csv")}`);
  expect([told.exit, told.out]).toEqual([2, ""]);
  expect(told.error).toContain("“46-0-0” is none of the plan's products");
  expect(told.error).toContain("Name one of: 11-52-0, 0-0-60.");
});

test("the log of a broadcast pass is refused as that", async () => {
  const own = join(base, "spread-only");
  cpSync(folder, own, { recursive: true });
  const text = JSON.parse(readFileSync(join(own, "plan.json"), "utf8"));
  const spreader = { ...text.spreader, products: ["0-46-0", "0-0-60"] };
  writeFileSync(join(own, "plan.json"), JSON.stringify({ ...text, spreader }));
  const told = await cli("applied", own, "--log", `0-46-0=${join(base, "0.csv")}`);
  expect([told.exit, told.out]).toEqual([2, ""]);
  expect(told.error).toContain("0-46-0 is spread, and only logs of the strip pass are read");
});

test("the plan's product changed after the pass: refused with what works, the build from before as PLAN", async () => {
  const [build, changed] = [join(base, "build-before"), join(base, "changed")];
  expect((await cli("build", folder, "--out", build, "--quiet")).exit).toBe(0);
  cpSync(folder, changed, { recursive: true });
  const bins = plan.rig.bins.map((bin) => (bin.product === "11-52-0" ? { ...bin, product: "18-46-0" } : bin));
  writeFileSync(join(changed, "plan.json"), writePlan({ ...plan, rig: { ...plan.rig, bins } }));
  const logs = products.flatMap((product, b) => [
    "--log",
    `${product}=${write(`before-${b}.csv`, logCsv(driven[b]!, "DRY", WIDTH_FT))}`,
  ]);
  const refused = await cli("applied", changed, ...logs);
  expect([refused.exit, refused.error]).toEqual([
    2,
    expect.stringContaining("give the build from before the change as PLAN"),
  ]);
  const both = await cli("applied", changed, "--log", write("both-before.csv", merged(products)));
  expect(both.error).toContain("give the build from before the change as PLAN");
  const told = await cli("applied", build, ...logs);
  expect([told.exit, told.out]).toEqual([0, expect.stringContaining("11-52-0: ")]);
});

test("a log with one name in its column Product is taken by the answer, and one figure is in the field", async () => {
  const log = write("potash.csv", logCsv(driven[1]!, "Potash", WIDTH_FT));
  const asked = await cli("applied", folder, "--log", log);
  expect(asked.error).toContain("(“Potash”)");
  expect(asked.error).toContain("log-product.Potash=");
  const told = await cli("applied", folder, "--log", log, "--answer", "log-product.Potash=0-0-60");
  expect(told.exit).toBe(0);
  const [, placed] = /^0-0-60: ([\d,]+) lb placed/m.exec(told.out)!;
  expect(told.out).toContain(` = ${placed} in the field + `);
  expect(told.out).not.toContain("its log says");
});

test("what looks like another product's log is told, and kept out of the ledger", async () => {
  const log = `11-52-0=${write("wrong.csv", logCsv(driven[1]!, "", WIDTH_FT))}`;
  expect((await cli("applied", folder, "--log", log)).out).toMatch(
    /^Notice: 11-52-0: .*look whether it is the log of 0-0-60$/m,
  );
  const before = JSON.parse((await cli("ledger", folder, "--json")).out).entries.length;
  const refused = await cli("applied", folder, "--log", log, "--into-ledger", "--json");
  expect([refused.exit, JSON.parse(refused.out).error.code]).toEqual([2, "doubtful-log"]);
  expect(JSON.parse((await cli("ledger", folder, "--json")).out).entries).toHaveLength(before);
});

/** A plan folder of its own, with an empty ledger. */
const ownFolder = (): string => {
  const own = mkdtempSync(join(base, "own-"));
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(own, path), bytes);
  writeFileSync(join(own, "plan.json"), writePlan(plan));
  return own;
};
const entriesOf = async (own: string) => JSON.parse((await cli("ledger", own, "--json")).out).entries;

test("the same work a second time in another unit is refused, on whatever day", async () => {
  const inLbPerAc = logCsv(driven[1]!, "", WIDTH_FT);
  // 1.12085 kg/ha a lb/ac, by the definitions of pound and acre.
  const [heading, ...rows] = inLbPerAc.trimEnd().split("\r\n");
  const inKgPerHa = rows.map((row) =>
    row
      .split(",")
      .map((cell, k) => (k === 4 || k === 5 ? (1.12085 * Number(cell)).toFixed(1) : cell))
      .join(","),
  );
  const again = ownFolder();
  const enter = (path: string, ...more: string[]) =>
    cli("applied", again, "--log", `0-0-60=${path}`, "--into-ledger", ...more);
  const first = await enter(write("lb.csv", inLbPerAc), "--date", "2027-04-18");
  expect(first.error).not.toContain("by the ledger");
  const text = [heading!.replaceAll("lb_ac", "kg_ha"), ...inKgPerHa].join("\r\n");
  const inKg = write("kg.csv", text);
  const second = await enter(inKg, "--date", "2027-04-19", "--json");
  expect([second.exit, JSON.parse(second.out).error.code]).toEqual([2, "placed-twice"]);
  expect(JSON.parse(second.out).error.message).toContain("entry 1 of 2027-04-18");
  expect(await entriesOf(again)).toHaveLength(1);
  const meant = await enter(inKg, "--again");
  expect([meant.exit, meant.out.includes("1 line written into the plan's ledger.")]).toEqual([0, true]);
  expect(meant.error).toMatch(
    /^Notice: .*by the ledger [\d,.]+ lb 0-0-60 in its strip pass, (1\.[6-9]|2\.\d) times the map's/m,
  );
});

describe("work of two days", () => {
  const DAY_S = 86_400;
  const first = 10;
  const upToFirst = [...Array(first).keys()];
  const days = (bin: number) => {
    const one = driveField(plan, field, bin, { upTo: first });
    const two = driveField(plan, field, bin, { skips: upToFirst }).map((point) => ({
      ...point,
      seconds: point.seconds + DAY_S,
    }));
    return [one, two].map((points, d) =>
      write(`day-${d + 1}-${bin}.csv`, logCsv(points, products[bin]!, WIDTH_FT)),
    );
  };
  const logs = (paths: readonly (string | undefined)[]) => paths.flatMap((path) => ["--log", path!]);

  test("catch-up maps want the logs of all the days that the ledger has", async () => {
    const own = ownFolder();
    const [left, right] = [days(0), days(1)];
    await cli("applied", own, ...logs([left[0], right[0]]), "--into-ledger", "--date", "2027-04-18");
    const before = await cli("applied", own, ...logs([left[1], right[1]]));
    expect(before.out).toMatch(/NOT ALL THAT WAS LAID IS IN THESE LOGS, [\d.]+ ac not in these logs/);
    expect(before.out).toMatch(
      /^Notice: .*entry 1 of 2027-04-18, [\d,]+ lb 11-52-0 on [\d.]+ ac; entry 2 of/m,
    );
    expect(before.out).not.toMatch(/not driven yet|--finish|^Catch-up|Takes the place/m);
    await cli("applied", own, ...logs([left[1], right[1]]), "--into-ledger", "--date", "2027-04-19");
    await cli("ledger", own, "--finish", field.field.id);
    const out = join(base, "two-days-out");
    const half = await cli("applied", own, ...logs([left[1], right[1]]), "--out", out, "--json");
    expect([half.exit, JSON.parse(half.out).error.code]).toEqual([2, "logs-missing"]);
    expect(existsSync(out)).toBe(false);
    const all = logs([left[1], left[0], right[0], right[1]]);
    const whole = await cli("applied", own, ...all, "--out", out);
    expect([whole.exit, whole.error]).toEqual([0, ""]);
    expect(existsSync(out)).toBe(true);
    // Whatever order the days are given in.
    expect(whole.out).not.toContain("left out");
    // What the ledger does not take leaves no maps behind either.
    const none = join(base, "two-days-none");
    const twice = await cli("applied", own, ...all, "--into-ledger", "--out", none, "--json");
    expect([twice.exit, JSON.parse(twice.out).error.code, existsSync(none)]).toEqual([
      2,
      "field-finished",
      false,
    ]);
  });

  test("of a pass that is not finished --out and --into-ledger give balance and ledger, and say that no map is written", async () => {
    const own = ownFolder();
    const [left, right] = [days(0), days(1)];
    const out = join(base, "unfinished-out");
    const one = ["applied", own, ...logs([left[0], right[0]]), "--out", out];
    const alone = await cli(...one, "--json");
    expect([alone.exit, JSON.parse(alone.out).error.code]).toEqual([2, "strip-not-finished"]);
    expect(await entriesOf(own)).toHaveLength(0);
    const told = await cli(...one, "--into-ledger", "--date", "2027-04-18");
    expect([told.exit, existsSync(out)]).toEqual([4, false]);
    expect(await entriesOf(own)).toHaveLength(2);
    expect(told.out).toMatch(/^lb of +need +in the strip/m);
    expect(told.out).toContain("2 lines written into the plan's ledger.");
    expect(told.out).toMatch(
      new RegExp(
        `^Nothing was written into ${out}: .*strip pass is not finished.*What was laid is in the ledger`,
        "m",
      ),
    );
    expect(told.error).toBe("");
    // So the second day alone is known for what it is.
    const next = await cli("applied", own, ...logs([left[1], right[1]]), "--out", out, "--json");
    expect([next.exit, JSON.parse(next.out).error.code]).toEqual([2, "logs-missing"]);
  });

  test("all the days' logs do not go into a ledger that has the first of them", async () => {
    const own = ownFolder();
    const [left] = [days(0)];
    await cli("applied", own, ...logs([left[0]]), "--into-ledger");
    const both = await cli("applied", own, ...logs(left), "--into-ledger", "--json");
    expect([both.exit, JSON.parse(both.out).error.code]).toEqual([2, "placed-twice"]);
    const second = await cli("applied", own, ...logs([left[1]]), "--into-ledger");
    expect([second.exit, (await entriesOf(own)).length]).toEqual([0, 2]);
  });

  test("a remainder by the second day's log alone is refused: the first day's ground would be laid again", async () => {
    const own = ownFolder();
    const [left] = [days(0)];
    await cli("applied", own, ...logs([left[0]]), "--into-ledger");
    const told = await cli("remainder", own, ...logs([left[1]]), "--json");
    expect([told.exit, JSON.parse(told.out).error.code]).toEqual([2, "logs-missing"]);
    expect((await cli("remainder", own, ...logs([left[0]]))).exit).toBe(0);
  });

  test("a build's copy of its plan is enough to look at logs; only a ledger wants the plan's own folder", async () => {
    const own = ownFolder();
    const out = join(base, "built-for-logs");
    expect((await cli("build", own, "--out", out, "--quiet")).exit).toBe(0);
    const [left, right] = [days(0), days(1)];
    const looked = await cli("applied", out, ...logs([...left, ...right]));
    expect(looked.out).toContain("lb placed");
    expect(looked.exit).toBe(0);
    const written = await cli("applied", out, ...logs([...left, ...right]), "--into-ledger", "--json");
    expect([written.exit, JSON.parse(written.out).error.code]).toEqual([2, "no-plan-folder"]);
  });

  test("a remainder of ground that the ledger has as stripped says so", async () => {
    const own = ownFolder();
    const [left, right] = [days(0), days(1)];
    await cli("applied", own, ...logs([...left, ...right]), "--into-ledger");
    const again = await cli("remainder", own, "--done-after", "driven:3");
    expect(again.exit).toBe(0);
    expect(again.error + again.out).toMatch(
      /Notice: .* BY THE LEDGER [\d.]+ OF [\d.]+ AC ARE STRIPPED, .* would get their product twice/,
    );
  });

  test("work with another product than the map's is in no log: no remainder by the first day's, no catch-up", async () => {
    const own = ownFolder();
    const [left] = [days(0)];
    await cli("applied", own, ...logs([left[0]]), "--into-ledger");
    const events = join(base, "other.json");
    const other = { kind: "placed", pass: "strip", product: "18-46-0", lb: 900, areaAc: 30 };
    writeFileSync(events, JSON.stringify([{ ...other, fieldId: field.field.id }]));
    expect((await cli("ledger", own, "--add", events)).exit).toBe(0);
    const told = await cli("remainder", own, ...logs([left[0]]), "--json");
    expect([told.exit, JSON.parse(told.out).error.code]).toEqual([2, "logs-missing"]);
    expect(JSON.parse(told.out).error.message).toMatch(
      /no log of 18-46-0 is read, .* `remainder` by passes \(--done-after\)/,
    );
    const applied = await cli("applied", own, ...logs([left[0]]), "--out", join(base, "other-out"), "--json");
    expect([applied.exit, JSON.parse(applied.out).error.code]).toEqual([2, "logs-missing"]);
    expect(JSON.parse(applied.out).error.message).toContain(
      "the build from before the change as PLAN reads its log",
    );
  });

  test("a product without a log counts as laid where the other's log says that the rig was", async () => {
    const own = ownFolder();
    const log = logs([days(1)[0]]);
    const half = JSON.parse((await cli("applied", own, ...log, "--json")).out).fields[0];
    const [p2o5] = half.catchUp.balances;
    const passes = workedPasses(plan, field);
    const lb = passes.slice(0, first).reduce((sum, pass) => sum + pass.lb[0]!, 0);
    expect(Math.abs(p2o5.stripLb / (0.52 * lb) - 1)).toBeLessThan(0.03);
    expect(half.catchUp).toMatchObject({ prescriptions: [], voids: [] });
    const words = (await cli("applied", own, ...log)).out;
    expect(words).toContain("No catch-up before the strip pass is finished");
    expect(words).not.toMatch(/^Catch-up|Takes the place|hardly worth/m);
  });

  test("pounds of a product without a log lie, and stand in the ledger, on the acres that the other's log covers", async () => {
    const own = ownFolder();
    const lb = workedPasses(plan, field)
      .slice(0, first)
      .reduce((sum, pass) => sum + pass.lb[1]!, 0);
    const tickets = write("half.json", JSON.stringify({ "0-0-60": { usedLb: Math.round(lb) } }));
    const told = await cli(...["applied", own, ...logs([days(0)[0]]), "--tickets", tickets, "--into-ledger"]);
    expect(told.out).not.toMatch(/lb went out and the map has|WENT OUT/);
    const [left, right] = await entriesOf(own);
    expect(right).toMatchObject({ product: "0-0-60", from: "typed", areaAc: left.areaAc });
    expect(left.areaAc).toBeLessThan(0.6 * field.checked.areaAc);
    const [stand] = JSON.parse((await cli("ledger", own, "--json")).out).fields;
    expect(stand.state).toBe("part stripped");
  });
});
