import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
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

const HASH = "#north-kettle/strips/0-0-60";

describeInBrowser("the strips sheet", () => {
  let browser: Browser;
  let served: Served;
  let page: Page;
  let faults: string[];

  const bench = () => page.locator(".bench");
  const choose = (about: string, text: string) =>
    page.getByRole("group", { name: about }).getByRole("radio", { name: text, exact: true }).check();
  const undoIs = (name: string | RegExp) =>
    page.getByRole("button", { name: typeof name === "string" ? `Undo: ${name}` : name }).waitFor();
  const shot = async (name: string) => {
    const folder = process.env.SHOTS;
    if (folder !== undefined) await page.screenshot({ path: `${folder}/${name}.png` });
  };

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(`${served.url}${HASH}`);
    await mapIsDrawn(page, HASH);
    await allIsDone(page);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it("says of a split that nobody has kept that it is the plan's, and marks no figure of it as of an earlier plan", async () => {
    await bench()
      .getByText("The split is not kept yet: these are the files of the split as the plan has it now.")
      .waitFor();
    await page.evaluate(() => {
      location.hash = "#farm/order";
    });
    await bench().getByText("1 of 1 field with a split that nobody has kept yet").waitFor();
    await allIsDone(page);
    expect(await bench().textContent()).not.toMatch(/~|default split/);
    await page.goto(`${served.url}${HASH}`);
    await mapIsDrawn(page, HASH);
    await allIsDone(page);
  });

  it("lays headlands and stretches by named edits, and lists the passes in working order", async () => {
    await choose("Headland passes", "2");
    await undoIs("headland passes 0 → 2");
    await choose("Where rates change", "as the meter can follow");
    await undoIs("rates by stretches the meter can follow");
    await bench()
      .getByText(/Shortest stretch 123 ft: 3 × 7 mph × 4 s \(assumed\)/)
      .waitFor();
    const response = page.getByLabel("Meter response");
    await response.fill("3");
    await response.press("Tab");
    await undoIs("meter response 3 s");
    await bench()
      .getByText(/Shortest stretch 92 ft/)
      .waitFor();
    await page.getByLabel("Sections that start and stop alone").fill("4");
    await page.getByLabel("Sections that start and stop alone").press("Tab");
    await undoIs("4 sections start and stop alone");
    await bench()
      .getByText(/ac \(by geometry, 4 sections\)/)
      .waitFor();
    await page.getByLabel("Overlap", { exact: true }).fill("3");
    await page.getByLabel("Overlap", { exact: true }).press("Tab");
    await undoIs("overlap 3 %");
    await bench()
      .getByText(/ac \(typed\)/)
      .waitFor();
    await choose("Order of the passes", "every second");
    await undoIs("passes every second");
    await bench().getByText("Passes in working order", { exact: true }).click();
    const rows = page.locator("table.order tbody tr");
    await page.locator("table.order tbody tr", { hasText: "H1" }).first().waitFor();
    const names = await rows.locator("th").allTextContents();
    expect(names.findIndex((name) => name.startsWith("H"))).toBeGreaterThan(names.length / 2);
    expect(names.at(-1)).toBe("H1");
    expect(await rows.first().locator("td").last().textContent()).toMatch(/^\d+ × [\d,]+(; \d+ × [\d,]+)*/);
    await allIsDone(page);
    await mapIsDrawn(page, HASH);
    await shot("strips-headlands");
    expect(await violationsOn(page)).toEqual([]);
  });

  it("takes turn radius, lead, planter and rows by named edits, and says where a planter does not follow", async () => {
    const type = async (label: string, value: string) => {
      await page.getByLabel(label).fill(value);
      await page.getByLabel(label).press("Tab");
    };
    await bench().getByText("Turns, lead, delays", { exact: true }).click();
    await type("Smallest turn radius", "25");
    await undoIs("turn radius 25 ft");
    await bench()
      .getByText(/radius 25 ft$/)
      .waitFor();
    await type("Rates moved ahead (the controller's own delay must be 0 then)", "2");
    await undoIs("rates 2 s ahead");
    await type("Sections on: product falls after", "0.5");
    await undoIs("sections on after 0.5 s");
    await bench().getByText("Planter on the strips", { exact: true }).click();
    await type("Rows of the planter (empty: not told)", "24");
    await undoIs("planter of 24 rows");
    await type("Its row spacing", "20");
    await undoIs("planter rows 20 in. apart");
    await bench()
      .getByText(/use one spacing for both/)
      .first()
      .waitFor();
    await bench().getByText("Rows, steps, spreader", { exact: true }).click();
    const passes = bench().locator(".number .big");
    const before = Number(await passes.textContent());
    await type("Rows of the rig", "8");
    await undoIs(/^Undo: 8 rows/);
    await page.waitForFunction(
      (was) => Number(document.querySelector(".bench .number .big")?.textContent) > was,
      before,
    );
    expect(await violationsOn(page)).toEqual([]);
    await shot("strips-implement");
    for (let k = 0; k < 6; k++) await page.keyboard.press("Control+z");
    await allIsDone(page);
    expect(Number(await passes.textContent())).toBe(before);
  }, 180_000);

  it("turns the line by a heading, by its ends' places, by dragging and by keys; undo brings it back", async () => {
    await choose("Where the guidance line comes from", "heading");
    const heading = page.getByLabel("Heading, clockwise from north");
    await heading.fill("20");
    await heading.press("Tab");
    await undoIs("North Kettle heading 20°");
    await bench().getByText("20.0°", { exact: true }).waitFor();
    await choose("Where the guidance line comes from", "two places");
    await undoIs("North Kettle: line A-B typed");
    const a = page.getByLabel("A, latitude, longitude");
    const before = await a.inputValue();
    const handle = page.getByRole("button", { name: /^Line end A/ });
    await handle.focus();
    for (let k = 0; k < 3; k++) await handle.press("Shift+ArrowRight");
    await undoIs("North Kettle: line A-B moved");
    const moved = await a.inputValue();
    const lon = (text: string) => Number(text.split(",")[1]);
    // 30 m east at about 41 degrees north.
    const metres =
      (lon(moved) - lon(before)) * 111_195 * Math.cos((Number(before.split(",")[0]) * Math.PI) / 180);
    expect(Math.abs(metres - 30)).toBeLessThan(0.1);
    const box = (await page.getByRole("button", { name: /^Line end B/ }).boundingBox())!;
    await page.mouse.move(box.x + 16, box.y + 16);
    await page.mouse.down();
    await page.mouse.move(box.x - 60, box.y + 30, { steps: 6 });
    await page.mouse.up();
    await allIsDone(page);
    expect(await bench().getByText("20.0°", { exact: true }).count()).toBe(0);
    await mapIsDrawn(page, HASH);
    await shot("strips-line");
    expect(await violationsOn(page)).toEqual([]);
    await choose("Where the guidance line comes from", "file");
    await undoIs("North Kettle: line of guidance.geojson");
    await allIsDone(page);
  });

  it("draws ground to keep off by taps and by typing, and takes it out again", async () => {
    await page.getByRole("button", { name: "Draw ground to keep off" }).click();
    const canvas = (await page.locator(".maplibregl-canvas").boundingBox())!;
    const at = (x: number, y: number) =>
      page.mouse.click(canvas.x + canvas.width * x, canvas.y + canvas.height * y);
    await at(0.4, 0.4);
    await at(0.5, 0.4);
    await page.getByLabel("Corner 2, latitude, longitude").waitFor();
    const corner = await page.getByLabel("Corner 2, latitude, longitude").inputValue();
    const [lat, lon] = corner.split(",").map(Number) as [number, number];
    const next = page.getByLabel("Next corner");
    await next.fill(`${(lat - 0.0006).toFixed(6)}, ${lon.toFixed(6)}`);
    await next.press("Tab");
    await page.getByLabel("Corner 3, latitude, longitude").waitFor();
    await page.locator(".maplibregl-canvas").focus();
    for (let k = 0; k < 4; k++) await page.keyboard.press("ArrowLeft");
    await page.getByRole("button", { name: "Corner at the read-out" }).click();
    await page.getByLabel("Corner 4, latitude, longitude").waitFor();
    await page.getByRole("button", { name: "Take out corner 4" }).click();
    const keep = page.getByRole("button", { name: "Keep off", exact: true });
    expect(await keep.isDisabled()).toBe(true);
    await page.getByLabel("What is there").fill("tile inlet");
    await page.getByLabel("Setback, ft, as your rules say").fill("30");
    await shot("strips-drawing");
    expect(await violationsOn(page)).toEqual([]);
    await keep.click();
    await undoIs("kept off: tile inlet");
    await bench()
      .getByText(/ac from the strip, .* ac from the spreader/)
      .waitFor();
    await allIsDone(page);
    await choose("What tile inlet keeps off", "the strip");
    await undoIs("tile inlet: strip, setback 30 ft");
    await bench()
      .getByText(/ 0\.0 ac from the spreader/)
      .waitFor();
    await allIsDone(page);
    await mapIsDrawn(page, HASH);
    await shot("strips-kept-off");
    await page.getByRole("button", { name: "Take out tile inlet" }).click();
    await undoIs("no longer kept off: tile inlet");
    await bench().getByText("No setbacks entered, none respected.").waitFor();
    await page.keyboard.press("Control+z");
    await page.getByRole("button", { name: "Change corners of tile inlet" }).click();
    await page.getByLabel("Corner 3, latitude, longitude").waitFor();
    await page.getByRole("button", { name: "Put the drawing away" }).click();
  });

  it("says nothing in the console and asks nothing of other hosts", () => {
    expect(faults).toEqual([]);
  });
});
