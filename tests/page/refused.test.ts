import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { toldError } from "../../app/src/engine/told-error.ts";
import { withMethod } from "../../app/src/state/file-edits.ts";
import { withWayThrough } from "../../app/src/state/need-edits.ts";
import { withGuide, withZeroRate } from "../../app/src/state/plan-edits.ts";
import { sha256Hex } from "../../src/formats/index.ts";
import { readPlan, writePlan } from "../../src/plan/index.ts";
import { violationsOn } from "./support/axe.ts";
import {
  allIsDone,
  describeInBrowser,
  launch,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

let served: Served;
let browser: Awaited<ReturnType<typeof launch>>;

/** The page with the sample field's need worked out. */
async function opened(): Promise<{ page: Page; faults: string[] }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, faults } = await watchedPage(context, served.url);
  await page.goto(`${served.url}#north-kettle/need`);
  await allIsDone(page);
  return { page, faults };
}

const guide = (page: Page) => page.getByLabel("Guide", { exact: true });
const refused = (page: Page) => page.getByRole("alert", { name: "The plan cannot be worked out" });
const bigNumber = (page: Page) => page.locator("#bench .number .big").first();

describeInBrowser("a plan that cannot be worked out", () => {
  beforeAll(async () => {
    served = await servePage(sample("single-field"));
    browser = await launch();
  });
  afterAll(async () => {
    await browser.close();
    await served.close();
  });

  it("stands on every sheet, with the figures marked as those before and nothing to take, until it is dealt with", async () => {
    const { page, faults } = await opened();
    const before = await bigNumber(page).textContent();
    await guide(page).selectOption("illinois");
    await refused(page).waitFor();
    expect(await bigNumber(page).textContent()).toBe(`~${before}`);
    expect(await page.locator("#balance [data-part=need]").first().textContent()).toMatch(/~[\d,]+$/);
    expect(await page.getByText("Map of the plan before").isVisible()).toBe(true);
    expect(await page.getByRole("button", { name: "Close", exact: true }).count()).toBe(0);
    expect(await violationsOn(page)).toEqual([]);
    for (const [hash, actions] of [
      ["#north-kettle/split", ["Keep this split"]],
      ["#north-kettle/strips", ["Download zip"]],
      ["#north-kettle/fills", ["Save the fill sheet"]],
      ["#farm/order", ["Save the order sheet"]],
      ["#cab-sheet", ["Print", "Save the cab sheet"]],
    ] as const) {
      await page.evaluate((to) => {
        location.hash = to;
      }, hash);
      for (const name of actions) {
        const action = page.getByRole("button", { name, exact: true });
        await action.waitFor();
        expect(await action.isDisabled(), `${hash} ${name}`).toBe(true);
      }
      expect(await refused(page).isVisible(), hash).toBe(true);
    }
    await refused(page).getByRole("button", { name: "Undo: North Kettle guide set to Illinois" }).click();
    await refused(page).waitFor({ state: "detached" });
    expect(await page.getByRole("button", { name: "Save the cab sheet" }).isDisabled()).toBe(false);
    await page.evaluate(() => {
      location.hash = "#north-kettle/need";
    });
    await page.waitForFunction((was) => document.querySelector("#bench .big")?.textContent === was, before);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("asks only what the plan as it is leaves open, and lists apart the guides that do not read the tests", async () => {
    const { page, faults } = await opened();
    const apart = await guide(page).locator("optgroup option").allTextContents();
    expect(apart).toContain(
      "Illinois: does not read P by Mehlich-3 read by ICP, does not read K by Mehlich-3",
    );
    expect(await guide(page).locator(":scope > option").allTextContents()).toContain("Iowa 2013");
    await guide(page).selectOption("kansas-build-maintain");
    await refused(page).waitFor();
    await guide(page).selectOption("illinois");
    await refused(page).getByText("Illinois (illinois) reads").waitFor();
    expect(await page.locator(".question").count()).toBe(0);
    await guide(page).selectOption("iowa-2013");
    await refused(page).waitFor({ state: "detached" });
    expect(await page.locator(".question").count()).toBe(0);
    expect(faults).toEqual([]);
    await page.context().close();
  });
});

describeInBrowser("a plan whose files ask what a rate 0 does", () => {
  it("takes the answer into the plan, and is worked out", async () => {
    const folder = mkdtempSync(join(tmpdir(), "rate-0-"));
    cpSync(sample("single-field"), folder, { recursive: true });
    const plan = JSON.parse(readFileSync(join(folder, "plan.json"), "utf8"));
    writeFileSync(join(folder, "plan.json"), JSON.stringify({ ...plan, extras: ["fallback"] }));
    const asked = await servePage(folder);
    const own = await launch();
    const { page, faults } = await watchedPage(await own.newContext(), asked.url);
    // The files alone are asked about: farm and field are worked out by the plan as it stands, and there is none before.
    for (const hash of ["#farm", "#north-kettle/strips"]) {
      await page.goto("about:blank");
      await page.goto(`${asked.url}${hash}`);
      expect(await refused(page).textContent(), hash).toContain("not worked out yet. No map is written");
      expect(await page.getByText("Map of the plan before").count(), hash).toBe(0);
      expect(await page.locator("#balance [data-part=need]").first().textContent(), hash).toMatch(/^[\d,]+$/);
    }
    await page.locator('[data-key="zero-rate"]').getByText("it must not get a 0").click();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await refused(page).waitFor({ state: "detached" });
    await allIsDone(page);
    expect(await page.getByRole("button", { name: "Undo: A rate 0: 5 lb/ac instead" }).count()).toBe(1);
    expect(await page.getByRole("button", { name: "Download zip" }).isDisabled()).toBe(false);
    expect(faults).toEqual([]);
    await own.close();
    await asked.close();
    rmSync(folder, { recursive: true });
  });
});

it("what a rate 0 does is an edit of the plan, whole", () => {
  const plan = readPlan(new Uint8Array(readFileSync(join(sample("single-field"), "plan.json"))), "plan.json");
  const small = withZeroRate(plan, "small:5")!.plan;
  expect(readPlan(writePlan(small), "plan.json").controller).toEqual({
    zeroRate: "small",
    smallRateLbPerAc: 5,
  });
  expect(readPlan(writePlan(withZeroRate(small, "off")!.plan), "plan.json").controller).toEqual({
    zeroRate: "off",
  });
  expect(withZeroRate(plan, "perhaps")).toBeNull();
});

describeInBrowser("a budget in $ and a product without a price", () => {
  it("its price is typed on the sheet that the words lead to", async () => {
    const folder = mkdtempSync(join(tmpdir(), "no-price-"));
    cpSync(sample("single-field"), folder, { recursive: true });
    const plan = JSON.parse(readFileSync(join(folder, "plan.json"), "utf8"));
    const prices = { "11-52-0": 800, "0-0-60": 450 };
    writeFileSync(
      join(folder, "plan.json"),
      JSON.stringify({ ...plan, pricesUsdPerTon: prices, budget: { usd: 2_500 } }),
    );
    const asked = await servePage(folder);
    const own = await launch();
    const { page, faults } = await watchedPage(await own.newContext(), asked.url);
    await page.goto(`${asked.url}#north-kettle/split`);
    await allIsDone(page);
    await page.getByText("Products and blend").click();
    const [bin] = plan.rig.bins.filter(({ product }: { product: string }) => product === "0-0-60");
    await page.getByLabel(`Bin ${bin.id}`, { exact: true }).selectOption("0-0-50-17S");
    await refused(page).getByText("the budget is in $ and 0-0-50-17S has no price").waitFor();
    await refused(page).getByRole("button", { name: "Give it on Order, “$ a ton”" }).click();
    // The plan before has its tons, and nothing of this product.
    const row = page.getByRole("row", { name: /^0-0-50-17S/ });
    const price = row.getByLabel("Price of 0-0-50-17S, US dollars a short ton");
    await price.waitFor();
    expect(await row.locator("td").allTextContents()).toEqual(["–", "–", "–", "", "–"]);
    await price.fill("700");
    await price.press("Tab");
    await refused(page).waitFor({ state: "detached" });
    await allIsDone(page);
    expect(await page.getByRole("row", { name: /^0-0-60/ }).count()).toBe(0);
    expect(faults).toEqual([]);
    await own.close();
    await asked.close();
    rmSync(folder, { recursive: true });
  }, 120_000);
});

describeInBrowser("one field of several that cannot be worked out", () => {
  it("leaves the others to be worked out by the plan as it stands", async () => {
    const home = await servePage(sample("home-farm"));
    const own = await launch();
    const context = await own.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, home.url);
    await page.goto(`${home.url}#new-heron/need`);
    await allIsDone(page);
    await guide(page).selectOption("illinois");
    await page.getByText("New Heron as it stands cannot be worked out.").waitFor();
    await page.getByText("69 of 70 fields worked out").waitFor();
    await allIsDone(page);
    await page.evaluate(() => {
      location.hash = "#farm";
    });
    await page.getByText("69 of 70 fields worked out.").first().waitFor();
    // The line stands as soon as the fields are counted, the figures as those of now a moment after.
    const need = page.locator("#balance [data-part=need]").first();
    await expect.poll(() => need.textContent(), { timeout: 60_000 }).not.toContain("~");
    await page.evaluate(() => {
      location.hash = "#new-heron/soil";
    });
    await page.getByText("Not worked out: what stands in the way is said above.").waitFor();
    expect(faults).toEqual([]);
    await own.close();
    await home.close();
  });
});

it("a server that has ended is no fault of ours", () => {
  const told = toldError(-3, new TypeError("Failed to fetch dynamically imported module: x/season-desk.js"));
  expect(told).toMatchObject({ turn: -3, trouble: { code: "server-gone", ours: false } });
  expect(toldError(1, new TypeError("x is not a function"))).toMatchObject({ trouble: { ours: true } });
});

it("ways to a guide are entered in the plan, and go with the guide", () => {
  const plan = readPlan(new Uint8Array(readFileSync(join(sample("single-field"), "plan.json"))), "plan.json");
  const first = plan.fields[0]!;
  const finish = withMethod(plan, first.samples!, "P", "mehlich-3-icp").plan;
  expect(
    readPlan(writePlan(finish), "plan.json").sources.find(({ as }) => as === "samples")!.answers,
  ).toMatchObject({
    "method.P": "mehlich-3-icp",
  });
  const way = { conversion: "ohio-icp-to-bray-line" };
  const converted = readPlan(writePlan(withWayThrough(plan, first, "P2O5", way).plan), "plan.json");
  expect(converted.fields[0]!.nutrients).toEqual({ P2O5: way });
  const back = withGuide(converted, converted.fields[0]!, "tri-state-2020").plan;
  expect(back.fields[0]!.nutrients?.P2O5?.conversion).toBeUndefined();
  expect(() => readPlan(writePlan(back), "plan.json")).not.toThrow();
});

describeInBrowser("a plan that does not say what its guide asks", () => {
  it("takes the answer into the plan, and is worked out", async () => {
    const folder = mkdtempSync(join(tmpdir(), "guide-asks-"));
    cpSync(sample("single-field"), folder, { recursive: true });
    const plan = JSON.parse(readFileSync(join(folder, "plan.json"), "utf8"));
    const fields = plan.fields.map((field: object) => ({ ...field, guideOptions: {} }));
    writeFileSync(join(folder, "plan.json"), JSON.stringify({ ...plan, fields }));
    const asked = await servePage(folder);
    const own = await launch();
    const { page, faults } = await watchedPage(await own.newContext(), asked.url);
    await page.goto(`${asked.url}#north-kettle/need`);
    await page.locator('[data-key="option.rotation"] input[value="corn-soy"]').check();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await refused(page).waitFor({ state: "detached" });
    await allIsDone(page);
    // Taken back it is asked again: the answer is the plan's and stands nowhere else.
    await page.getByRole("button", { name: "Undo: rotation set to corn-soy" }).click();
    await page.locator('[data-key="option.rotation"]').waitFor();
    expect(faults).toEqual([]);
    await own.close();
    await asked.close();
    rmSync(folder, { recursive: true });
  }, 120_000);
});

describeInBrowser("a sampling that stands in two lab tables of one day", () => {
  it("is taken whole: both are a choice for each test, and mixing is asked then", async () => {
    const folder = mkdtempSync(join(tmpdir(), "two-tables-"));
    cpSync(sample("single-field"), folder, { recursive: true });
    const plan = JSON.parse(readFileSync(join(folder, "plan.json"), "utf8"));
    const [headings, ...rows] = readFileSync(join(folder, "soil-tests.csv"), "utf8").trim().split(/\r?\n/);
    const halves = { "soil-tests.csv": rows.slice(0, 30), "more.csv": rows.slice(30) };
    const own = plan.sources.find(({ as }: { as: string }) => as === "samples");
    const others = plan.sources.filter((source: object) => source !== own);
    const tables = Object.entries(halves).map(([path, half]) => {
      const text = `${[headings, ...half].join("\n")}\n`;
      writeFileSync(join(folder, path), text);
      return { ...own, path, sha256: sha256Hex(new TextEncoder().encode(text)) };
    });
    const fields = [{ ...plan.fields[0], moreSamples: ["more.csv"] }];
    const changed = { ...plan, sources: [...others, ...tables], fields };
    writeFileSync(join(folder, "plan.json"), JSON.stringify(changed));
    const asked = await servePage(folder);
    const window = await launch();
    const { page, faults } = await watchedPage(await window.newContext(), asked.url);
    await page.goto(`${asked.url}#north-kettle/soil`);
    const take = page.getByRole("button", { name: "Take these 3 answers" });
    for (const [key, answer] of [
      ["sampling", "more.csv, soil-tests.csv"],
      ["mix-samplings", "yes"],
    ]) {
      for (const test of ["P", "K", "CEC"])
        await page.locator(`[data-key="${key}.${test}"]`).getByLabel(answer!, { exact: true }).check();
      await take.click();
    }
    await refused(page).waitFor({ state: "detached" });
    await allIsDone(page);
    // 30 rows in one table and 33 in the other, each with the same words for K and CEC.
    await page
      .getByText(/the map of P mixes more\.csv of 2026-10-27 \(33 samples\) and soil-tests\.csv of .* \(30/)
      .first()
      .waitFor({ state: "attached" });
    expect(faults).toEqual([]);
    await window.close();
    await asked.close();
    rmSync(folder, { recursive: true });
  }, 120_000);
});
