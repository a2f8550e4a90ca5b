// Beside the plat: legend and read-out are read whole, with ordinary scroll bars too; samples left out are seen to be.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Ground } from "../../app/src/engine/protocol.ts";
import { sampleShapes } from "../../app/src/map/shapes.ts";
import {
  allIsDone,
  describeInBrowser,
  dropFiles,
  launch,
  mapIsDrawn,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

const bytesOf = (name: string) => new Uint8Array(readFileSync(join(sample("single-field"), name)));

/** The single field with two samples left out of the map of P. */
function dropped() {
  const plan = JSON.parse(new TextDecoder().decode(bytesOf("plan.json")));
  plan.fields[0].switchedOff = ["7", "30"].map((one) => ({ sample: one, test: "P", reason: "a fence row" }));
  return [
    ...["boundary.zip", "guidance.geojson", "soil-tests.csv"].map((name) => ({ name, bytes: bytesOf(name) })),
    { name: "plan.json", bytes: new TextEncoder().encode(JSON.stringify(plan)) },
  ];
}

it("a sample left out of a test's map stands in brackets there and as it is in the others", () => {
  const samples = [
    { id: "1", at: [0, 0], values: { P: 30.8, K: 150, CEC: null }, off: ["P"] },
    { id: "2", at: [0, 0], values: { P: 12, K: 90, CEC: 14 }, off: [] },
  ] as const;
  const drawn = (test: "P" | "K") =>
    sampleShapes({ samples } as unknown as Ground, test).features.map(({ properties }) => properties);
  expect(drawn("P")).toEqual([
    { text: "(30.8)", off: true },
    { text: "12", off: false },
  ]);
  expect(drawn("K").map((one) => one?.off)).toEqual([false, false]);
});

describeInBrowser("the column beside the plat", () => {
  let browser: Browser;
  let served: Served;
  beforeAll(async () => {
    browser = await launch({ scrollBars: true });
    served = await servePage(null);
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  async function opened(width: number, height: number): Promise<{ page: Page; faults: string[] }> {
    const context = await browser.newContext({ viewport: { width, height } });
    const watched = await watchedPage(context, served.url);
    await watched.page.goto(served.url);
    await watched.page.getByText("No field yet").waitFor();
    await dropFiles(watched.page, dropped());
    await mapIsDrawn(watched.page, "#north-kettle/soil/P");
    return watched;
  }

  async function readOut(page: Page): Promise<void> {
    const view = (await page.locator(".ground-view").boundingBox())!;
    await page.mouse.click(view.x + view.width / 2, view.y + view.height * 0.7);
    await page.locator(".read-out .row").first().waitFor();
  }

  /** How wide things are cut off, which boxes scroll, and labels that a value lies on. */
  const looks = (page: Page) =>
    page.evaluate(() => {
      const column = document.querySelector(".column")!;
      const inner = column.getBoundingClientRect().left + column.clientWidth;
      const boxes = [...column.querySelectorAll("svg, .box, .row")];
      const rows = [...column.querySelectorAll(".read-out .row")];
      return {
        cut: boxes.filter((one) => one.getBoundingClientRect().right > inner + 0.5).length,
        sideways: column.scrollWidth - column.clientWidth,
        inner: boxes.filter(
          (one) => !one.closest("svg") && one.scrollHeight > one.clientHeight + 1 && one.matches(".box"),
        ).length,
        overprinted: rows.filter((row) => {
          const [label, value] = [...row.children].map((one) => one.getBoundingClientRect());
          return label!.right > value!.left + 0.5 && label!.bottom > value!.top + 0.5;
        }).length,
        page: document.documentElement.scrollHeight - innerHeight,
      };
    });
  const WHOLE = { cut: 0, sideways: 0, inner: 0, overprinted: 0 };

  it("reads whole at 1280 by 800, in one piece that scrolls, and says what is left out", async () => {
    const { page, faults } = await opened(1280, 800);
    await readOut(page);
    expect(await looks(page)).toEqual({ ...WHOLE, page: 0 });
    expect(await page.locator(".left-out").textContent()).toContain("(value): left out, 2 samples");
    await allIsDone(page);
    await page.getByRole("link", { name: /Split/ }).click();
    await mapIsDrawn(page, "#north-kettle/split");
    expect(await looks(page)).toEqual({ ...WHOLE, page: 0 });
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("reads whole in the sun on a tablet: every rate can be brought into view", async () => {
    const { page, faults } = await opened(768, 1024);
    await page.getByRole("button", { name: /Show Sun/ }).click();
    await page.getByRole("link", { name: /Split/ }).click();
    await mapIsDrawn(page, "#north-kettle/split");
    await readOut(page);
    expect(await looks(page)).toMatchObject(WHOLE);
    // Nor do the balance's parts lie on one another.
    expect(
      await page
        .locator("#balance > .cell")
        .evaluateAll((cells) => cells.map((cell) => cell.scrollWidth - cell.clientWidth)),
    ).toEqual([0, 0, 0, 0]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    const last = page.locator(".read-out .row").last();
    await last.scrollIntoViewIfNeeded();
    const [column, row] = [await page.locator(".column").boundingBox(), await last.boundingBox()];
    expect(row!.y + row!.height).toBeLessThanOrEqual(column!.y + column!.height);
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
