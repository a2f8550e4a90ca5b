import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import {
  allIsDone,
  describeInBrowser,
  launch,
  mapIsDrawn,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

const split = "#north-kettle/split";
const planned = JSON.parse(readFileSync(join(sample("single-field"), "plan.json"), "utf8")) as {
  readonly split: { readonly capLbPerAc: number };
};
const begun = String(planned.split.capLbPerAc);

describeInBrowser("what is kept of a visit", () => {
  let browser: Browser;
  let served: Served;
  let context: BrowserContext;
  let page: Page;

  const cap = () => page.getByLabel("Cap: all products together in the strip", { exact: true });
  const edited = async (value: string) => {
    await cap().fill(value);
    await cap().press("Tab");
  };
  const saved = () =>
    page
      .getByText(/^Saved on this computer/)
      .first()
      .waitFor({ state: "attached" });

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
    context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page } = await watchedPage(context, served.url));
    await page.goto(`${served.url}${split}`);
    await mapIsDrawn(page, split);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it("undo and redo carry the edit's name, and totals follow", async () => {
    await allIsDone(page);
    const total = () => page.locator('[data-oxide="K2O"] [data-part=strip]').textContent();
    const before = await total();
    await edited("100");
    await page.getByRole("button", { name: `Undo: strip cap ${begun} → 100 lb/ac` }).waitFor();
    await allIsDone(page);
    expect(await total()).not.toBe(before);
    await page.keyboard.press("Control+z");
    await allIsDone(page);
    expect(await total()).toBe(before);
    expect(await cap().inputValue()).toBe(begun);
    await page.keyboard.press("Control+Shift+z");
    expect(await cap().inputValue()).toBe("100");
  });

  it("shows the figure before an edit struck through until the next one", async () => {
    await edited("90");
    await page.locator("#balance del.was").first().waitFor();
  });

  it("a second tab may look but not change", async () => {
    await edited("95");
    await saved();
    const second = await context.newPage();
    await second.goto(`${served.url}${split}`);
    await second.getByText("The plan is open in another tab.").waitFor();
    expect(
      await second.getByLabel("Cap: all products together in the strip", { exact: true }).isDisabled(),
    ).toBe(true);
    expect(
      await second.getByLabel("Cap: all products together in the strip", { exact: true }).inputValue(),
    ).toBe("95");
    await second.close();
  });

  it("comes back after a crash, up to the last edit", async () => {
    await edited("130");
    await saved();
    await page.waitForTimeout(600);
    await page.goto("chrome://crash", { timeout: 5_000 }).catch(() => {});
    await page.close();
    ({ page } = await watchedPage(context, served.url));
    await page.goto(`${served.url}${split}`);
    await page.getByText(/The plan is back up to: strip cap 95 → 130 lb\/ac/).waitFor();
    expect(await cap().inputValue()).toBe("130");
    await page.getByRole("button", { name: "Undo: strip cap 95 → 130 lb/ac" }).click();
    expect(await cap().inputValue()).toBe("95");
    await page.getByText(/The plan is back up to/).waitFor({ state: "detached" });
  });

  it("keeps a price in the plan, and the order follows at once", async () => {
    await page.evaluate(() => {
      location.hash = "#farm/order";
    });
    await page.getByLabel("Price of 11-52-0, US dollars a short ton").fill("780");
    await page.getByLabel("Price of 0-0-60, US dollars a short ton").fill("480");
    await page.keyboard.press("Tab");
    await page
      .getByText(/\$[\d,]+/)
      .first()
      .waitFor();
    const tons = await page.locator("[data-total]").allTextContents();
    const dollars = Number((await page.locator(".bench .big").textContent())!.replace(/[^\d]/g, ""));
    const expected =
      Number(tons[0]!.replace(/[~,]/g, "")) * 780 + Number(tons[1]!.replace(/[~,]/g, "")) * 480;
    expect(Math.abs(dollars - expected)).toBeLessThan(0.005 * 780 + 0.005 * 480 + 1);
  });

  it("saves the plan's folder as one zip that opens again as it was", async () => {
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save plan file" }).first().click(),
    ]);
    const path = await download.path();
    const empty = await servePage(null);
    const fresh = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const other = await fresh.newPage();
    await other.goto(empty.url);
    const [chooser] = await Promise.all([
      other.waitForEvent("filechooser"),
      other.getByRole("button", { name: "Choose files" }).click(),
    ]);
    await chooser.setFiles({
      name: download.suggestedFilename(),
      mimeType: "application/zip",
      buffer: readFileSync(path),
    });
    await other.getByRole("heading", { name: "Soil test phosphorus" }).waitFor();
    await other.evaluate(() => {
      location.hash = "#north-kettle/split";
    });
    const there = other.getByLabel("Cap: all products together in the strip", { exact: true });
    expect(await there.inputValue()).toBe("95");
    await fresh.close();
    await empty.close();
  });
});
