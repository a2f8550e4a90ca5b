import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type FieldFills, type Plan, readPlan, run, writePlan } from "../../src/plan/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { logLayersZip } from "../support/log-files.ts";
import { unfoldAll, violationsOn } from "./support/axe.ts";
import {
  allIsDone,
  describeInBrowser,
  launch,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

const sizes = [
  { width: 1280, height: 800 },
  { width: 768, height: 1024 },
] as const;

/** Where screenshots go, when somebody wants to look. */
const shots = process.env.SHOTS;
const shoot = async (page: Page, name: string): Promise<void> => {
  if (shots !== undefined) await page.screenshot({ path: join(shots, `${name}.png`) });
};

/** Zoom, then read out a place by keys, by mouse and by touch: placed, planned and their difference agree. */
async function readOutApplied(page: Page): Promise<void> {
  const canvas = page.locator(".maplibregl-canvas");
  const value = async (label: string) => {
    const text = (await page.locator(".read-out .row", { hasText: label }).locator("dd").textContent()) ?? "";
    return Number(text.replace("−", "-").replace(/ lb\/ac.*/, ""));
  };
  const title = page.locator(".read-out h2");
  const agrees = async () => {
    await page.locator(".read-out .row", { hasText: "0-0-60 placed" }).waitFor();
    for (const product of ["11-52-0", "0-0-60"]) {
      const planned = await value(`${product} in the strip`);
      const off = (await value(`${product} placed`)) - planned - (await value(`${product} less planned`));
      expect(Math.abs(off), (await title.textContent()) ?? "").toBeLessThanOrEqual(1);
    }
  };
  await canvas.focus();
  await page.keyboard.press("ArrowUp");
  await agrees();
  const scale = () => page.locator("svg.marks").textContent();
  const before = await scale();
  await page.keyboard.press("+");
  await page.waitForFunction((was) => document.querySelector("svg.marks")?.textContent !== was, before);
  await page.getByRole("button", { name: "Whole field" }).click();
  await page.waitForFunction((was) => document.querySelector("svg.marks")?.textContent === was, before);
  await page.getByRole("button", { name: "Let the read-out go" }).click();
  const box = (await canvas.boundingBox())!;
  await page.mouse.move(box.x + box.width * 0.3, box.y + box.height * 0.45);
  await agrees();
  const hovered = await title.textContent();
  await page.touchscreen.tap(box.x + box.width * 0.6, box.y + box.height * 0.55);
  await page.waitForFunction((was) => document.querySelector(".read-out h2")?.textContent !== was, hovered);
  await agrees();
}

describeInBrowser("fills, season, order, applied", () => {
  let browser: Browser;
  let served: Served;
  const base = mkdtempSync(join(tmpdir(), "page-season-"));
  const folder = join(base, "spring");
  let plan: Plan;
  let fills: FieldFills;

  beforeAll(async () => {
    cpSync(sample("single-field"), folder, { recursive: true });
    const bare = barePlan(readPlan(readFileSync(join(folder, "plan.json")), "plan.json"));
    plan = {
      ...bare,
      rig: {
        ...bare.rig,
        bins: bare.rig.bins.map((bin) => ({ ...bin, volumeFt3: 90 })),
        work: { mph: 7, hoursPerDay: 11 },
      },
      tender: { count: 1, lb: 24_000, tripMin: 110 },
      season: {
        start: "2027-04-10",
        workableDays: [{ from: "2027-04-10", to: "2027-05-31", daysPerWeek: 3.5 }],
        planters: [{ id: "planter", acPerDay: 240, startsOn: "2027-04-20" }],
      },
      pricesUsdPerTon: { "11-52-0": 780, "0-0-60": 480 },
    };
    writeFileSync(join(folder, "plan.json"), writePlan(plan));
    fills = JSON.parse((await cli("fills", folder, "--json")).out).fields[0];
    const source = {
      list: async () => [],
      read: async (path: string) => new Uint8Array(readFileSync(join(folder, path))),
    };
    const result = await run(plan, source, { files: "later" });
    const begun = driveField(plan, result.fields[0]!, 1, { upTo: 4 });
    writeFileSync(join(base, "layers.zip"), logLayersZip({ day1: begun, day2: begun }, "DRY", 40));
    for (const [bin, name] of ["p.csv", "k.csv"].entries()) {
      writeFileSync(
        join(base, name),
        logCsv(driveField(plan, result.fields[0]!, bin, { skips: [20] }), "DRY", 40),
      );
      writeFileSync(
        join(base, `begun-${name}`),
        logCsv(driveField(plan, result.fields[0]!, bin, { upTo: 30 }), "DRY", 40),
      );
    }
    browser = await launch();
    served = await servePage(folder);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(base, { recursive: true, force: true });
  });

  it.each(sizes)(
    "$width x $height: the command line's stops, the season, the order, a log; no axe violation",
    async (viewport) => {
      const context = await browser.newContext({ viewport, hasTouch: true });
      const { page, faults } = await watchedPage(context, served.url);
      const shot = (name: string) => shoot(page, `${viewport.width}-${name}`);
      await page.goto(`${served.url}#north-kettle/fills`);
      await page.waitForSelector(".bench table caption:has-text('Stops')", { timeout: 90_000 });
      const rows = await page.$$eval(".bench .wide-table:first-of-type tbody tr", (all) =>
        all.map((row) => row.textContent ?? ""),
      );
      const startLb = fills.plan.feasible ? fills.plan.startLb : [];
      const first = startLb.map((lb, b) => Math.round(lb + fills.residualLb[b]!).toLocaleString("en-US"));
      expect(first).toHaveLength(2);
      expect(await page.getByText(/^Before the first pass load until the scales read/).textContent()).toMatch(
        new RegExp(`: ${first[0]}; .*: ${first[1]} lb: `),
      );
      const stops = rows.slice(0, fills.stops.length);
      fills.stops.forEach((stop, s) => {
        for (const lb of stop.loadLb) expect(stops[s]).toContain(Math.round(lb).toLocaleString("en-US"));
        expect(stops[s]).toContain(stop.at);
      });
      expect(await page.$$eval("svg.marks g[data-stop]", (all) => all.length)).toBe(fills.stops.length);
      await allIsDone(page);
      await page.waitForSelector("text=in 8 years of 10", { timeout: 90_000 });
      const found = (await violationsOn(page)).map((one) => `fills ${one}`);
      await shot("fills");
      if (viewport.width > 1000) {
        await unfoldAll(page);
        found.push(...(await violationsOn(page)).map((one) => `fills, all open: ${one}`));
        await page.evaluate(() => {
          location.hash = "#farm/order";
        });
        await page.waitForSelector("h3:has-text('To order')", { timeout: 90_000 });
        found.push(...(await violationsOn(page)).map((one) => `order ${one}`));
        await shot("order");
        // 20 tons booked of a product of which 24,279 lb are wanted: nothing more to order, 15,721 lb left.
        await page.getByText("On hand and booking").click();
        const enter = page.getByRole("button", { name: "Enter it in the record" });
        await page.getByLabel("Product", { exact: true }).selectOption("0-0-60");
        await page.getByLabel("Tons", { exact: true }).fill("-5");
        await page
          .getByText("What is booked is a number above 0; to book less, choose “cancelled”.")
          .waitFor();
        expect(await enter.isDisabled()).toBe(true);
        await page.getByLabel("Tons", { exact: true }).fill("20");
        await enter.click();
        const bought = page.getByRole("region", { name: "Bought and still to order" });
        await bought.waitFor({ timeout: 30_000 });
        const row = bought.locator("tbody tr", { hasText: "0-0-60" });
        expect(await row.locator("td").allTextContents()).toEqual(
          expect.arrayContaining(["24,279", "20.0", "0.0", "15,721", "$9,600"]),
        );
        await page.getByLabel("What happened").selectOption("delivered");
        await page.getByLabel("Tons", { exact: true }).fill("-1");
        await page.getByText("no more can be taken back").waitFor();
        expect(await enter.isDisabled()).toBe(true);
        found.push(...(await violationsOn(page)).map((one) => `order, bought ${one}`));
        await shot("order-bought");
      }
      await page.evaluate(() => {
        location.hash = "#north-kettle/applied";
      });
      await page.setInputFiles("input[aria-label='Log of 11-52-0']", join(base, "p.csv"));
      await page.setInputFiles("input[aria-label='Log of 0-0-60']", join(base, "k.csv"));
      await page.waitForSelector("h3:has-text('Catch-up')", { timeout: 90_000 });
      expect(await page.textContent(".bench")).toMatch(/takes? the place of .*_BC_/);
      expect(await page.textContent(".bench")).toMatch(
        /delete \S+_BC_\S+, in any form, .*from stick and display first.*by hand onto an empty stick/,
      );
      const legend = page.getByRole("region", { name: "Legend" });
      expect(await legend.locator("h2").textContent()).toBe("Placed, 11-52-0");
      await page
        .getByRole("group", { name: "Product on the plat" })
        .getByRole("radio", { name: "0-0-60", exact: true })
        .check();
      await legend.locator("h2", { hasText: "Placed, 0-0-60" }).waitFor();
      // Told apart without colour: what is less is broken across, what is more parted along.
      const signs = await legend
        .locator("tbody tr")
        .evaluateAll((rows) =>
          rows.map((row) =>
            row.querySelector("[stroke-dasharray]")
              ? "broken"
              : row.querySelectorAll("path").length > 1
                ? "parted"
                : "hairline",
          ),
        );
      expect(signs).toEqual([...Array(3).fill("parted"), "hairline", ...Array(3).fill("broken")]);
      await readOutApplied(page);
      found.push(...(await violationsOn(page)).map((one) => `applied ${one}`));
      await shot("applied");
      expect(found).toEqual([]);
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
      ).toBeLessThanOrEqual(0);
      expect(faults).toEqual([]);
      await context.close();
    },
    240_000,
  );

  it("no catch-up map is made of ground that is yet to be stripped", async () => {
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/applied`);
    const catchUp = page.getByRole("button", { name: "Make catch-up map" });
    const choose = async (start: string) => {
      await page.setInputFiles("input[aria-label='Log of 11-52-0']", join(base, `${start}p.csv`));
      await page.setInputFiles("input[aria-label='Log of 0-0-60']", join(base, `${start}k.csv`));
      await page.waitForSelector("h3:has-text('Catch-up')", { timeout: 90_000 });
    };
    await choose("begun-");
    await page.getByText(/the strip pass is not finished: [\d.]+ of 150\.5 ac are not driven yet/).waitFor();
    expect(await catchUp.isDisabled()).toBe(true);
    expect(await page.textContent(".bench")).not.toMatch(/_CU_\S+ takes? the place of/);
    await page.getByText(/nothing takes? the place of .*_BC_\S+ yet/).waitFor();
    // The other bin's log of all of it: a file of the first may lack.
    await page.setInputFiles("input[aria-label='Log of 11-52-0']", join(base, "p.csv"));
    await page.getByText(/the log of 0-0-60 has no reading, not even of rate 0, on [\d.]+ ac/).waitFor();
    await page.getByText(/^No catch-up before all of the field's logs are given/).waitFor();
    expect(await catchUp.isDisabled()).toBe(true);
    await choose("");
    await page.getByText(/_CU_\S+ takes? the place of .*_BC_/).waitFor();
    expect(await catchUp.isEnabled()).toBe(true);
    expect(faults).toEqual([]);
    await context.close();
  });

  it("no catch-up map is made of one log for two products, and the reason stands beside", async () => {
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/applied`);
    const catchUp = page.getByRole("button", { name: "Make catch-up map" });
    const choose = (product: string, name: string) =>
      page.setInputFiles(`input[aria-label='Log of ${product}']`, join(base, name));
    await choose("11-52-0", "p.csv");
    await page.locator(".bench").getByRole("heading", { name: "11-52-0" }).waitFor();
    await choose("0-0-60", "p.csv");
    const reason = page.getByText(/^No catch-up map is made of these logs: /);
    await reason.waitFor();
    expect(await catchUp.isDisabled()).toBe(true);
    expect(await page.textContent(".bench")).not.toMatch(/takes? the place of/);
    await choose("0-0-60", "k.csv");
    await reason.waitFor({ state: "detached" });
    expect(await catchUp.isEnabled()).toBe(true);
    expect(faults).toEqual([]);
    await context.close();
  });

  it("a log that is refused leaves the one that counts, by its name, and its figures", async () => {
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/applied`);
    const bench = page.locator(".bench");
    const refused = bench.getByRole("alert");
    const bad = async (name: string, text: string) => {
      writeFileSync(join(base, name), text);
      await page.setInputFiles("input[aria-label='Log of 0-0-60']", join(base, name));
    };
    await page.waitForSelector("input[aria-label='Log of 0-0-60']", { state: "attached" });
    await bad("none.csv", "lon,lat\n");
    await refused.getByText("“none” is not taken as the log of 0-0-60; 0-0-60 has no log.").waitFor();
    await page.setInputFiles("input[aria-label='Log of 11-52-0']", join(base, "p.csv"));
    await bench.getByRole("heading", { name: "11-52-0" }).waitFor();
    await page.setInputFiles("input[aria-label='Log of 0-0-60']", join(base, "k.csv"));
    await bench.getByRole("heading", { name: "0-0-60" }).waitFor();
    const figures = () => bench.locator("ul.small").allTextContents();
    const before = await figures();
    for (const [name, text] of [
      ["empty.csv", "lon,lat\n"],
      ["other-field.csv", readFileSync(join(base, "k.csv"), "utf8").replaceAll(/-84\.(\d+)/g, "-83.$1")],
    ] as const) {
      await bad(name, text);
      const stem = name.replace(".csv", "");
      await refused.getByText(`“${stem}” is not taken as the log of 0-0-60; “k” still counts.`).waitFor();
      expect(await bench.locator("dl.lines .file-of").allTextContents()).toEqual([
        "pOther log",
        "kOther log",
      ]);
      expect(await figures()).toEqual(before);
    }
    await page.setInputFiles("input[aria-label='Log of 0-0-60']", join(base, "layers.zip"));
    await refused
      .getByText("Which layer of layers is the log of the work done, or are all of them days or parts")
      .waitFor();
    await refused.getByText("Unzip the file and choose the files of all layers").waitFor();
    const make = page.getByRole("button", { name: "Make catch-up map" });
    expect(await make.isEnabled()).toBe(true);
    const saved = page.waitForEvent("download");
    await make.click();
    await saved;
    await page
      .getByRole("list", { name: "What to copy of the catch-up maps" })
      .getByText("Copy by hand from prescriptions/broadcast onto an empty stick.")
      .waitFor();
    await shoot(page, "applied-refused");
    expect(faults).toEqual([]);
    await context.close();
  }, 240_000);

  it("a plan without a rig asks for it; what is typed is a named edit and the stops stand there", async () => {
    const bareFolder = join(base, "bare");
    cpSync(sample("single-field"), bareFolder, { recursive: true });
    writeFileSync(join(bareFolder, "plan.json"), writePlan(barePlan(plan)));
    const bare = await servePage(bareFolder);
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page, faults } = await watchedPage(context, bare.url);
    await page.goto(`${bare.url}#north-kettle/fills`);
    await page.waitForSelector("text=Type bin volumes and speed", { timeout: 90_000 });
    for (const [label, value] of [
      ["Bin L, 11-52-0: struck volume", "90"],
      ["Bin R, 0-0-60: struck volume", "90"],
      ["Speed", "7"],
    ] as const) {
      const input = page.getByLabel(label, { exact: true });
      await input.fill(value);
      await input.blur();
    }
    await page.waitForSelector(".bench table caption:has-text('Stops')", { timeout: 90_000 });
    expect(await page.textContent("body")).toContain("speed 7 mph");
    expect(faults).toEqual([]);
    await context.close();
    await bare.close();
  });
});
