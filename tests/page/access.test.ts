import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { unfoldAll, violationsOn } from "./support/axe.ts";
import {
  allIsDone,
  describeInBrowser,
  dropFiles,
  launch,
  mapIsDrawn,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

const sizes = [
  { width: 1280, height: 800 },
  { width: 768, height: 1024 },
] as const;
const sheets = [
  "#north-kettle/soil/P",
  "#north-kettle/soil/CEC",
  "#north-kettle/need/K2O",
  "#north-kettle/split",
  "#north-kettle/strips",
  "#north-kettle/fills",
  "#farm",
  "#farm/order",
  "#north-kettle/applied",
  "#north-kettle/cab-sheet",
] as const;

const sidewaysPx = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - innerWidth);

describeInBrowser("every sheet", () => {
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

  it.each(sizes)(
    "$width x $height, everything unfolded: no axe violation, no sideways scroll, no error",
    async (viewport) => {
      const context = await browser.newContext({ viewport });
      const { page, faults } = await watchedPage(context, served.url);
      await page.goto(`${served.url}${sheets[0]}`);
      await mapIsDrawn(page, sheets[0]);
      await allIsDone(page);
      const found: string[] = [];
      for (const hash of sheets) {
        await page.evaluate((to) => {
          location.hash = to;
        }, hash);
        if (hash.endsWith("cab-sheet"))
          await page.locator(".printed .document").waitFor({ state: "attached" });
        else await mapIsDrawn(page, hash);
        expect(await sidewaysPx(page), `${hash} scrolls sideways`).toBeLessThanOrEqual(0);
        await unfoldAll(page);
        found.push(...(await violationsOn(page)).map((line) => `${hash} ${line}`));
        expect(await sidewaysPx(page), `${hash} scrolls sideways`).toBeLessThanOrEqual(0);
      }
      await context.close();
      expect(found).toEqual([]);
      expect(faults).toEqual([]);
    },
    180_000,
  );

  it("the sun theme, the table twin and the read-out too", async () => {
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/split`);
    await mapIsDrawn(page, "#north-kettle/split");
    await page.getByRole("button", { name: "Sun" }).click();
    await page.locator(".maplibregl-canvas").focus();
    await page.keyboard.press("ArrowUp");
    await page.locator(".read-out h2").waitFor();
    expect(await violationsOn(page)).toEqual([]);
    await page.keyboard.press("t");
    await page.getByRole("region", { name: "Table of the plat" }).waitFor();
    expect(await violationsOn(page)).toEqual([]);
    expect(await sidewaysPx(page)).toBeLessThanOrEqual(0);
    await context.close();
    expect(faults).toEqual([]);
  });
});

describeInBrowser("opening files", () => {
  let browser: Browser;
  let served: Served;

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(null);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it("asks what the files do not say with no answer chosen, then makes the maps", async () => {
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.getByText("No field yet").waitFor();
    expect(await violationsOn(page)).toEqual([]);
    const names = ["boundary.zip", "guidance.geojson", "soil-tests.csv"];
    await dropFiles(
      page,
      names.map((name) => ({
        name,
        bytes: new Uint8Array(readFileSync(join(sample("single-field"), name))),
      })),
    );
    await page.locator(".question").first().waitFor();
    expect(await violationsOn(page)).toEqual([]);
    expect(await page.locator(".question input[type=radio]:checked").count()).toBe(0);
    expect(await page.getByRole("button", { name: "Make the maps" }).isDisabled()).toBe(true);
    const given: Record<string, string> = {
      crop: "soybean",
      guide: "Tri-State 2020",
      yield: "60",
      rows: "16",
      cap: "150",
    };
    for (const question of await page.locator(".question").all()) {
      const key = (await question.getAttribute("data-key")) ?? "";
      const radio = question.getByText(given[key] ?? "", { exact: true });
      if ((await question.locator("input[type=radio]").count()) > 0) await radio.click();
      else
        await question.locator("input[type=text]").fill(key === "row-spacing-in" ? "30" : (given[key] ?? ""));
    }
    await page.getByRole("button", { name: /^Take th/ }).click();
    await page.getByRole("button", { name: "Make the maps" }).click();
    await page.getByRole("heading", { name: "Soil test phosphorus" }).waitFor();
    await context.close();
    expect(faults).toEqual([]);
  });

  it("names the file and what to do when a row cannot be read", async () => {
    const context = await browser.newContext({ viewport: sizes[0] });
    const { page } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.getByText("No field yet").waitFor();
    const lab = readFileSync(join(sample("single-field"), "soil-tests.csv"), "utf8").replace(
      "-84.416374",
      "84 west",
    );
    const files = ["boundary.zip", "guidance.geojson"].map((name) => ({
      name,
      bytes: new Uint8Array(readFileSync(join(sample("single-field"), name))),
    }));
    await dropFiles(page, [...files, { name: "soil-tests.csv", bytes: new TextEncoder().encode(lab) }]);
    const alert = page.getByRole("alert");
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(/soil-tests\.csv, line 2/);
    const notRead = page.getByText("not read", { exact: true });
    await notRead.first().waitFor();
    expect(await notRead.count()).toBe(1);
    await page.getByRole("button", { name: "Add none" }).click();
    await page.getByText("No field yet").waitFor();
    await context.close();
  });
});
