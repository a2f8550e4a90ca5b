// Files dropped on an open plan by names it has, two drops after one another, and the list while another sheet is opened.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { violationsOn } from "./support/axe.ts";
import {
  allIsDone,
  describeInBrowser,
  dropFiles,
  launch,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

const own = readFileSync(join(sample("single-field"), "soil-tests.csv"));
const line = readFileSync(join(sample("single-field"), "guidance.geojson"));
/** The lab's file once more, with half its P. */
const corrected = Buffer.from(halfOfP(own.toString("utf8")));

function halfOfP(text: string): string {
  const [headings, ...rows] = text.trimEnd().split(/\r?\n/);
  const column = headings!.split(",").findIndex((heading) => heading.startsWith("P "));
  const halved = rows.map((row) => {
    const cells = row.split(",");
    cells[column] = String(Number(cells[column]) / 2);
    return cells.join(",");
  });
  return `${[headings, ...halved].join("\r\n")}\r\n`;
}

describeInBrowser("a lab table whose name the plan has", () => {
  let browser: Awaited<ReturnType<typeof launch>>;
  let served: Served;
  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
  });
  afterAll(async () => {
    await browser.close();
    await served.close();
  });

  it("is asked about, takes the place that is chosen, and an Undo gives the plan its own back", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/need`);
    await allIsDone(page);
    const need = () => page.locator("#balance [data-part=need]").first().textContent();
    const before = await need();
    await dropFiles(page, [{ name: "guidance.geojson", bytes: line }]);
    await page.getByText("the plan has this file already").waitFor();
    const add = page.getByRole("button", { name: "Add these files" });
    expect(await add.isDisabled()).toBe(true);
    await dropFiles(page, [{ name: "soil-tests.csv", bytes: corrected }]);
    await page.getByRole("heading", { name: "2 files dropped" }).waitFor();
    const question = page.locator(".question[data-key='same-name.soil-tests-2.csv']");
    await question.getByText("The plan has soil-tests.csv (63 rows)").waitFor();
    expect(await question.locator("input:checked").count()).toBe(0);
    expect(await add.isDisabled()).toBe(true);
    expect(await page.locator(".import").textContent()).not.toMatch(/strip rates in steps of/);
    expect(await violationsOn(page)).toEqual([]);
    await page.evaluate(() => {
      location.hash = "#farm";
    });
    await page.getByText("Farm shows once this is finished, or with Add none.").waitFor();
    await question.getByLabel("replaces soil-tests.csv of the plan").check();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await page.getByRole("status").getByText("2 files dropped. Ready.").waitFor({ state: "attached" });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("2 files dropped");
    await add.click();
    const undo = page.getByRole("button", { name: "Undo: soil-tests.csv replaced by soil-tests-2.csv" });
    await undo.waitFor();
    await page.evaluate(() => {
      location.hash = "#north-kettle/need";
    });
    await allIsDone(page);
    await undo.click();
    await expect.poll(need, { timeout: 90_000 }).toContain(before!);
    await allIsDone(page);
    expect(await page.locator(".refused").count()).toBe(0);
    expect(faults).toEqual([]);
    await context.close();
  });
});

describeInBrowser("a browser without WebGL", () => {
  it("says so in the plat, and works out figures and files", async () => {
    const browser = await launch({ webGl: false });
    const served = await servePage(sample("single-field"));
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/need`);
    await page.locator("#plat").getByText("This browser draws no map here (WebGL is off).").waitFor();
    await allIsDone(page);
    expect(await page.getByText("Point at the field, tap it").count()).toBe(0);
    expect(await violationsOn(page)).toEqual([]);
    expect(faults).toEqual([]);
    await browser.close();
    await served.close();
  });
});
