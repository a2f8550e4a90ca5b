import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { unfoldAll } from "./support/axe.ts";
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

const sheets = ["soil", "need", "split", "strips", "fills", "order", "applied"] as const;

/** What stands on a sheet once its figures do. */
const ready: Readonly<Record<(typeof sheets)[number], string>> = {
  soil: ".bench h2:has-text('Soil')",
  need: ".bench h2:has-text('Need')",
  split: ".bench th:has-text('one more tender')",
  strips: ".bench th:has-text('NORTHKETT_L_1152')",
  fills: ".bench li:has-text('field changes in it')",
  order: ".bench h3:has-text('To order')",
  applied: ".bench h2:has-text('Applied')",
};

/** What stays as it is stored and says its unit: boxes that are typed in, files, the guides' own figures, doubts. */
const stays: readonly RegExp[] = [
  /^split: (ac|ft|ft³|lb|lb\/ac|lb\/ft³|lb\/min)$/,
  /^strips: (ft|lb\/ac)$/,
  /^fills: (ft³|lb|lb\/ft³|lb\/min|ac a day)$/,
  /^strips: (lb in file|Column RATE_LBAC: |NORTHKETT_[LRBC]+_\d+: \d+ rates\. )/,
  /^split: (Starter, acres a day|Cap by acres a day)/,
  /^order: lb$/,
  /^need: (What a lb costs|weighted by what a lb costs|\$ an? (missing|excess) lb of oxide costs|or lb of product)$/,
  /^need: P2O5 (in soybean|that raises the P test by 1 ppm)/,
  // Salt and its limits as published.
  /^split: (Salt near the seed\. |North Kettle: N \+ K2O \+ S reaches )/,
  // The guides' and defaults' own words.
  /^fills: (overlap: .*Iowa State Univ\.|turn radius: )/,
];

/** Text of the bench and the balance, line by line, what drawings say of themselves with it. */
const drawnLines = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const blocks = "p,li,td,th,dt,dd,caption,figcaption,legend,label,h2,h3,summary,option,text,title,.unit";
    return [...document.querySelectorAll(`main :is(${blocks}), #balance :is(${blocks})`)]
      .filter((one) => !one.querySelector("p,li,td,dt,dd,.unit"))
      .map((one) => (one.textContent ?? "").replace(/\s+/g, " ").trim());
  });

const inPounds = (line: string): boolean => /\b(lb|pounds?|ac|acres?|ft)\b/i.test(line);

describeInBrowser("kilograms and hectares", () => {
  let browser: Browser;
  let served: Served;

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it("what a sheet shows is in them, whatever it is drawn as", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/soil/P`);
    await allIsDone(page);
    await page.getByRole("button", { name: /^Units: lb/ }).click();
    const found: string[] = [];
    let read = 0;
    for (const sheet of sheets) {
      await page.evaluate(
        (hash) => {
          location.hash = hash;
        },
        sheet === "order" ? "#farm/order" : `#north-kettle/${sheet}`,
      );
      await allIsDone(page);
      await page.waitForSelector(ready[sheet], { timeout: 90_000 });
      await unfoldAll(page);
      const lines = await drawnLines(page);
      read += lines.length;
      found.push(...new Set(lines.filter(inPounds).map((line) => `${sheet}: ${line}`)));
      if (shots !== undefined) await page.screenshot({ path: join(shots, `kg-${sheet}.png`) });
    }
    expect(read).toBeGreaterThan(500);
    expect(found.filter((line) => !stays.some((one) => one.test(line)))).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  }, 240_000);

  it("a scale's weight is typed in kilograms where the sheet shows kilograms", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/fills`);
    await page.waitForSelector(ready.fills, { timeout: 90_000 });
    await page.getByRole("button", { name: /^Units: lb/ }).click();
    await page.locator("summary", { hasText: "Bin reads" }).click();
    const typed = async (label: string, text: string) => {
      const box = page.getByLabel(label, { exact: true });
      await box.fill(text);
      await box.press("Tab");
      return box;
    };
    await typed("Passes done", "40");
    await typed("Left, 11-52-0, scale reads", "2000");
    const right = await typed("Right, 0-0-60, scale reads", "1500");
    expect(await right.inputValue()).toBe("1500");
    await page.getByRole("button", { name: "Plan on from here" }).click();
    await page.getByRole("button", { name: "Plan the whole field" }).waitFor();
    await page.getByRole("button", { name: /^Units: kg/ }).click();
    // 1500 kg at 0.45359237 kg a pound.
    expect(await right.inputValue()).toBe("3306.9");
    expect(faults).toEqual([]);
    await context.close();
  }, 120_000);
});
