import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "playwright-core";
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

/** The lab's file with a letter for a digit in line 14 and no P in line 21. */
function spoiledLab(): Buffer {
  const lines = readFileSync(join(sample("single-field"), "soil-tests.csv"), "utf8").split(/\r?\n/);
  const column = lines[0]!.split(",").findIndex((heading) => heading.startsWith("P "));
  const put = (line: number, text: string) => {
    const cells = lines[line - 1]!.split(",");
    cells[column] = text;
    lines[line - 1] = cells.join(",");
  };
  put(14, "2l.4");
  put(21, "");
  return Buffer.from(lines.join("\n"));
}

describeInBrowser("files dropped and their rows", () => {
  let browser: Browser;
  let served: Served;
  beforeAll(async () => {
    browser = await launch();
    served = await servePage(null);
  });
  afterAll(async () => {
    await browser.close();
    await served.close();
  });

  it("says what is not taken and what is wanted; what was taken can be changed", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.locator(".empty").waitFor();
    await dropFiles(
      page,
      ["boundary.zip", "guidance.geojson", "soil-tests.csv"].map((name) => ({
        name,
        bytes: readFileSync(join(sample("single-field"), name)),
      })),
    );
    const question = (key: string) => page.locator(`.question[data-key="${key}"]`);
    const box = (key: string) => question(key).locator("input[type=text]");
    await question("rows").waitFor();
    expect(await question("cap").textContent()).not.toMatch(/most-in-a-cell/);
    await box("rows").fill("abc");
    await box("row-spacing-in").fill("thirty");
    await box("yield").fill("0");
    await box("cap").fill("-16");
    await question("cap").getByRole("checkbox").check();
    await question("crop").getByLabel("corn", { exact: true }).check();
    await question("guide").getByLabel("Tri-State 2020", { exact: true }).check();
    await page.getByRole("button", { name: /^Take these/ }).click();
    for (const [key, words] of [
      ["rows", "“abc” is not taken. Give the count of rows, a whole number from 1 to 96."],
      ["row-spacing-in", "“thirty” is not taken. Give inches, a number from 4 up."],
      ["yield", "“0” is not taken. Give bushels per acre, a number above 0."],
      ["cap", "“-16” is not taken. Give lb per acre, a number from 0 up."],
    ] as const)
      await question(key).getByText(words).waitFor();
    expect(await violationsOn(page)).toEqual([]);
    if (process.env.SHOTS) await page.screenshot({ path: join(process.env.SHOTS, "import-refused.png") });
    await box("rows").fill("16");
    await box("row-spacing-in").fill("30");
    await box("yield").fill("200");
    await box("cap").fill("150");
    await page.getByRole("button", { name: /^Take these/ }).click();
    const taken = page.getByRole("region", { name: "Answers taken" });
    await taken.getByText("150 in every place").waitFor();
    await taken.getByRole("button", { name: "Change the answer to: How many rows has the rig?" }).click();
    await box("rows").fill("24");
    await page.getByRole("button", { name: "Take this answer" }).click();
    await taken.getByText("24", { exact: true }).waitFor();
    expect(await page.getByRole("button", { name: "Make the maps" }).isEnabled()).toBe(true);
    expect(faults).toEqual([]);
    await context.close();
  });

  it("a GeoJSON that was cut short is a broken file, not a row to leave out", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.locator(".empty").waitFor();
    await dropFiles(page, [
      { name: "cut.geojson", bytes: Buffer.from('{"type":"FeatureCollection","features":[{"type":"Fea') },
    ]);
    const found = page.locator("table.files tbody tr", { hasText: "cut.geojson" });
    await found
      .getByText(/cut\.geojson is not JSON.*Export the file again; it may have been cut short\./)
      .waitFor();
    expect(await page.textContent(".import")).not.toMatch(/a row stands in the way|Leave row/);
    await dropFiles(
      page,
      ["boundary.zip", "guidance.geojson", "soil-tests.csv"].map((name) => ({
        name,
        bytes: readFileSync(join(sample("single-field"), name)),
      })),
    );
    await page.getByText("Waits for cut.geojson, which cannot be read as it stands").waitFor();
    expect(await violationsOn(page)).toEqual([]);
    await page.getByRole("button", { name: "Leave cut.geojson out" }).click();
    await page.locator('.question[data-key="rows"]').waitFor();
    await found.getByText("left out").waitFor();
    await page.getByText(/^Waits for \d+ answers\.$/).waitFor();
    await page.getByRole("button", { name: "Read cut.geojson all the same" }).click();
    await page.getByText("Waits for cut.geojson").waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it("lets a column be chosen by hand where its heading says nothing, and its unit", async () => {
    const context = await browser.newContext({ viewport: { width: 768, height: 1024 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.locator(".empty").waitFor();
    const lab = readFileSync(join(sample("single-field"), "soil-tests.csv"), "utf8");
    const bytes = Buffer.from(lab.replace("P Mehlich-3 ICP (ppm)", "Result A"));
    await dropFiles(page, [
      ...["boundary.zip", "guidance.geojson"].map((name) => ({
        name,
        bytes: readFileSync(join(sample("single-field"), name)),
      })),
      { name: "soil-tests.csv", bytes },
    ]);
    const questions = () => page.locator(".question").evaluateAll((all) => all.map((one) => one.dataset.key));
    await page.getByLabel("Result A, taken as").waitFor();
    await page.getByLabel("Result A, taken as").selectOption({ label: "phosphorus" });
    await expect.poll(questions, { timeout: 90_000 }).toEqual(expect.arrayContaining(["unit.P", "method.P"]));
    await page.getByLabel("Result A, unit").selectOption("ppm");
    await expect.poll(questions, { timeout: 90_000 }).not.toContain("unit.P");
    expect(await page.getByLabel("Result A, taken as").inputValue()).toBe("P");
    expect(await violationsOn(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    await page.getByRole("button", { name: "Result A as its heading says" }).click();
    await expect
      .poll(() => page.getByLabel("Result A, taken as").inputValue(), { timeout: 90_000 })
      .toBe("other");
    expect(faults).toEqual([]);
    await context.close();
  });

  it("asks two lab tables together with what each has, and file by file where that is wanted", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.locator(".empty").waitFor();
    const lab = readFileSync(join(sample("single-field"), "soil-tests.csv"), "utf8");
    const bare = lab.replace("P Mehlich-3 ICP (ppm)", "P");
    const [heading, ...rows] = bare.split(/\r?\n/);
    await dropFiles(page, [
      ...["boundary.zip", "guidance.geojson"].map((name) => ({
        name,
        bytes: readFileSync(join(sample("single-field"), name)),
      })),
      { name: "lab-a.csv", bytes: Buffer.from([heading, ...rows.slice(0, 20)].join("\n")) },
      { name: "lab-b.csv", bytes: Buffer.from([heading, ...rows.slice(20)].join("\n")) },
    ]);
    const question = (key: string) => page.locator(`.question[data-key="${key}"]`);
    await question("unit.P").waitFor();
    expect(await question("unit.P").textContent()).toMatch(/for lab-a\.csv and lab-b\.csv alike/);
    expect(await question("unit.P").textContent()).toMatch(
      /lab-a\.csv, column “P”: .*; lab-b\.csv, column “P”: /,
    );
    for (const name of ["lab-a.csv", "lab-b.csv"])
      await page.locator("table.files tr", { hasText: name }).getByText("2 questions").waitFor();
    await question("unit.P")
      .getByRole("button", { name: /^Answer file by file/ })
      .click();
    await question("unit.P.lab-a.csv").getByLabel("ppm", { exact: true }).check();
    await question("unit.P.lab-b.csv").getByLabel("lb/ac", { exact: true }).check();
    expect(await violationsOn(page)).toEqual([]);
    await question("method.P").getByLabel("Mehlich-3 read by ICP", { exact: true }).check();
    for (const [key, value] of [
      ["rows", "16"],
      ["row-spacing-in", "30"],
      ["cap", "150"],
      ["yield", "200"],
    ] as const)
      await question(key).locator("input[type=text]").fill(value);
    await question("crop").getByLabel("corn", { exact: true }).check();
    await question("guide").getByRole("radio").first().check();
    await page.getByRole("button", { name: /^Take these/ }).click();
    const taken = page.getByRole("region", { name: "Answers taken" });
    const line = (file: string, words: RegExp) =>
      taken.locator("div", { hasText: file }).filter({ hasText: words });
    await line("lab-a.csv", /In which unit is soil test P\?.*ppm/).waitFor();
    await line("lab-b.csv", /In which unit is soil test P\?.*lb\/ac/).waitFor();
    await line("lab-b.csv", /Which extractant .* soil test P\?.*Mehlich-3 read by ICP/).waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it("tells columns, units and bad rows; a value typed again stays an edit of the file's answers", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.locator(".empty").waitFor();
    const name = (file: string) => ({ name: file, bytes: readFileSync(join(sample("single-field"), file)) });
    await dropFiles(page, [
      name("boundary.zip"),
      name("guidance.geojson"),
      { name: "soil-tests.csv", bytes: spoiledLab() },
    ]);
    const rows = page.locator(".bad-row");
    await expect.poll(() => rows.count(), { timeout: 90_000 }).toBe(2);
    const table = await page.locator("table.files").textContent();
    expect(table).toMatch(/boundary\.zip\s*boundary\s*1 shape, 1 hole, 150\.53 ac/);
    expect(table).toMatch(/soil-tests\.csv\s*soil samples.*1 question, 1 row$/);
    const column = (heading: string) =>
      page.locator("tr", { has: page.getByRole("rowheader", { name: heading, exact: true }) });
    const phosphorus = column("P Mehlich-3 ICP (ppm)");
    expect(await phosphorus.getByLabel(/taken as$/).inputValue()).toBe("P");
    expect(await phosphorus.getByLabel(/unit$/).inputValue()).toBe("ppm");
    expect(await phosphorus.textContent()).toMatch(/phosphorus, Mehlich-3 read by ICP.*heading$/);
    expect(
      await column("Latitude")
        .getByLabel(/taken as$/)
        .inputValue(),
    ).toBe("latitude");
    expect(await column("Latitude").textContent()).toMatch(/degrees.*heading$/);
    // Line 14 stands crossed on the plat; line 21, whose sample counts without its P, is ringed among the other dots.
    const crossed = () =>
      page
        .locator(".rows-plat g[data-row]:has(.cross)")
        .evaluateAll((all) => all.map((one) => (one as SVGGElement).dataset.row));
    expect(await crossed()).toEqual(["14"]);
    expect(await page.locator(".rows-plat g[data-row='21'] .mended").count()).toBe(1);
    expect(await page.locator(".rows-plat .sample").count()).toBe(63);
    expect(await page.locator(".import input[type=radio]:checked").count()).toBe(0);
    expect(await violationsOn(page)).toEqual([]);

    const cell = "soil-tests.csv, line 14, column P Mehlich-3 ICP (ppm), value";
    await page.getByLabel(cell).fill("21.4");
    await page.getByLabel(cell).press("Enter");
    await expect
      .poll(() => page.locator(".bad-row.remark", { hasText: "2l.4" }).textContent())
      .toMatch(/“2l\.4” is read as 21\.4, as typed/);
    await page
      .getByLabel("soil-tests.csv, line 21, column P Mehlich-3 ICP (ppm), why it is left out")
      .fill("bag was torn");
    await page.getByRole("button", { name: "Leave row 21 out" }).click();
    await expect
      .poll(() => rows.allTextContents())
      .toEqual([
        expect.stringMatching(/“2l\.4” is read as 21\.4/),
        expect.stringMatching(/line 21 is left out: bag was torn/),
      ]);

    expect(await crossed()).toEqual([]);
    expect(await page.locator(".rows-plat .mended").count()).toBe(2);

    const answer = async (key: string, text: string) => {
      const question = page.locator(`[data-key="${key}"]`);
      if ((await question.locator("input[type=radio]").count()) > 0)
        await question.getByLabel(text, { exact: true }).check();
      else await question.locator("input[type=text]").fill(text);
    };
    await answer("rows", "12");
    await answer("row-spacing-in", "30");
    await answer("cap", "200");
    await answer("crop", "corn");
    await answer("yield", "200");
    await answer("guide", "Tri-State 2020");
    await page.getByRole("button", { name: /^Take these/ }).click();
    await page.getByRole("button", { name: "Make the maps" }).click({ timeout: 90_000 });
    await allIsDone(page);

    await page.locator(".more > summary").click();
    await page.getByRole("button", { name: "Files of the plan" }).click();
    await expect.poll(() => rows.count(), { timeout: 90_000 }).toBe(2);
    expect(await violationsOn(page)).toEqual([]);
    await rows.first().getByRole("button", { name: "As in the file" }).click();
    await page.getByLabel(cell).fill("22");
    await page.getByLabel(cell).press("Enter");
    await expect.poll(() => rows.first().textContent()).toMatch(/is read as 22/);
    expect(await page.locator(".tools").textContent()).toContain(
      "soil-tests.csv line 14, P Mehlich-3 ICP (ppm)",
    );
    const files = page.getByRole("region", { name: "Files of the plan" });
    await page.getByRole("link", { name: "Split" }).click();
    await files.waitFor({ state: "detached" });
    await page.locator(".more > summary").click();
    await page.getByRole("button", { name: "Files of the plan" }).click();
    await page.getByRole("button", { name: "Back to the sheet" }).click();
    await files.waitFor({ state: "detached" });
    await allIsDone(page);

    await page.keyboard.press("Alt+ArrowDown");
    const panel = page.getByRole("dialog", { name: "Edits, before and now" });
    await expect
      .poll(() => panel.locator("table.compared tbody tr").count(), { timeout: 90_000 })
      .toBeGreaterThan(4);
    expect(await panel.locator(".edit-list li").count()).toBe(2);
    expect(await violationsOn(page)).toEqual([]);
    await panel
      .getByRole("button", { name: /^Back to before this: soil-tests\.csv line 14/ })
      .last()
      .click();
    await expect.poll(() => panel.textContent()).toContain("No edit yet");
    await page.keyboard.press("Escape");
    expect(await panel.count()).toBe(0);
    expect(faults).toEqual([]);
    await context.close();
  });

  it("leaves whoever goes to a sheet while files are read on that sheet", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(served.url);
    await page.locator(".empty").waitFor();
    const names = ["boundary.zip", "guidance.geojson", "soil-tests.csv", "plan.json"];
    const given = names.map((name) => [name, readFileSync(join(sample("single-field"), name), "base64")]);
    const during = await page.evaluate((files) => {
      const data = new DataTransfer();
      for (const [name, base64] of files) {
        const bytes = Uint8Array.from(atob(base64!), (letter) => letter.charCodeAt(0));
        data.items.add(new File([bytes], name!));
      }
      document.body.dispatchEvent(
        new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }),
      );
      document.querySelector<HTMLAnchorElement>("nav.index a[href$=strips]")!.click();
      return location.hash;
    }, given);
    expect(during).toBe("#/strips");
    await page.getByRole("button", { name: "Download zip" }).waitFor();
    expect(await page.locator("nav.index a[aria-current=page]").textContent()).toContain("Strips");
    await allIsDone(page);
    expect(faults).toEqual([]);
    await context.close();
  });
});
