import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readPlan, run, writePlan } from "../../src/plan/index.ts";
import { writeManifest } from "../../src/publish/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

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
  test("a scale reading below zero is refused", async () => {
    const { error } = await json("fills", folder, "--done-after", "2", "--bin-lb=-900,200");
    expect(error).toMatchObject({
      code: "stand-not-told",
      message: expect.stringContaining("--bin-lb -900"),
    });
  });

  test("a scale below what stays in, or above what the bin holds, is used and named", async () => {
    const { notices } = await json("fills", folder, "--done-after", "2", "--bin-lb", "90000,2");
    expect(notices.map((one: { message: string }) => one.message)).toEqual([
      expect.stringMatching(
        /^bin L, 11-52-0: 90,000 lb is more than the 1,200 lb that the bin holds; it counts as full/,
      ),
      expect.stringMatching(
        /^bin R, 0-0-60: 2 lb is less than the 50 lb that cannot be metered out; it counts as empty/,
      ),
    ]);
    const words = await cli("fills", folder, "--done-after", "2", "--bin-lb", "90000,2");
    expect(words.out).toContain("Notice: bin R, 0-0-60: 2 lb is less than");
    expect((await json("fills", folder, "--done-after", "2", "--bin-lb", "500,700")).notices).toEqual([]);
  });

  test("after the last pass there is nothing to plan: fills and remainder say so, and nothing is written", async () => {
    const lines = (await json("fills", folder)).fields[0].passes;
    const count = lines.length;
    const last = `driven:${count}`;
    for (const verb of [
      ["fills", "--bin-lb", "500,700"],
      ["remainder", "--out", join(folder, "..", "nothing")],
    ]) {
      const told = await cli(verb[0]!, folder, "--done-after", last, ...verb.slice(1));
      expect([told.exit, told.out]).toEqual([2, ""]);
      expect(told.error).toMatch(
        new RegExp(`is finished after pass .* \\(${count} driven\\): nothing is left`),
      );
    }
    expect(existsSync(join(folder, "..", "nothing"))).toBe(false);
  });

  test("fills: figures and words agree; on from a stop by the scale", async () => {
    const [fills] = (await json("fills", folder)).fields;
    const words = await cli("fills", folder);
    expect(words.out).toContain(`${fills.acPerFill.toFixed(1)} acres a fill`);
    const round = (lb: number) => Math.round(lb).toLocaleString("en-US");
    expect(words.out).toContain(`L 11-52-0 ${round(fills.stops[0].scaleBeforeLb[0])}`);
    expect(words.out).toContain("Unconfirmed defaults");
    const [from] = (await json("fills", folder, "--done-after", "driven:10", "--bin-lb", "500,700")).fields;
    // 50 lb of what the scale shows cannot be metered.
    expect(from.passes[10].leftLb[0]).toBeCloseTo(450 - from.passes[10].lb[0], 6);
    const bad = await cli("fills", folder, "--done-after", "driven:10");
    expect(bad.error).toContain("in each of 2 bins");
  });

  test("season: what if beside today; order: price beside the plan's", async () => {
    const season = await json("season", folder, "--tenders", "2", "--hours", "12");
    expect(season.whatIf.acPerDaySteady).toBeGreaterThan(season.acPerDaySteady);
    expect((await cli("season", folder)).out).toContain("in 8 years of 10");
    const both = (await cli("season", folder, "--tenders", "2", "--strip-share", "0.8")).out;
    expect(both).toContain("What if: 2 tenders, 80 % of the strip's pounds\n");
    const order = await json("order", folder, "--price", "0-0-60=520");
    expect(order.whatIf).toEqual([
      { product: "0-0-60", usdPerTon: 520, cost: order.products[1].line.seasonTons * 520 },
    ]);
    expect((await cli("order", folder, "--price", "0-0-60=cheap")).exit).toBe(2);
    const bare = join(base, "unpriced");
    cpSync(folder, bare, { recursive: true });
    const { pricesUsdPerTon: _, ...plan } = JSON.parse(readFileSync(join(bare, "plan.json"), "utf8"));
    writeFileSync(join(bare, "plan.json"), JSON.stringify(plan));
    const unpriced = async (...more: string[]): Promise<string> =>
      (await json("order", bare, ...more)).notices.find((one: { code: string }) => one.code === "no-price")
        .message;
    expect(await unpriced()).toBe("no price is typed for 11-52-0, 0-0-60: its $ are left out");
    expect(await unpriced("--price", "0-0-60=520")).toBe("no price is typed for 11-52-0: its $ are left out");
  });

  test("ledger: a finished pass with nothing placed and a day to come are told", async () => {
    const own = join(base, "told");
    cpSync(folder, own, { recursive: true });
    const codes = async (...words: string[]) =>
      (await json("ledger", own, ...words)).notices.map((one: { code: string }) => one.code);
    expect(await codes("--finish", "low-forty", "--date", "9998-05-01")).toEqual([
      "date-after-today",
      "finished-without-pounds",
    ]);
    expect(await codes("--void", "1", "--why", "not yet", "--date", "2020-01-01")).toEqual([]);
    const events = join(base, "told.json");
    const placed = {
      kind: "placed",
      fieldId: "low-forty",
      pass: "strip",
      product: "11-52-0",
      lb: 900,
      areaAc: 9,
    };
    writeFileSync(events, JSON.stringify([placed]));
    expect(await codes("--add", events, "--date", "2020-01-01")).toEqual([]);
    const [half] = (await json("ledger", own, "--finish", "low-forty", "--date", "2020-01-02")).notices;
    expect(half).toMatchObject({ code: "finished-in-part" });
    expect(half.message).toMatch(
      /^low-forty: finished with 9\.0 of \d+\.\d ac stripped; .*`ledger --void 4 --why TEXT`/,
    );
    const words = await cli("ledger", own, "--void", "4", "--why", "again", "--date", "9998-05-01");
    expect(words.out).toContain("Notice: 9998-05-01 is after today");
    const { areaAc } = (await json("ledger", own)).fields[0];
    writeFileSync(events, JSON.stringify([{ ...placed, lb: 100, areaAc: areaAc - 9 }]));
    await json("ledger", own, "--add", events, "--date", "2020-01-02");
    expect(await codes("--finish", "low-forty", "--date", "2020-01-02")).toEqual([]);
  });

  test("ledger: acres and pounds no field has, one bin alone, the same twice", async () => {
    const own = join(base, "beyond");
    cpSync(folder, own, { recursive: true });
    const events = join(base, "beyond.json");
    const line = { kind: "placed", fieldId: "low-forty", pass: "strip", product: "0-0-60" };
    writeFileSync(events, JSON.stringify([{ ...line, lb: 90_000, areaAc: 900 }]));
    const codes = (told: { notices: { code: string }[] }) => told.notices.map(({ code }) => code);
    const wrong = ["placed-beyond-field", "placed-beyond-map", "bin-not-entered"];
    expect(codes(await json("ledger", own, "--add", events, "--date", "2020-01-01"))).toEqual(wrong);
    const shown = await json("ledger", own);
    expect(codes(shown)).toEqual(wrong);
    expect(shown.fields[0]).toMatchObject({ state: "part stripped", missing: ["11-52-0"] });
    const { error } = await json("ledger", own, "--add", events, "--date", "2020-01-01");
    expect(error).toMatchObject({ code: "placed-twice", remedy: expect.stringContaining("--again") });
    await json("ledger", own, "--add", events, "--date", "2020-01-01", "--again");
    await json("ledger", own, "--void", "1", "--why", "typo");
    expect((await cli("ledger", own)).out).toMatch(/^ {2}1 .* - taken back by line 3$/m);
    expect((await cli("ledger", own)).out).toMatch(/^ {2}2 .*\(typed\)$/m);
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
    const build = async () =>
      expect((await cli("build", folder, "--out", out, "--quiet", "--overwrite")).exit).toBe(0);
    const ledger = join(folder, "ledger.txt");
    renameSync(ledger, `${ledger}.later`); // built before the field was finished
    await build();
    expect(existsSync(join(out, "prescriptions/strip"))).toBe(true);
    renameSync(`${ledger}.later`, ledger);
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
    expect(frozen.error).toContain("finished in Low Forty");
    await build();
    expect(existsSync(join(out, "prescriptions/strip"))).toBe(false);
    const rows = readFileSync(join(out, "order.csv"), "utf8").trim().split(/\r?\n/).slice(1);
    const inStrip = rows.filter((row) => row.includes(",strip,low-forty,"));
    expect(inStrip.length).toBe(2);
    for (const row of inStrip)
      expect(row).toContain("pass finished by the ledger: no file, nothing of it to order");
    const farm = rows.find((row) => row.startsWith("11-52-0,all,whole farm,"))!;
    const lb = inStrip.find((row) => row.startsWith("11-52-0,"))!.split(",")[4];
    expect(farm).toContain(`${lb} lb of it in finished passes`);
    expect(readFileSync(join(out, "plan/ledger.txt"))).toEqual(readFileSync(ledger));
    expect((await cli("check", out)).exit).toBe(0);
    const { entries } = await json("ledger", folder);
    const finished = entries.find((entry: { kind: string }) => entry.kind === "finished");
    await json("ledger", folder, "--void", `${finished.number}`, "--why", "not yet");
    await build();
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

  test("applied: logs of both products to catch-up maps; check speaks up when the planned maps lie beside them", async () => {
    const plan = readPlan(readFileSync(join(folder, "plan.json")), "plan.json");
    const result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
    const logs = ["11-52-0", "0-0-60"].map((product, bin) => {
      const path = join(base, `${product}.csv`);
      writeFileSync(path, logCsv(driveField(plan, result.fields[0]!, bin, { skips: [9] }), "DRY"));
      return `${product}=${path}`;
    });
    const words = ["--log", logs[0]!, "--log", logs[1]!];
    const tickets = join(base, "tickets.json");
    writeFileSync(tickets, JSON.stringify({ "11-52-0": { startLb: 400, tickets: [[32_500, 31_000]] } }));
    const out = join(base, "catch-up");
    const told = await json("applied", folder, ...words, "--tickets", tickets, "--out", out);
    const [field] = told.fields;
    expect(field.products.map((one: { product: string }) => one.product)).toEqual(["11-52-0", "0-0-60"]);
    expect(field.products[0].tickets.usedLb).toBe(1900);
    expect(field.catchUp.voids[0]).toContain("_BC_");
    expect(readdirSync(join(out, "prescriptions/broadcast"))).toContain(
      `${field.catchUp.prescriptions[0].stem}.shp`,
    );
    expect((await cli("check", out)).exit).toBe(0);
    // Both on one stick: made by hand, with a manifest that knows them.
    const both = join(base, "both");
    mkdirSync(both);
    const [planned] = field.catchUp.voids;
    const names = [planned.replace("_BC_", "_CU_"), planned];
    expect(field.catchUp.prescriptions.map((one: { stem: string }) => one.stem)).toContain(names[0]);
    const files = new Map(names.map((name) => [`RX/${name}_A.shp`, new TextEncoder().encode(name)]));
    mkdirSync(join(both, "RX"));
    for (const [path, bytes] of files) writeFileSync(join(both, path), bytes);
    writeFileSync(
      join(both, "manifest.json"),
      writeManifest({ files, planSha256: "0".repeat(64), toolVersion: "0" }),
    );
    const clash = await cli("check", both, "--json");
    expect(JSON.parse(clash.out).error.code).toBe("catch-up-and-broadcast");
    const unknown = await cli("applied", folder, "--log", logs[0]!.slice("11-52-0=".length));
    expect(unknown.error).toContain("which product");
    const read = await cli("applied", folder, ...words);
    expect(read.out).toContain("covered");
    expect(read.out).not.toMatch(/NaN|undefined/);
  });

  test("applied --into-ledger, then remainder by that log and by passes", async () => {
    const log = `11-52-0=${join(base, "11-52-0.csv")}`;
    const before = (await json("ledger", folder)).entries.length;
    await json("applied", folder, "--log", log, "--into-ledger", "--date", "2027-04-19");
    const { entries } = await json("ledger", folder);
    expect(entries.slice(before)).toMatchObject([
      { kind: "placed", product: "11-52-0", from: "log", date: "2027-04-19" },
    ]);
    await json("ledger", folder, "--void", `${entries.length}`, "--why", "a try");
    const out = join(base, "left");
    const left = await json(
      "remainder",
      folder,
      "--done-after",
      "driven:20",
      "--out",
      out,
      "--rate",
      "0-0-60=60",
    );
    expect(left.areaAc).toBeGreaterThan(1);
    expect(left.done).toMatch(/^after pass -?\d+ \(20 driven\)$/);
    // Its parts are driven with other passes between them: the number alone does not say after which.
    const pass = /pass (-?\d+)/.exec(left.done)![1]!;
    const { error } = await json("remainder", folder, `--done-after=${pass}`);
    expect(error).toMatchObject({ code: "pass-in-parts", remedy: expect.stringContaining("driven:20") });
    expect((await cli("check", out)).exit).toBe(0);
    // What stick takes, under names of its own, with one sheet that says what it is.
    const usb = join(base, "left-usb");
    mkdirSync(usb);
    const stick = await cli("stick", out, "--to", usb, "--answer", "zero-rate=off");
    expect([stick.exit, stick.error]).toEqual([0, ""]);
    expect(stick.out).toMatch(/_REM1152_A {2}.*least 0 lb\/ac/);
    const sheet = readFileSync(join(usb, "CAB_A.html"), "utf8");
    expect(sheet.match(/<section class="page"/g)).toHaveLength(1);
    expect(sheet).toContain(": the remainder</h1>");
    expect(sheet).toContain(`Remainder ${left.done}`);
    // A controller that must not get a 0 gets its small rate on worked ground too, and the words say so.
    const small = await cli(
      ...["remainder", folder, "--done-after", "driven:20", "--out", join(base, "left-small")],
      ...["--answer", "zero-rate=small:5"],
    );
    expect(small.out).toContain("have 5 lb/ac in the fallback");
    expect(small.out).toMatch(/to load first: \S+_REM1152F/);
    const result = JSON.parse(readFileSync(join(base, "left-small", "result.json"), "utf8"));
    expect(result.prescriptions[0].load).toEqual(["fallback"]);
    const plain = join(base, "left-plain");
    const other = await json(
      "remainder",
      folder,
      "--done-after",
      "driven:20",
      "--out",
      plain,
      "--instead",
      "11-52-0=18-46-0",
    );
    expect(other.prescriptions[0]).toMatchObject({
      product: "18-46-0",
      stem: expect.stringContaining("_REM1846"),
    });
    expect((await cli("check", plain)).exit).toBe(0);
    const strange = await cli(
      "remainder",
      folder,
      "--done-after",
      "driven:20",
      "--instead",
      "10-34-0=18-46-0",
    );
    expect(strange.error).toContain("no strip map here is of 10-34-0");
    const byLog = await json("remainder", folder, "--log", log);
    expect(byLog.areaAc).toBeLessThan(1.2);
    const notice = "11-52-0: its log says “DRY”; taken for 11-52-0";
    expect(byLog.notices).toMatchObject([
      { code: "taken-as-worked" },
      { code: "log-product-name", message: notice },
    ]);
    expect((await cli("remainder", folder, "--log", log)).out).toContain(notice);
    const none = await cli("remainder", folder);
    expect(none.error).toContain("told in one way");
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
    const noted = join(base, "noted");
    cpSync(folder, noted, { recursive: true });
    const plan = JSON.parse(readFileSync(join(noted, "plan.json"), "utf8"));
    const acknowledged = { by: "the farm's agronomist", date: "2027-03-01" };
    writeFileSync(
      join(noted, "plan.json"),
      JSON.stringify({ ...plan, seed: { distanceIn: 3, acknowledged } }),
    );
    const again = await cli("new", join(base, "after"), "--from", noted, "--answer", "yield=190");
    expect(again.error).toContain("the farm's agronomist took note of the salt near the seed was for 2027");
    expect(JSON.parse(readFileSync(join(base, "after/plan.json"), "utf8")).seed).toEqual({ distanceIn: 3 });
    // What is answered and asked nowhere is told, as of a plan from files.
    const passed = await cli(
      ...["new", join(base, "passed"), "--from", folder],
      ...["--answer", "yield=190", "--answer", "critical-level.P=20"],
    );
    expect(passed.error).toContain("the answer critical-level.P=20 changes nothing here");
    expect(passed.error).not.toContain("the answer yield=190");
    const asked = await cli("new", join(base, "third"), "--from", folder);
    expect(asked.exit).toBe(3);
    expect(asked.error).toContain("yield");
  });
});
