// The command line writes into the ledger of the folder that is served, while the page keeps the plan of its last visit.
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { readZip } from "../../src/formats/index.ts";
import { type LedgerEvent, ledgerAddition } from "../../src/ledger/index.ts";
import { allIsDone, describeInBrowser, servedCopy } from "./support/browser.ts";

const fieldId = "north-kettle";
/** All of 0-0-60 that the strip maps hold; the maps hold 23,504 lb of it, strip and broadcast. */
const laid: LedgerEvent = {
  ...({ kind: "placed", fieldId, pass: "strip", product: "0-0-60", lb: 13_698, areaAc: 150.5 } as const),
  ...{ map: "A", revision: "A", p2o5Lb: 0, k2oLb: 8_219, from: "typed" },
};
/** 3.3 % of overlap on 23,504 lb, and on the 9,806 lb that are left of them. */
const ALL_LB = "24,279";
const LEFT_LB = "10,130";
const takenBack: LedgerEvent = { kind: "void", voids: 2, why: "of another field" };
const loaded = (map: string): LedgerEvent => ({ kind: "loaded", fieldId, map, revision: "A" });

function ledgerOf(...events: readonly LedgerEvent[]): Uint8Array {
  let all: Uint8Array = new Uint8Array();
  for (const event of events) {
    const more = ledgerAddition(all, "ledger.txt", "2027-04-18", event);
    all = new Uint8Array([...all, ...more]);
  }
  return all;
}

describeInBrowser("the ledger of the folder that is served", () => {
  let copy: Awaited<ReturnType<typeof servedCopy>>;
  let folder: string;
  let page: Page;
  let faults: readonly string[];

  const write = (ledger: Uint8Array) => writeFileSync(join(folder, "ledger.txt"), ledger);
  const refused = () => page.getByRole("alert", { name: "The plan cannot be worked out" });
  /** The sheet Order has so many lb of 0-0-60 to buy. */
  const toBuy = async (lb: string) => {
    await allIsDone(page);
    await page.getByRole("row", { name: new RegExp(`^0-0-60 ${lb} `) }).waitFor({ timeout: 20_000 });
  };
  const savedLedger = async () => {
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save plan file" }).first().click(),
    ]);
    const { files } = readZip(new Uint8Array(readFileSync(await download.path())), "saved.zip");
    return files.get("ledger.txt");
  };

  beforeAll(async () => {
    copy = await servedCopy("single-field", (at) =>
      writeFileSync(join(at, "ledger.txt"), ledgerOf(loaded("A"))),
    );
    ({ folder, page, faults } = copy);
  });
  afterAll(() => copy.close());

  it("counts on the page that is opened again, with the page's own edits, and is saved with the plan", async () => {
    await page.goto(`${copy.url}#farm/order`);
    await toBuy(ALL_LB);
    const price = page.getByLabel("Price of 0-0-60, US dollars a short ton");
    await price.fill("500");
    await price.press("Tab");
    await page.getByRole("button", { name: /^Undo: 0-0-60 price/ }).waitFor();
    await allIsDone(page);
    await page
      .getByText(/^Saved on this computer/)
      .first()
      .waitFor({ state: "attached" });
    const grown = ledgerOf(loaded("A"), laid);
    write(grown);
    await page.reload();
    await page.getByText("The plan is back up to: 0-0-60 price").waitFor();
    await toBuy(LEFT_LB);
    expect(await price.inputValue()).toBe("500");
    expect(await savedLedger()).toEqual(grown);
    await page
      .getByText(
        "ledger.txt in the folder has 1 line more than the page had; maps, order and stick go by it now.",
      )
      .waitFor();
    await page.getByRole("button", { name: "Close", exact: true }).click();
    // It is the page's own now, and nothing is told again.
    await page.reload();
    await page.getByText("The plan is back up to: 0-0-60 price").waitFor();
    await toBuy(LEFT_LB);
    expect(await page.getByText("ledger.txt in the folder").count()).toBe(0);
  }, 120_000);

  it("counts on a page that stands open, once somebody comes back to it", async () => {
    const grown = ledgerOf(loaded("A"), laid, takenBack);
    write(grown);
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    await page.getByText("ledger.txt in the folder has 1 line more than the page had").waitFor();
    await toBuy(ALL_LB);
    expect(await savedLedger()).toEqual(grown);
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    expect(await page.getByText("has 1 line more than the page had").isVisible()).toBe(true);
    await page.getByRole("button", { name: "Close", exact: true }).click();
  }, 120_000);

  it("that has lost lines does not take the page's away, and is told of", async () => {
    write(ledgerOf(loaded("A")));
    await page.reload();
    await page
      .getByText("ledger.txt in the folder has 1 line, the page's own 3, the same ones among them")
      .waitFor();
    await toBuy(ALL_LB);
    expect(await savedLedger()).toEqual(ledgerOf(loaded("A"), laid, takenBack));
    // The same where the folder has none at all any more.
    rmSync(join(folder, "ledger.txt"));
    await page.reload();
    await page.getByText("ledger.txt in the folder has 0 lines, the page's own 3").waitFor();
  }, 120_000);

  it("that has gone apart from the page's is asked about, and nothing is taken until one is chosen", async () => {
    const others = ledgerOf(loaded("B"), laid);
    write(others);
    // The folder's other files come once the page has its own: they are not worked on in their stead.
    await page.route("**/opened/soil-tests.csv", async (route) => {
      await new Promise((late) => setTimeout(late, 3_000));
      await route.continue();
    });
    const late = page.waitForResponse("**/opened/soil-tests.csv");
    await page.reload();
    await refused()
      .getByText(/ledger\.txt in the folder \(2 lines\) and .* \(3 lines\) differ from line 1 on/)
      .waitFor();
    expect(await page.getByRole("button", { name: "Save the order sheet" }).isDisabled()).toBe(true);
    expect(await page.getByRole("button", { name: "Save plan file" }).first().isDisabled()).toBe(true);
    expect(await refused().getByRole("button", { name: /^Undo/ }).count()).toBe(0);
    await late;
    await page.unroute("**/opened/soil-tests.csv");
    await page.waitForTimeout(500);
    await refused().getByLabel("the page's own, as it was kept").check();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await refused().waitFor({ state: "detached" });
    await toBuy(ALL_LB);
    // Answered once, it is not asked again in this visit.
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    expect(await refused().count()).toBe(0);
    await page.reload();
    await refused().getByLabel("the folder's, as it is there now").check();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await refused().waitFor({ state: "detached" });
    await toBuy(LEFT_LB);
    expect(await savedLedger()).toEqual(others);
    expect(faults).toEqual([]);
  }, 120_000);
});
