import type { Browser, Page } from "playwright-core";
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
import { pixelsOf } from "./support/pixels.ts";

/** Share of the field's acres that classes may be off on the screen: edges and lines cover pixels of both sides. */
const OFF = 0.02;

describeInBrowser("the drawn map", () => {
  let browser: Browser;
  let served: Served;
  let page: Page;
  let faults: string[];

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  /** Acres of each class in the legend, highest class first, without those that nothing comes to. */
  async function legendAcres(): Promise<number[]> {
    const told = await page
      .getByRole("region", { name: "Legend" })
      .getByRole("img")
      .first()
      .getAttribute("aria-label");
    return told!
      .slice(told!.indexOf(". ") + 2)
      .split("; ")
      .filter((one) => !one.startsWith("none"))
      .map((one) => Number(/: ([\d.]+) /.exec(one)![1]));
  }

  /** Colours of the legend, its frame first, then from the lowest class up. */
  const swatches = () =>
    page
      .getByRole("region", { name: "Legend" })
      .locator("svg rect[stroke]")
      .evaluateAll((all) => all.map((one) => one.getAttribute("fill")!));

  const sheets = ["#north-kettle/need/K2O", "#north-kettle/need/P2O5", "#north-kettle/soil/K"];
  it.each(sheets)("%s shows every class in its colour over its acres", async (hash) => {
    await page.goto(`${served.url}${hash}`);
    await mapIsDrawn(page, hash);
    await allIsDone(page);
    const acres = await legendAcres();
    const colours = (await swatches()).toReversed().slice(0, acres.length);
    const pixels = await pixelsOf(page, colours);
    const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
    const shown = acres.filter((area) => area > 0);
    expect(pixels).toHaveLength(shown.length);
    for (const [k, area] of shown.entries())
      expect(Math.abs(pixels[k]! / sum(pixels) - area / sum(shown)), `class ${k}: ${area} ac`).toBeLessThan(
        OFF,
      );
    expect(faults).toEqual([]);
  });
});
