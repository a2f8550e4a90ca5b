// plan.json in the folder that is served is written anew while the page keeps the plan of its last visit.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { readZip } from "../../src/formats/index.ts";
import type { Plan } from "../../src/plan/index.ts";
import { allIsDone, describeInBrowser, dropFiles, servedCopy } from "./support/browser.ts";

describeInBrowser("the plan in the folder that is served", () => {
  let copy: Awaited<ReturnType<typeof servedCopy>>;
  let folder: string;
  let page: Page;
  let faults: readonly string[];

  const path = () => join(folder, "plan.json");
  const price = () => page.getByLabel("Price of 0-0-60, US dollars a short ton");
  const setPrice = (usd: number) => {
    const plan: Plan = JSON.parse(readFileSync(path(), "utf8"));
    const pricesUsdPerTon = { ...plan.pricesUsdPerTon, "0-0-60": usd };
    writeFileSync(path(), JSON.stringify({ ...plan, pricesUsdPerTon }));
  };
  const isKept = () =>
    page
      .getByText(/^Saved on this computer/)
      .first()
      .waitFor({ state: "attached" });
  const newer = () => page.getByText("it is open as it stands there now");
  const other = () => page.getByText("In the folder plan.json or a file that it names has changed since");

  beforeAll(async () => {
    copy = await servedCopy("single-field");
    ({ folder, page, faults } = copy);
  });
  afterAll(() => copy.close());

  it("is opened in place of a visit that only looked, and told beside edits, until it is that plan", async () => {
    await page.goto(`${copy.url}#farm/order`);
    await allIsDone(page);
    await isKept();
    // The same plan is no other.
    await page.reload();
    await page.getByText("The plan is back.").waitFor();
    expect([await newer().count(), await other().count()]).toEqual([0, 0]);
    setPrice(517);
    await page.reload();
    await newer().waitFor();
    await allIsDone(page);
    expect(await price().inputValue()).toBe("517");
    await page.getByRole("button", { name: "Close", exact: true }).click();

    await price().fill("530");
    await price().press("Tab");
    await page.getByRole("button", { name: /^Undo: 0-0-60 price/ }).waitFor();
    await allIsDone(page);
    await isKept();
    setPrice(540);
    await page.reload();
    await other().waitFor();
    await page.getByText("The plan is back up to: 0-0-60 price").waitFor();
    await allIsDone(page);
    expect(await price().inputValue()).toBe("530");

    // The page's plan, saved and put there, is what it has.
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save plan file" }).first().click(),
    ]);
    const { files } = readZip(new Uint8Array(readFileSync(await download.path())), "saved.zip");
    writeFileSync(path(), files.get("plan.json")!);
    await page.reload();
    await page.getByText("The plan is back up to: 0-0-60 price").waitFor();
    expect(await other().count()).toBe(0);
    // A file that the plan names is part of it.
    const lab = join(folder, "soil-tests.csv");
    const text = readFileSync(lab, "utf8");
    writeFileSync(lab, `${text}\n`);
    await page.reload();
    await other().waitFor();
    writeFileSync(lab, text);
    setPrice(540);
    await page.reload();
    await other().waitFor();
    await page.getByRole("button", { name: "Open the last plan file, without these edits" }).click();
    await allIsDone(page);
    expect(await price().inputValue()).toBe("540");
    expect(faults).toEqual([]);
  }, 120_000);

  it("gives way to a plan dropped on its page, until it is opened again", async () => {
    const plan: Plan = JSON.parse(readFileSync(path(), "utf8"));
    const typed = { ...plan, pricesUsdPerTon: { ...plan.pricesUsdPerTon, "0-0-60": 611 } };
    const sources = [...new Set(plan.sources.map((source) => source.path))];
    await dropFiles(page, [
      { name: "plan.json", bytes: new TextEncoder().encode(JSON.stringify(typed)) },
      ...sources.map((name) => ({ name, bytes: new Uint8Array(readFileSync(join(folder, name))) })),
    ]);
    // An opened plan begins with its soil tests.
    await page.getByRole("button", { name: "Go on to need" }).waitFor();
    await page.evaluate(() => {
      location.hash = "#farm/order";
    });
    await expect.poll(() => price().inputValue(), { timeout: 30_000 }).toBe("611");
    await allIsDone(page);
    await isKept();
    await page.reload();
    await page.getByText("It was dropped on this page and is not the plan in the folder").waitFor();
    await allIsDone(page);
    expect(await price().inputValue()).toBe("611");
    await page.getByRole("button", { name: "Open the last plan file" }).click();
    await expect.poll(() => price().inputValue(), { timeout: 30_000 }).toBe("540");
    await allIsDone(page);
    await isKept();
    await page.reload();
    await page.getByText("The plan is back.").waitFor();
    await allIsDone(page);
    expect(await price().inputValue()).toBe("540");
    expect(faults).toEqual([]);
  }, 120_000);

  it("is opened in a second tab that comes to hold the plan, where it has changed meanwhile", async () => {
    const second = await page.context().newPage();
    await second.goto(`${copy.url}#farm/order`);
    await second.getByText("The plan is open in another tab").waitFor();
    setPrice(555);
    await page.close();
    await second.getByText("it is open as it stands there now").waitFor();
    await allIsDone(second);
    await second.evaluate(() => {
      location.hash = "#farm/order";
    });
    const its = second.getByLabel("Price of 0-0-60, US dollars a short ton");
    await expect.poll(() => its.inputValue(), { timeout: 30_000 }).toBe("555");
    expect(await second.getByText("The plan is back").count()).toBe(0);
  }, 120_000);
});
