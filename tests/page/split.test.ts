import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { readPlan, writePlan } from "../../src/plan/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { violationsUnfolded } from "./support/axe.ts";
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

/** Pictures for whoever looks at them: `SHOTS=folder`. */
async function picture(page: Page, name: string): Promise<void> {
  if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/${name}.png` });
}

describeInBrowser("the split sheet", () => {
  let browser: Browser;
  let served: Served;
  let page: Page;
  let faults: string[];

  const bench = () => page.locator(".bench");
  const choose = (about: string, text: string) =>
    page.getByRole("group", { name: about }).getByRole("radio", { name: text, exact: true }).check();
  const undoIs = (name: string) => page.getByRole("button", { name: `Undo: ${name}` }).waitFor();
  const unfold = (summary: string) =>
    page.evaluate((text) => {
      for (const one of document.querySelectorAll<HTMLDetailsElement>(".bench details"))
        if (one.querySelector("summary")?.textContent === text) one.open = true;
    }, summary);
  const type = async (label: string, text: string) => {
    const input = page.getByLabel(label, { exact: true });
    await input.fill(text);
    await input.press("Tab");
  };

  const folder = mkdtempSync(join(tmpdir(), "page-split-"));

  beforeAll(async () => {
    browser = await launch();
    cpSync(sample("single-field"), folder, { recursive: true });
    const planFile = join(folder, "plan.json");
    writeFileSync(planFile, writePlan(barePlan(readPlan(readFileSync(planFile), "plan.json"))));
    served = await servePage(folder);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(`${served.url}#north-kettle/split`);
    await mapIsDrawn(page, "#north-kettle/split");
    await allIsDone(page);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("asks for the rig, then draws acres a day against the rate and tells the two levers", async () => {
    await unfold("Rig and tender");
    await type("Speed", "7");
    await undoIs("speed 7 mph");
    await type("Bin L, 11-52-0: struck volume", "105");
    await type("Bin R, 0-0-60: struck volume", "105");
    await type("Tenders (empty: product always at hand)", "1");
    await undoIs("1 tender");
    await bench()
      .getByRole("img", { name: /^Acres a day against the strip's rate: \d+ from full, \d+ steady$/ })
      .waitFor();
    await bench()
      .getByRole("row", { name: /20 lb\/ac off the strip/ })
      .waitFor();
    await bench()
      .getByText(/ac a fill, \d+ fills? here/)
      .waitFor();
    await bench()
      .getByText(/Unconfirmed: bin L, density: \d/)
      .waitFor();
    await allIsDone(page);
    await picture(page, "split-rig");
    expect(await violationsUnfolded(page)).toEqual([]);
  });

  it("splits by share, by priority and at least cost, each a named edit", async () => {
    await choose("Way to split", "Common share");
    await undoIs("split by common share");
    await bench()
      .getByText(/of what lies above the starter goes in the strip/)
      .waitFor();
    await choose("Way to split", "By priority");
    await bench()
      .getByText(/stays in the strip; what comes after it waits/)
      .waitFor();
    await bench()
      .getByRole("row", { name: /build-up, K₂O/ })
      .waitFor();
    await allIsDone(page);
    await picture(page, "split-priority");
    await choose("Way to split", "Least cost");
    await bench()
      .getByText(/is what one more lb in the strip saves at these prices/)
      .waitFor();
    await type("An hour of the rig, timeliness included", "600");
    await undoIs("rig hour $600");
    await bench()
      .getByText(/is what one more lb in the strip costs in time; the limit is the (rig|tender)$/)
      .waitFor();
    await allIsDone(page);
    await picture(page, "split-optimum");
    await choose("Way to split", "Common ceiling");
    await allIsDone(page);
  });

  it("a cap on every place comes back after a look at least cost, which says that it holds a mean", async () => {
    const isChosen = (text: string) =>
      page
        .getByRole("group", { name: "What the cap limits" })
        .getByRole("radio", { name: text, exact: true });
    await choose("What the cap limits", "every place");
    await choose("Way to split", "Least cost");
    await bench()
      .getByText(/^the cap is to hold at every place, but the least cost holds it as the field's mean/)
      .waitFor();
    expect(await isChosen("every place").count()).toBe(0);
    await choose("Way to split", "Common ceiling");
    expect(await isChosen("every place").isChecked()).toBe(true);
    await choose("What the cap limits", "the field's mean");
    await allIsDone(page);
  });

  it("says of a cap that binds nowhere that it cuts nothing, and no more", async () => {
    const label = "Cap: all products together in the strip";
    const before = await page.getByLabel(label, { exact: true }).inputValue();
    await type(label, "900");
    await bench()
      .getByText(/in the strip on the average: the cap cuts nothing, no ceiling is needed$/)
      .waitFor();
    await type(label, before);
    await allIsDone(page);
  });

  it("asks what lies near the seed, stands on the ladder, and takes a name", async () => {
    await unfold("Salt near the seed");
    await bench()
      .getByText(/Distance not told, so it counts as with the seed/)
      .waitFor();
    await type("Nearest distance of the band to the seed", "5");
    await undoIs("band 5 in. from the seed");
    await bench()
      .getByText(/Distance more than 3 in\. from the seed/)
      .waitFor();
    await bench().getByLabel("Who takes note of it?").fill("A. Grower");
    await bench().getByRole("button", { name: "Take note" }).click();
    await undoIs("salt beyond 3 in.: A. Grower took note");
    await bench()
      .getByText(/^A\. Grower took note on/)
      .waitFor();
    await allIsDone(page);
    await picture(page, "split-seed");
    expect(await violationsUnfolded(page)).toEqual([]);
  });

  it("blends both products in one bin, says ratio, batch and pairs in words, and goes back", async () => {
    await unfold("Products and blend");
    await bench().getByRole("button", { name: "One bin, one blend" }).click();
    await undoIs("one bin, one blend of 11-52-0 and 0-0-60");
    await bench()
      .getByText(/lb K₂O a lb P₂O₅/)
      .waitFor();
    await bench()
      .getByText(/0-0-60 with|11-52-0 with/)
      .first()
      .waitFor();
    await type("Batch", "12000");
    await bench()
      .getByText(/= 12,000 lb; this analysis is in the maps/)
      .waitFor();
    await allIsDone(page);
    await picture(page, "split-blend");
    expect(await violationsUnfolded(page)).toEqual([]);
    // The need sheet tells what an oxide costs by the parts of the blend.
    await page.getByRole("link", { name: "Need" }).click();
    await page.getByRole("heading", { name: "Need", exact: true }).waitFor();
    const first = "What ground below critical wants first";
    await bench().getByText(first).waitFor();
    await unfold(first);
    await bench()
      .getByRole("row", { name: /^P₂O₅ below critical/ })
      .waitFor();
    expect(faults).toEqual([]);
    await page.goto(`${served.url}#north-kettle/split`);
    await bench().getByRole("button", { name: "A bin for each product" }).click();
    await bench().getByRole("button", { name: "One bin, one blend" }).waitFor();
    await allIsDone(page);
  });

  it("shows where the field stays short once nothing is broadcast", async () => {
    await choose("What the strip leaves", "not placed");
    await allIsDone(page);
    await choose("What the plat shows", "K₂O short");
    await page.getByRole("img", { name: /^K₂O short of the need, lb K₂O\/ac\..*none: [\d.]+ ac$/ }).waitFor();
    await mapIsDrawn(page, "#north-kettle/split/short-K2O");
    await picture(page, "split-short");
    expect(await violationsUnfolded(page)).toEqual([]);
    await choose("What the strip leaves", "broadcast later");
    await allIsDone(page);
  });

  it("nothing went wrong in the console, and nothing was asked of another place", () => {
    expect(faults).toEqual([]);
  });
});
