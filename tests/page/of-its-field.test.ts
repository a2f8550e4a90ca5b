// What is typed or given for one field stays that field's: where the rig stands, and the logs of its work.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type LedgerEvent, ledgerAddition } from "../../src/ledger/index.ts";
import { type FieldFills, run, writePlan } from "../../src/plan/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { fieldsApart } from "../support/fields-apart.ts";
import { cli } from "../support/in-process-cli.ts";
import { sourceOf } from "../support/small-farm.ts";
import { describeInBrowser, launch, type Served, servePage, watchedPage } from "./support/browser.ts";

const PRODUCTS = ["11-52-0", "0-0-60"] as const;

describeInBrowser("what belongs to a field", () => {
  let browser: Browser;
  let served: Served;
  const base = mkdtempSync(join(tmpdir(), "page-of-its-field-"));
  const folder = join(base, "farm");
  const log = (name: string) => join(base, `${name}.csv`);

  beforeAll(async () => {
    mkdirSync(folder);
    const { plan, files } = fieldsApart();
    for (const [path, bytes] of files) writeFileSync(join(folder, path), bytes);
    writeFileSync(join(folder, "plan.json"), writePlan(plan));
    const { fields } = await run(plan, sourceOf(files), { files: "later" });
    for (const field of fields) {
      for (const bin of [0, 1]) {
        const driven = driveField(plan, field, bin);
        const passes = driveField(plan, field, bin, { upTo: 12 }).length;
        const write = (name: string, points: typeof driven) =>
          writeFileSync(log(`${field.field.id}-${bin}${name}`), logCsv(points, "DRY"));
        write("", driven);
        write("-day-1", driven.slice(0, passes));
        write("-day-2", driven.slice(passes));
      }
    }
    browser = await launch();
    served = await servePage(folder);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(base, { recursive: true, force: true });
  });

  const openAt = async (hash: string) => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#${hash}`);
    return { page, faults, close: () => context.close() };
  };
  const goTo = (page: Page, hash: string) =>
    page.evaluate((to) => {
      location.hash = `#${to}`;
    }, hash);

  it("planned on in one field, the other is planned from its first pass, and the sheet says which", async () => {
    const fillsOf = async (...more: string[]): Promise<FieldFills> =>
      JSON.parse((await cli("fills", folder, "--json", ...more)).out).fields[0];
    const east = await fillsOf("--field", "far-forty");
    const on = ["--field", "low-forty", "--done-after", "driven:10", "--bin-lb", "300,400"];
    const west = await fillsOf(...on);
    const said = /Planned on (after pass \S+ \(10 driven\))\./.exec((await cli("fills", folder, ...on)).out);
    const stops = (fills: FieldFills) => fills.stops.map((stop) => `${stop.passName} (${stop.passesDone})`);
    expect(stops(west)).not.toEqual(stops(east));
    const { page, faults, close } = await openAt("low-forty/fills");
    const shown = async (fills: FieldFills) => {
      await page.waitForFunction(
        (wanted) =>
          [...document.querySelectorAll(".bench .wide-table:first-of-type tbody tr td:nth-child(2)")]
            .map((cell) =>
              [...cell.childNodes]
                .filter((node) => node.nodeType === 3)
                .map((node) => node.textContent)
                .join(""),
            )
            .join() === wanted,
        stops(fills).join(),
      );
    };
    await page.getByText("Bin reads").click();
    for (const [label, value] of [
      ["Passes done", "10"],
      ["Left, 11-52-0, scale reads", "300"],
      ["Right, 0-0-60, scale reads", "400"],
    ] as const) {
      await page.getByLabel(label, { exact: true }).fill(value);
      await page.getByLabel(label, { exact: true }).blur();
    }
    await page.getByRole("button", { name: "Plan on from here" }).click();
    const planned = page.getByText(
      `Planned on ${said![1]}. The fill sheet that is saved is of the whole field, from its first pass.`,
    );
    await planned.waitFor();
    await shown(west);
    await goTo(page, "far-forty/fills");
    await planned.waitFor({ state: "detached" });
    await shown(east);
    await page.getByText("Before the first pass load until the scales read").waitFor();
    await goTo(page, "low-forty/fills");
    await planned.waitFor();
    await shown(west);
    expect(faults).toEqual([]);
    await close();
  }, 240_000);

  it("logs of one field stand in no other's way, and are there when it is shown again", async () => {
    const { page, faults, close } = await openAt("low-forty/applied");
    const bench = page.locator(".bench");
    const give = async (field: string) => {
      for (const [bin, product] of PRODUCTS.entries()) {
        await page.setInputFiles(`input[aria-label='Log of ${product}']`, log(`${field}-${bin}`));
        await bench.getByRole("heading", { name: product }).waitFor();
      }
      await bench
        .getByText(/takes? the place of|0 missing in places/)
        .first()
        .waitFor();
    };
    const named = () => bench.locator("dl.lines .file-of span:first-child").allTextContents();
    await give("low-forty");
    await goTo(page, "far-forty/applied");
    await bench.getByText("Choose the logs of the work done").waitFor();
    expect(await named()).toEqual(["", ""]);
    await give("far-forty");
    expect(await bench.getByRole("alert").count()).toBe(0);
    expect(await named()).toEqual(["far-forty-0", "far-forty-1"]);
    await goTo(page, "low-forty/applied");
    await bench.getByRole("heading", { name: "0-0-60" }).waitFor();
    expect(await named()).toEqual(["low-forty-0", "low-forty-1"]);
    expect(faults).toEqual([]);
    await close();
  }, 240_000);

  it("two days' logs chosen at once are one log, and half a field is told as the command line tells it", async () => {
    const { page, faults, close } = await openAt("low-forty/applied");
    const bench = page.locator(".bench");
    const give = async (days: readonly number[]) => {
      for (const [bin, product] of PRODUCTS.entries())
        await page.setInputFiles(
          `input[aria-label='Log of ${product}']`,
          days.map((day) => log(`low-forty-${bin}-day-${day}`)),
        );
    };
    const told = async (days: readonly number[]): Promise<string> => {
      const logs = PRODUCTS.flatMap((product, bin) =>
        days.flatMap((day) => ["--log", `${product}=${log(`low-forty-${bin}-day-${day}`)}`]),
      );
      return (await cli("applied", folder, "--field", "low-forty", ...logs)).out;
    };
    await give([1]);
    const begun = await told([1]);
    const [, covered, left, skipped] = /covered (\S+) ac, not driven yet (\S+), skipped (\S+),/.exec(begun)!;
    await bench
      .getByText(`Covered ${covered} ac, not driven yet ${left}, skipped ${skipped},`)
      .first()
      .waitFor();
    await bench.getByText(/No catch-up before the strip pass is finished.*\./.exec(begun)![0]).waitFor();
    expect(await bench.getByRole("columnheader", { name: "to broadcast" }).count()).toBe(0);
    await give([1, 2]);
    const [, whole] = /0-0-60: (\S+ lb placed, \S+) lb planned/.exec(await told([1, 2]))!;
    await bench.getByText(`${whole} planned`).waitFor();
    await bench.getByRole("columnheader", { name: "to broadcast" }).waitFor();
    expect(await bench.locator("dl.lines .file-of span:first-child").allTextContents()).toEqual([
      "low-forty-0-day-1, low-forty-0-day-2",
      "low-forty-1-day-1, low-forty-1-day-2",
    ]);
    expect(await bench.getByRole("alert").count()).toBe(0);
    expect(faults).toEqual([]);
    await close();
  }, 240_000);

  it("work that is entered while its sheet stands open counts there once somebody comes back", async () => {
    const { page, faults, close } = await openAt("low-forty/applied");
    const bench = page.locator(".bench");
    for (const [bin, product] of PRODUCTS.entries())
      await page.setInputFiles(`input[aria-label='Log of ${product}']`, log(`low-forty-${bin}-day-1`));
    await bench
      .getByText(/not driven yet/)
      .nth(1)
      .waitFor();
    const other: LedgerEvent = {
      ...({ kind: "placed", fieldId: "low-forty", pass: "strip", product: "0-0-60", lb: 9_000 } as const),
      ...{ areaAc: 38, map: "", revision: "", p2o5Lb: 0, k2oLb: 5_400, from: "typed" },
    };
    const path = join(folder, "ledger.txt");
    writeFileSync(path, ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-18", other));
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    await bench
      .getByText(/not in these logs/)
      .nth(1)
      .waitFor();
    expect(await bench.getByText(/not driven yet/).count()).toBe(0);
    expect(faults).toEqual([]);
    await close();
    rmSync(path);
  }, 240_000);
});
