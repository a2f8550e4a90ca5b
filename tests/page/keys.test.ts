import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import {
  allIsDone,
  describeInBrowser,
  launch,
  mapIsDrawn,
  type Served,
  servePage,
  watchedPage,
} from "./support/browser.ts";

describeInBrowser("by keyboard alone", () => {
  let browser: Browser;
  let served: Served;
  let page: Page;
  let faults: string[];

  /** Tab on until the focus is on something with this name; fails when it never is. */
  const tabTo = async (name: RegExp) => {
    for (let n = 0; n < 80; n++) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(() => {
        const element = document.activeElement as HTMLElement | null;
        const labels = (element as HTMLInputElement | null)?.labels;
        return element?.getAttribute("aria-label") ?? labels?.[0]?.textContent ?? element?.textContent ?? "";
      });
      if (name.test(at)) return;
    }
    throw new Error(`Tab never came to ${name}`);
  };

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(null);
    const context = await browser.newContext({
      viewport: { width: 1280, height: 800 },
      acceptDownloads: true,
    });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(served.url);
    await page.getByRole("button", { name: "single field" }).waitFor();
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it("opens a ready scenario, walks the sheets, keeps a split and takes the zip away", async () => {
    await tabTo(/^single field$/);
    await page.keyboard.press("Enter");
    await mapIsDrawn(page, "#north-kettle/soil/P");
    await page.keyboard.press("2");
    await page.getByRole("heading", { name: "Need", exact: true }).waitFor();
    await page.keyboard.press("3");
    await mapIsDrawn(page, "#north-kettle/split");
    await tabTo(/^Cap: all products together in the strip, slider$/);
    await page.keyboard.press("ArrowLeft");
    await page.getByRole("button", { name: /^Undo: strip cap / }).waitFor();
    await allIsDone(page);
    await tabTo(/^Keep this split$/);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Strips and files" }).waitFor();
    await allIsDone(page);
    const download = page.waitForEvent("download", { timeout: 90_000 });
    await tabTo(/^Download zip$/);
    await page.keyboard.press("Enter");
    expect((await download).suggestedFilename()).toMatch(/\.zip$/);
  });

  it("moves the read-out by segment and by pass, pins it, and shows the table", async () => {
    await page.keyboard.press("4");
    await mapIsDrawn(page, "#north-kettle/strips");
    await page.locator(".maplibregl-canvas").focus();
    const title = () => page.locator(".read-out h2").textContent();
    await page.keyboard.press("ArrowUp");
    await page.locator(".read-out h2").waitFor();
    await page.waitForTimeout(300);
    const first = await title();
    await page.keyboard.press("ArrowUp");
    await page.waitForFunction((was) => document.querySelector(".read-out h2")?.textContent !== was, first);
    const [, pass, segment] = /^Pass (.+), segment (.+)$/.exec((await title())!)!;
    await page.keyboard.press("ArrowRight");
    const next = `Pass ${Number(pass) + 1}, segment ${segment}`;
    await page.waitForFunction(
      (wanted) => document.querySelector(".read-out h2")?.textContent === wanted,
      next,
    );
    await page.keyboard.press("t");
    await page.getByRole("region", { name: "Table of the plat" }).waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("region", { name: "Table of the plat" }).waitFor({ state: "detached" });
  });

  it("types a figure of the rig on the fills sheet, reaches the logs of applied and the stick", async () => {
    await page.locator(".maplibregl-canvas").focus();
    await page.keyboard.press("5");
    await page.getByRole("heading", { name: "Fills and season" }).waitFor();
    await tabTo(/^Rig and tender$/);
    await page.keyboard.press("Enter");
    await tabTo(/^Speed$/);
    await page.keyboard.press("Control+A");
    await page.keyboard.type("6.5");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: /^Undo: speed 6\.5/ }).waitFor();
    await tabTo(/^Save the fill sheet$/);
    await page.keyboard.press("8");
    await page.getByRole("heading", { name: "Applied", exact: true }).waitFor();
    await tabTo(/^Log of 0-0-60$/);
    await page.keyboard.press("7");
    await page.getByRole("heading", { name: "Cab sheet", exact: true }).first().waitFor();
    await tabTo(/loaded or done$/);
    await page.keyboard.press("Enter");
    await tabTo(/^State of North Kettle$/);
    await tabTo(/^Choose the stick's folder$/);
  });

  it("More closes by Escape, by a press elsewhere and with the next sheet", async () => {
    await page.keyboard.press("5");
    await page.getByRole("heading", { name: "Fills and season" }).waitFor();
    const summary = page.getByText("More", { exact: true });
    const panel = page.getByText("Esc closes.");
    const open = async () => {
      await summary.click();
      await panel.waitFor();
    };
    await open();
    await page.keyboard.press("Escape");
    await panel.waitFor({ state: "hidden" });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("More");
    await open();
    await page.getByLabel("Keys switched on").focus();
    expect(await panel.isVisible()).toBe(true);
    const box = (await page.locator(".maplibregl-canvas").boundingBox())!;
    await page.mouse.click(box.x + 60, box.y + box.height - 60);
    await panel.waitFor({ state: "hidden" });
    await open();
    await page.keyboard.press("6");
    await page.getByRole("heading", { name: "Order", exact: true }).waitFor();
    await panel.waitFor({ state: "hidden" });
  });

  it("shows where the focus is", async () => {
    await page.keyboard.press("Tab");
    const outline = await page.evaluate(() => {
      const look = getComputedStyle(document.activeElement!);
      return [look.outlineStyle, Number.parseFloat(look.outlineWidth)] as const;
    });
    expect(outline[0]).toBe("solid");
    expect(outline[1]).toBeGreaterThanOrEqual(3);
  });

  it("gives no error meanwhile", () => {
    expect(faults).toEqual([]);
  });
});
