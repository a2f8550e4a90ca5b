import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
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

/** Where screenshots go, when somebody wants to look. */
const shots = process.env.SHOTS;
const shoot = async (page: Page, name: string): Promise<void> => {
  if (shots !== undefined) await page.screenshot({ path: join(shots, `${name}.png`) });
};

describeInBrowser("a number that is not taken", () => {
  let browser: Browser;
  let served: Served;
  let context: BrowserContext;
  let page: Page;
  let faults: string[];

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
    context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(`${served.url}#north-kettle/split`);
    await allIsDone(page);
  });

  afterAll(async () => {
    await context?.close();
    await browser?.close();
    await served?.close();
  });

  const type = async (label: string, text: string) => {
    const box = page.getByLabel(label, { exact: true });
    await box.fill(text);
    await box.press("Tab");
    return box;
  };
  const refusal = (words: string) => page.getByRole("status").filter({ hasText: words });

  it("stays as typed, with what is wanted beside it, until it is put back or mended", async () => {
    const cap = await type("Cap: all products together in the strip", "-5");
    await refusal("Not taken. Give lb/ac, a number from 0 up.").waitFor();
    expect(await cap.inputValue()).toBe("-5");
    expect(await cap.getAttribute("aria-invalid")).toBe("true");
    await shoot(page, "box-cap");
    await page.getByRole("button", { name: "Back to 200" }).click();
    expect(await cap.inputValue()).toBe("200");
    expect(await cap.getAttribute("aria-invalid")).toBeNull();
    await type("Cap: all products together in the strip", "");
    await refusal("Not taken. Give lb/ac, a number from 0 up.").waitFor();
    await cap.press("Escape");
    expect(await cap.inputValue()).toBe("200");
    await page.locator("summary", { hasText: "Rig and tender" }).click();
    await type("Speed", "999999999");
    await refusal("Not taken. Give mph, a number from 0.5 to 25.").waitFor();
    await page.locator("summary", { hasText: "Starter, acres a day" }).click();
    await type("Starter P₂O₅, first in the strip", "-5");
    await refusal("Not taken. Give lb/ac, a number from 0 up.").waitFor();
    expect(await violationsOn(page)).toEqual([]);
    await shoot(page, "box-lines");
    // Words that are no number do not take the figure out.
    await page.getByLabel("Speed", { exact: true }).fill("");
    await page.getByLabel("Speed", { exact: true }).pressSequentially("e");
    await page.getByLabel("Speed", { exact: true }).press("Tab");
    await refusal("Not taken. Give mph, a number from 0.5 to 25.").waitFor();
    // A comma is not dropped: 6,5 must not become 65.
    const speed = await type("Speed", "");
    await speed.pressSequentially("6,5");
    await speed.press("Tab");
    await refusal("decimals behind a point, nothing between thousands").waitFor();
    expect(await speed.inputValue()).toBe("6,5");
    await type("Speed", "6");
    expect(await refusal("mph").count()).toBe(0);
    expect(await page.getByRole("button", { name: /^Undo: speed 6 mph/ }).count()).toBe(1);
    expect(faults).toEqual([]);
  }, 120_000);

  it("a price that is none is not kept in the dark", async () => {
    await page.evaluate(() => {
      location.hash = "#farm/order";
    });
    const price = await type("Price of 0-0-60, US dollars a short ton", "-5");
    await refusal("Not taken. Give $, a number from 0.01 up.").waitFor();
    expect(await price.inputValue()).toBe("-5");
    await shoot(page, "box-price");
    await type("Price of 0-0-60, US dollars a short ton", "480");
    await expect.poll(() => refusal("Not taken").count()).toBe(0);
    await page.evaluate(() => {
      location.hash = "#north-kettle/split";
    });
    await page.locator("main[data-sheet=split]").waitFor();
  });

  it("what the plan would refuse is refused where it is typed: a meter's ends, rows and spreader cells", async () => {
    await page.locator("summary", { hasText: "Rig and tender" }).click();
    await type("Bin L: most its meter lays", "160");
    await type("Bin L: least its meter lays", "161");
    await refusal("Not taken. Give lb/min, a number from 0.1 to 160.").waitFor();
    await type("Bin L: least its meter lays", "20");
    await type("Bin L: most its meter lays", "19");
    await refusal("Not taken. Give lb/min, a number from 20 up.").waitFor();
    await page.evaluate(() => {
      location.hash = "#north-kettle/strips";
    });
    await page.locator("main[data-sheet=strips]").waitFor();
    await page.locator("summary", { hasText: "Rows, steps, spreader" }).click();
    await type("Row spacing", "3");
    await refusal("Not taken. Give in., a number from 4 up.").waitFor();
    await type("Spreader cells across the passes", "4");
    await refusal("Not taken. Give ft, a number from 5 up.").waitFor();
    await page.evaluate(() => {
      location.hash = "#north-kettle/split";
    });
    await page.locator("main[data-sheet=split]").waitFor();
  }, 120_000);

  it("a box shows what the plan has, with its decimals", async () => {
    const cap = await type("Cap: all products together in the strip", "200.5");
    await allIsDone(page);
    expect(await cap.inputValue()).toBe("200.5");
    expect(faults).toEqual([]);
  }, 120_000);
});
