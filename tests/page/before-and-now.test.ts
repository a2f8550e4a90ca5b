import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { ramps } from "../../src/report/index.ts";
import { violationsOn } from "./support/axe.ts";
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
import { pixelsOf } from "./support/pixels.ts";

const HASH = "#north-kettle/need/K2O";

describeInBrowser("the map before and now", () => {
  let browser: Browser;
  let served: Served;
  let page: Page;
  let faults: string[];

  const box = () => page.getByRole("region", { name: "Before and now" });
  const grip = () => page.getByRole("slider", { name: /^Line between before and now/ });
  const percent = async () => Number(await grip().getAttribute("aria-valuenow"));
  const isTold = () => page.locator(".before-half[data-told=true]").waitFor({ state: "attached" });
  /** Acres of each class: before, now. */
  const acres = async () =>
    (await box().locator("tbody tr").all()).reduce(
      async (rows, row) => [
        ...(await rows),
        (await row.locator("td").allTextContents()).map(Number) as [number, number],
      ],
      Promise.resolve([] as [number, number][]),
    );
  const setYield = async (goal: string) => {
    const typed = page.getByRole("textbox", { name: /^Yield goal/ });
    await typed.fill(goal);
    await typed.press("Enter");
    await allIsDone(page);
  };

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, hasTouch: true });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(`${served.url}${HASH}`);
    await mapIsDrawn(page, HASH);
    await allIsDone(page);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it("is offered once there is an edit; acres before are those that stood in the legend", async () => {
    expect(await page.getByRole("button", { name: "Before and now" }).count()).toBe(0);
    await page.keyboard.press("t");
    const twin = page.getByRole("region", { name: "Table of the plat" });
    await twin.waitFor();
    const rows = await twin.locator("tbody tr").all();
    const stood = await Promise.all(
      rows.map(async (row) => Number(await row.locator("td").first().textContent())),
    );
    await page.keyboard.press("t");
    await setYield("90");
    await page.getByRole("button", { name: "Before and now" }).click();
    await isTold();
    const table = await acres();
    expect(table.map(([before]) => before)).toEqual(stood);
    expect(table.map(([, now]) => now)).not.toEqual(stood);
    const field = table.reduce((sum, [, now]) => sum + now, 0);
    expect(field).toBeCloseTo(
      table.reduce((sum, [before]) => sum + before, 0),
      1,
    );
    const [more, less, same] = /More on ([\d.]+) ac, less on ([\d.]+), about the same on ([\d.]+\d)/
      .exec((await box().getByRole("status").textContent())!)!
      .slice(1)
      .map(Number) as [number, number, number];
    expect(more).toBeGreaterThan(0);
    expect(less).toBe(0);
    expect(Math.abs(more + less + same - field)).toBeLessThanOrEqual(0.15);
    expect(await violationsOn(page)).toEqual([]);
  });

  it("moves the line by keys, mouse, touch and words", async () => {
    expect(await percent()).toBe(50);
    await grip().focus();
    await page.keyboard.press("ArrowLeft");
    expect(await percent()).toBe(48);
    await page.keyboard.press("Shift+ArrowRight");
    expect(await percent()).toBe(58);
    await page.locator(".maplibregl-canvas").first().focus();
    await page.keyboard.press("[");
    expect(await percent()).toBe(53);
    const at = (await grip().boundingBox())!;
    expect(Math.min(at.width, at.height)).toBeGreaterThanOrEqual(44);
    await page.mouse.move(at.x + 22, at.y + 22);
    await page.mouse.down();
    await page.mouse.move(at.x - 100, at.y + 22, { steps: 5 });
    await page.mouse.up();
    const view = (await page.locator(".ground-view").boundingBox())!;
    expect(Math.abs((await percent()) - (100 * (at.x - 100 - view.x)) / view.width)).toBeLessThan(1);
    const clip = () => page.locator(".before-half").evaluate((half: HTMLElement) => half.style.clipPath);
    expect(await clip()).toBe(`inset(0px ${100 - (await percent())}% 0px 0px)`);
    const touched = (await grip().boundingBox())!;
    const client = await page.context().newCDPSession(page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", x: number) =>
      client.send("Input.dispatchTouchEvent", {
        type,
        touchPoints: type === "touchEnd" ? [] : [{ x, y: touched.y + 22 }],
      });
    await touch("touchStart", touched.x + 22);
    await touch("touchMove", touched.x + 82);
    await touch("touchMove", touched.x + 142);
    await touch("touchEnd", 0);
    expect(Math.abs((await percent()) - (100 * (touched.x + 142 - view.x)) / view.width)).toBeLessThan(1);
    const words = page.getByRole("group", { name: "Which map the plat shows" });
    await words.getByRole("radio", { name: "before" }).check();
    expect(await percent()).toBe(100);
    await words.getByRole("radio", { name: "both" }).check();
    expect(await percent()).toBe(50);
  });

  it("reads out both values at a place and shows both in the table", async () => {
    await page.locator(".maplibregl-canvas").first().focus();
    await page.keyboard.press("ArrowUp");
    const row = page.locator(".read-out .row", { hasText: "K₂O needed" });
    await row.getByText(/^before \d+, now/).waitFor();
    const [before, now] = /before (\d+), now ?(\d+)/
      .exec((await row.locator("dd").textContent())!)!
      .slice(1)
      .map(Number) as [number, number];
    expect(now).toBeGreaterThan(before);
    await page.keyboard.press("t");
    const twin = page.getByRole("region", { name: "Table of the plat" });
    await twin.getByRole("columnheader", { name: "difference" }).waitFor();
    expect(await violationsOn(page)).toEqual([]);
    await page.keyboard.press("t");
    await page.getByRole("button", { name: "Undo: North Kettle yield goal" }).click();
    await box().waitFor({ state: "detached" });
    await page.getByRole("button", { name: /^Redo/ }).click();
    await box().waitFor();
    await isTold();
    await row.getByText(`before ${before}, now`).waitFor();
  });

  it("draws each side by its own plan: on a sheet of steps and on one of passes", async () => {
    const heaviest = ramps.rate.at(-1)!;
    const show = async (side: "before" | "both" | "now") => {
      const words = page.getByRole("group", { name: "Which map the plat shows" });
      await words.getByRole("radio", { name: side }).check();
    };
    /** Pixels of the colours on one side, once the browser has painted it. */
    const drawnOn = async (side: "before" | "now", colours: readonly string[]) => {
      await show(side);
      await page.waitForTimeout(1_000);
      return pixelsOf(page, colours);
    };
    const view = (await page.locator(".ground-view").boundingBox())!;
    expect(await page.locator(".before-half").boundingBox()).toEqual(view);
    expect(await drawnOn("before", ramps.rate)).not.toEqual(await drawnOn("now", ramps.rate));
    await show("both");
    await page.evaluate(() => {
      location.hash = "#north-kettle/split";
    });
    await mapIsDrawn(page, "#north-kettle/split");
    const cap = page.getByRole("textbox", { name: /^Cap: all products/ });
    await cap.fill("120");
    await cap.press("Enter");
    await allIsDone(page);
    await isTold();
    // Most of the field has the heaviest rate before, and nothing of it now.
    const [before, now] = (await acres()).at(0)!;
    expect(before).toBeGreaterThan(100);
    expect(now).toBe(0);
    expect((await drawnOn("before", [heaviest]))[0]).toBeGreaterThan(10_000);
    expect((await drawnOn("now", [heaviest]))[0]).toBeLessThan(100);
    await show("both");
    await page.getByRole("button", { name: /^Undo: strip cap/ }).click();
    await allIsDone(page);
  });

  it("goes along to the strips, and back further than the last edit", async () => {
    await page.evaluate(() => {
      location.hash = "#north-kettle/strips/0-0-60";
    });
    await mapIsDrawn(page, "#north-kettle/strips/0-0-60");
    await page
      .getByRole("group", { name: "Headland passes" })
      .getByRole("radio", { name: "2", exact: true })
      .check();
    await allIsDone(page);
    await isTold();
    expect(await box().getByRole("status").textContent()).toMatch(/The passes lie elsewhere now/);
    await page
      .getByRole("group", { name: "What before is" })
      .getByRole("radio", { name: "as opened" })
      .check();
    await isTold();
    await box().getByText("Before: as opened").waitFor();
    expect(await violationsOn(page)).toEqual([]);
    await page.getByRole("button", { name: "Only the map now" }).click();
    await grip().waitFor({ state: "detached" });
    expect(await page.locator(".maplibregl-canvas").count()).toBe(1);
    await page.getByRole("button", { name: /^Edits/ }).click();
    await page.getByRole("button", { name: "Both on the map" }).click();
    await page.getByRole("dialog").waitFor({ state: "detached" });
    await isTold();
    await box().getByText("Before: as opened").waitFor();
    await page.getByRole("button", { name: "Sun" }).click();
    const large = (await grip().boundingBox())!;
    expect(Math.min(large.width, large.height)).toBeGreaterThanOrEqual(64);
    expect(await violationsOn(page)).toEqual([]);
    expect(faults).toEqual([]);
  });
});
