import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
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

/** The sample field with one P test mistyped tenfold, as laboratories do. */
function folderWithOutlier(): string {
  const folder = mkdtempSync(join(tmpdir(), "outlier-"));
  cpSync(sample("single-field"), folder, { recursive: true });
  const path = join(folder, "soil-tests.csv");
  const text = readFileSync(path, "utf8").replace(
    /^(.*,North Kettle,20,0-8in,[^,]*,[^,]*,[^,]*),33,/m,
    "$1,330,",
  );
  writeFileSync(path, text);
  const sha256 = createHash("sha256").update(text).digest("hex");
  const planPath = join(folder, "plan.json");
  const plan = JSON.parse(readFileSync(planPath, "utf8")) as { sources: { path: string; sha256: string }[] };
  for (const source of plan.sources) if (source.path === "soil-tests.csv") source.sha256 = sha256;
  writeFileSync(planPath, JSON.stringify(plan));
  return folder;
}

describeInBrowser("soil tests and need", () => {
  let browser: Browser;
  let served: Served;
  let folder: string;
  let page: Page;
  let faults: string[];

  const bench = () => page.locator(".bench");
  const choose = (about: string, text: string) =>
    page.getByRole("group", { name: about }).getByRole("radio", { name: text, exact: true }).check();
  const undoIs = (name: string) => page.getByRole("button", { name: `Undo: ${name}` }).waitFor();
  const open = async (hash: string) => {
    await page.evaluate((to) => {
      location.hash = to;
    }, hash);
    await mapIsDrawn(page, hash);
  };

  beforeAll(async () => {
    folder = folderWithOutlier();
    browser = await launch();
    served = await servePage(folder);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(`${served.url}#north-kettle/soil/P`);
    await mapIsDrawn(page, "#north-kettle/soil/P");
    await allIsDone(page);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("names the sample to check first, leaves it out with a reason, and takes it back in", async () => {
    const check = page.locator(".doubt", { hasText: "Check sample 20." });
    const why = check.getByLabel("Why sample 20 is kept or left out");
    expect(await check.getByRole("button", { name: "Leave it out" }).isDisabled()).toBe(true);
    expect(await check.getByRole("button", { name: "Keep it" }).isDisabled()).toBe(true);
    await why.fill("an old feed lot");
    await check.getByRole("button", { name: "Keep it" }).click();
    await undoIs("North Kettle P: sample 20 kept");
    await check.waitFor({ state: "detached" });
    await page.getByRole("button", { name: "Undo: North Kettle P: sample 20 kept" }).click();
    await check.waitFor();
    await why.fill("typed one nought too many");
    await check.getByRole("button", { name: "Leave it out" }).click();
    await undoIs("North Kettle P: sample 20 left out");
    await check.waitFor({ state: "detached" });
    await bench().getByText("Samples", { exact: true }).click();
    const rows = page.locator("table.samples tbody tr");
    const row = page.locator("table.samples tbody tr").first();
    await row.getByText("left out: typed one nought too many").waitFor();
    // What is folded is not made: a move would pay for it.
    const steps = bench().locator("details", { has: page.getByText("How computed", { exact: true }) });
    expect(await steps.locator(":scope > *").count()).toBe(1);
    await bench().getByText("How computed", { exact: true }).click();
    await bench().getByText("62 samples of P used (1 switched off).").waitFor();
    expect(await bench().locator("details ol li").count()).toBe(10);
    await bench()
      .getByRole("img", { name: /^Variogram of soil P: \d+ distances$/ })
      .waitFor();
    await row.getByRole("button", { name: "Take back in sample 20" }).click();
    await check.waitFor();
    await why.fill("an old feed lot");
    await check.getByRole("button", { name: "Keep it" }).click();
    await rows.first().getByText("checked and kept: an old feed lot").waitFor();
    await bench().getByText("Checked and kept by the user: 20 (an old feed lot).").waitFor();
    await rows.first().getByRole("button", { name: "Check sample 20 again" }).click();
    await check.waitFor();
    await page.getByLabel("Compare with a least-squares fit").check();
    await bench()
      .getByText(/^Spherical, weighted by pairs over squared distance: nugget/)
      .waitFor();
    await bench().getByText("Ruled: where 90 % of the averaged ones lie.").waitFor();
    await why.fill("typed one nought too many");
    await check.getByRole("button", { name: "Leave it out" }).click();
    await check.waitFor({ state: "detached" });
  });

  it("maps by a typed variogram and by inverse distance, and says what each gives", async () => {
    await choose("How the samples become a map", "typed variogram");
    await undoIs("North Kettle P: variogram typed");
    await bench().getByText("ordinary kriging, typed model.").waitFor();
    const range = page.getByLabel("Range", { exact: true });
    await range.fill("900");
    await range.press("Tab");
    await undoIs("North Kettle P variogram: range 900 ft");
    expect(await page.getByRole("radio", { name: "pooled" }).count()).toBe(0);
    await page.getByRole("button", { name: "Add a structure" }).click();
    await undoIs("North Kettle P variogram: structure 2 added");
    await page.getByLabel("Form 2").selectOption("exponential");
    await undoIs("North Kettle P variogram: exponential");
    await page.getByRole("button", { name: "Take structure 1 out" }).click();
    await undoIs("North Kettle P variogram: structure 1 taken out");
    await bench().getByText("Direction and support", { exact: true }).click();
    const across = page.getByLabel("Range across it over range along it, 1 for none");
    await across.fill("0.5");
    await across.press("Tab");
    await undoIs("North Kettle P variogram: ratio across 0.5");
    await bench()
      .getByText("By the user's choice ranges are longest at 0 degrees from north and 0.5 of that across.")
      .waitFor();
    await page.getByLabel("Each value is").selectOption("point");
    await undoIs("all soil maps: points");
    await bench().getByText("Each value stands for the point at the centre of a cell of 10 m.").waitFor();
    await bench().getByText("The variogram was typed by the user.").waitFor();
    await open("#north-kettle/soil/P-odds");
    await page
      .getByRole("region", { name: "Legend" })
      .getByText("chance in 100")
      .filter({ visible: true })
      .first()
      .waitFor();
    expect(await violationsUnfolded(page)).toEqual([]);
    await choose("How the samples become a map", "inverse distance");
    await bench().getByText("inverse distance, power 2.").waitFor();
    await bench().getByText("This way of mapping gives no odds").waitFor();
    await choose("How the samples become a map", "averaged");
    await bench().getByText("ordinary kriging, averaged model.").waitFor();
  });

  it("shows the readings of the need side by side; the one chosen drives the rates", async () => {
    await open("#north-kettle/need/K2O");
    await allIsDone(page);
    const strip = () => page.locator('[data-oxide="K2O"] [data-part=need]').textContent();
    const mapped = await strip();
    const expected = page.locator(".drives tr", { hasText: "expected over what the test may be" });
    const figure = (await expected.locator("td.figure").first().textContent()) ?? "";
    expect(figure).toMatch(/^[\d,]+$/);
    expect(await page.getByLabel("weighted by what a lb costs").isDisabled()).toBe(true);
    await expected.getByRole("radio").check();
    await undoIs("rates follow the expected need");
    await allIsDone(page);
    expect(await strip()).not.toBe(mapped);
    await bench().getByText(`${figure} lb in the field`).waitFor();
    await bench().getByText("What a lb costs", { exact: true }).click();
    for (const [label, usd] of [
      ["$ a missing lb of oxide costs", "2"],
      ["$ an excess lb of oxide costs", "0.5"],
    ] as const) {
      await page.getByLabel(label).fill(usd);
      await page.getByLabel(label).press("Tab");
    }
    await undoIs("an excess lb costs none → $0.50");
    await page.getByLabel("weighted by what a lb costs").check();
    await undoIs("rates follow the weighted need");
  });

  it("shows the arithmetic at a place, classes, accounts, and says that no setbacks are entered", async () => {
    await page.locator(".maplibregl-canvas").focus();
    await page.keyboard.press("ArrowUp");
    await bench()
      .getByText(/^Removal: 60 bu x 1\.15 lb = 69 lb K2O\/ac\.$/)
      .waitFor();
    await bench().getByText("No setbacks entered, none respected.").waitFor();
    await bench().getByText("Take care", { exact: true }).click();
    await bench()
      .getByText(/^Ohio, western Lake Erie basin: No surface N or P fertilizer on frozen/)
      .waitFor();
    await bench().getByText("Classes of the guide", { exact: true }).click();
    await bench()
      .getByRole("row", { name: /^below critical/ })
      .first()
      .waitFor();
    expect(await violationsUnfolded(page)).toEqual([]);
  });

  it("takes a figure of the user's in place of the guide's, shows it overridden, and the need follows", async () => {
    // Without what it was before the last edit.
    const need = () =>
      page
        .locator('[data-oxide="K2O"] [data-part=need]')
        .evaluate((one) => [...one.childNodes].at(-1)?.textContent);
    await open("#north-kettle/need/K2O");
    await allIsDone(page);
    const before = await need();
    expect(before).toMatch(/^[\d,]+$/);
    const figures = page.locator("details", { has: page.getByText("Figures of the guide", { exact: true }) });
    await figures.evaluate((one) => one.setAttribute("open", ""));
    const input = page.getByLabel("Own figure for K2O added to removal");
    await input.fill("40");
    await input.press("Tab");
    await undoIs("tri-state-2020: K2O added to removal 40");
    const row = page.getByRole("row", { name: /^K2O added to removal, lb\/ac overridden/ });
    await row.getByText(/^read: Ohio State Univ\. Ext\. fact sheet ANR-96$/).waitFor();
    await bench().getByText("K2O added to removal: yours 40, the guide's 20 lb/ac").waitFor();
    await allIsDone(page);
    expect(await need()).not.toBe(before);
    expect(await violationsUnfolded(page)).toEqual([]);
    await input.fill("");
    await input.press("Tab");
    await undoIs("tri-state-2020: K2O added to removal as in the guide");
    await allIsDone(page);
    expect(await need()).toBe(before);
  });

  it("the order names the guide behind it as unconfirmed, and the cautions", async () => {
    await page.evaluate(() => {
      location.hash = "#farm/order";
    });
    await bench().getByText("Guide: Tri-State 2020, 1 field; unconfirmed.").waitFor();
    await bench().getByText("Take care", { exact: true }).waitFor();
    await open("#north-kettle/need/K2O");
  });

  it("is unconfirmed until somebody enters the comparison", async () => {
    const doubt = page.locator(".doubt", { hasText: "Unconfirmed:" });
    await doubt.getByText("It was compared", { exact: true }).click();
    await doubt.getByLabel("Compared by").fill("A. Grower");
    await doubt.getByLabel("Bulletin page or table").fill("table 12");
    expect(await doubt.getByRole("button", { name: "Enter it in the plan" }).isDisabled()).toBe(true);
    await doubt.getByLabel("On", { exact: true }).fill("2027-02-01");
    await doubt.getByRole("button", { name: "Enter it in the plan" }).click();
    await bench()
      .getByText(/Confirmed by A\. Grower, table 12, 2027-02-01/)
      .waitFor();
    await doubt.waitFor({ state: "detached" });
  });

  it("follows a table of the user's own, edited in place", async () => {
    await page.getByRole("button", { name: "Begin a table of your own" }).click();
    const own = page.locator("details.own");
    await own.getByLabel("New class: test below, ppm").fill("130");
    await own.getByLabel("Its rate, lb of oxide an acre").fill("80");
    await own.getByRole("button", { name: "Add this row" }).click();
    await undoIs("Own table: 130 ppm added");
    await page.getByLabel("Guide", { exact: true }).selectOption({ label: "Own table" });
    await undoIs("North Kettle guide set to Own table");
    await allIsDone(page);
    await choose("Oxide", "P₂O₅");
    await bench().getByText("0.0", { exact: true }).first().waitFor();
    await choose("Oxide", "K₂O");
    await own.getByLabel("Rate of row 1, lb of oxide an acre").fill("-5");
    await own.getByLabel("Rate of row 1, lb of oxide an acre").press("Tab");
    await own.getByText("Not taken. A rate is a number from 0 up.").waitFor();
    expect(await violationsUnfolded(page)).toEqual([]);
    expect(faults).toEqual([]);
  });
});
