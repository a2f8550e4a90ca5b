import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
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

async function opened(hash: string): Promise<{ page: Page; faults: string[] }> {
  const context = await browser.newContext({ viewport: { width: 1024, height: 768 } });
  const { page, faults } = await watchedPage(context, served.url);
  page.setDefaultTimeout(40_000);
  await page.goto(`${served.url}${hash}`);
  await allIsDone(page);
  return { page, faults };
}

const go = (page: Page, hash: string) =>
  page.evaluate((to) => {
    location.hash = to;
  }, hash);

async function intoBinL(page: Page): Promise<void> {
  await page.getByText("Products and blend", { exact: true }).waitFor();
  await unfold(page);
  await page.getByLabel("Bin L", { exact: true }).selectOption({ label: "0-0-50-17S, potassium sulfate" });
}

const unfold = (page: Page) =>
  page.evaluate(() => {
    for (const one of document.querySelectorAll<HTMLDetailsElement>("#bench details")) one.open = true;
  });

/** Product and tons of the balance, as they stand there. */
const balance = (page: Page) =>
  page
    .locator("#balance [data-total]")
    .evaluateAll((all) => all.map((one) => `${one.getAttribute("data-total")} ${one.textContent}`));
const farmDollars = (page: Page) =>
  page.locator("#balance .cell:has-text('product, whole farm') .sum").evaluate((sum) =>
    [...sum.childNodes]
      .filter((node) => node.nodeName !== "DEL")
      .map((node) => node.textContent)
      .join(""),
  );

describeInBrowser("a product whose density nobody published", () => {
  beforeAll(async () => {
    served = await servePage(sample("single-field"));
    browser = await launch();
  });
  afterAll(async () => {
    await browser.close();
    await served.close();
  });

  it("is asked for where the rig is told, and holds back fills alone: maps and order are worked out and saved", async () => {
    const { page, faults } = await opened("#north-kettle/split");
    await intoBinL(page);
    await page.getByText("none of 0-0-50-17S is published, weigh it").waitFor({ state: "attached" });
    await allIsDone(page);
    expect(await page.getByText("published range, unconfirmed").count()).toBe(0);
    await page
      .getByText(
        "bin L: no density of 0-0-50-17S is published: give it as weighed, and acres a fill and a day",
      )
      .waitFor();
    expect(
      await page.getByText(/type the weighed density of bin L \(none of 0-0-50-17S is published\)/i).count(),
    ).toBe(2);
    expect(await page.getByRole("alert").count()).toBe(0);
    expect((await balance(page)).join()).not.toContain("~");
    await go(page, "#north-kettle/fills");
    await page
      .getByText(
        "Type the weighed density of bin L (none of 0-0-50-17S is published), and the stops stand here.",
      )
      .waitFor();
    for (const [hash, name] of [
      ["#north-kettle/strips", "Download zip"],
      ["#farm/order", "Save the order sheet"],
    ] as const) {
      await go(page, hash);
      const action = page.getByRole("button", { name, exact: true });
      await action.waitFor();
      const file = page.waitForEvent("download", { timeout: 60_000 });
      await action.click();
      await file;
    }
    expect(await page.getByRole("alert").count()).toBe(0);
    await go(page, "#north-kettle/fills");
    await unfold(page);
    const weighed = page.getByLabel("Bin L: weighed density", { exact: true });
    await weighed.fill("75");
    await weighed.blur();
    await page.waitForSelector(".bench table caption:has-text('Stops')", { timeout: 90_000 });
    expect(faults).toEqual([]);
    await page.context().close();
  }, 240_000);

  it("in a plan that cannot be worked out leaves the figures of the plan before, with its products", async () => {
    const { page, faults } = await opened("#north-kettle/split");
    const [products, dollars] = [await balance(page), await farmDollars(page)];
    expect(products).toHaveLength(2);
    expect(dollars).toMatch(/^\$[\d,]+$/);
    const table = page.locator("#bench table").filter({ hasText: "broadcast, lb" }).first();
    const cells = () =>
      table
        .locator("tbody tr")
        .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent)));
    const before = await cells();
    await go(page, "#north-kettle/need");
    await page.getByLabel("Guide", { exact: true }).selectOption("illinois");
    const refused = page.getByRole("alert", { name: "The plan cannot be worked out" });
    await refused.waitFor();
    await go(page, "#north-kettle/split");
    await intoBinL(page);
    await refused.waitFor();
    await expect.poll(() => page.getByLabel("Bin L", { exact: true }).inputValue()).toBe("0-0-50-17S");
    await expect.poll(() => balance(page)).toEqual(products.map((one) => one.replace(/ (?=[\d.]+$)/, " ~")));
    expect(await farmDollars(page)).toBe(`~${dollars}`);
    expect(await cells()).toEqual(before.map(([product, ...lb]) => [product, ...lb.map((one) => `~${one}`)]));
    expect(faults).toEqual([]);
    await page.context().close();
  }, 240_000);
});
