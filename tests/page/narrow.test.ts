import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import {
  allIsDone,
  describeInBrowser,
  launch,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

/** Where screenshots go, when somebody wants to look. */
const shots = process.env.SHOTS;
const shoot = async (page: Page, name: string): Promise<void> => {
  if (shots !== undefined) await page.screenshot({ path: join(shots, `${name}.png`) });
};

const tablet = { width: 768, height: 1024 } as const;
const phone = { width: 420, height: 800 } as const;

describeInBrowser("narrow screens", () => {
  let browser: Browser;
  let served: Served;

  beforeAll(async () => {
    browser = await launch();
    served = await servePage(sample("single-field"));
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  const open = async (viewport: { width: number; height: number }, sheet: string) => {
    const context = await browser.newContext({ viewport, hasTouch: true });
    const { page, faults } = await watchedPage(context, served.url);
    await page.goto(`${served.url}#north-kettle/${sheet}`);
    await allIsDone(page);
    return { context, page, faults };
  };

  it("768 wide in the sun: the cap can be typed without a scroll, the balance is one row", async () => {
    const { context, page, faults } = await open(tablet, "split");
    await page.getByRole("button", { name: "Sun" }).click();
    await page.locator("[data-theme=sun]").waitFor();
    await shoot(page, "768-sun-split");
    const foot = (await page.locator("#balance").boundingBox())!;
    const cap = (await page
      .getByLabel("Cap: all products together in the strip", { exact: true })
      .boundingBox())!;
    expect(cap.y + cap.height).toBeLessThanOrEqual(foot.y);
    const cells = await page.$$eval("#balance > .cell", (all) =>
      all.map((one) => one.getBoundingClientRect()).map(({ top, right }) => ({ top, right })),
    );
    expect(new Set(cells.map(({ top }) => Math.round(top))).size).toBe(1);
    for (const { right } of cells) expect(right).toBeLessThanOrEqual(tablet.width);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(tablet.width);
    expect(faults).toEqual([]);
    await context.close();
  }, 120_000);

  it.each([
    { width: 1280, height: 800 },
    { width: 1024, height: 768 },
  ])(
    "$width wide in the sun: the order's costs stand whole in the column, the balance in its cells",
    async (viewport) => {
      const { context, page, faults } = await open(viewport, "split");
      await page.evaluate(() => {
        location.hash = "#farm/order";
      });
      await page.getByRole("button", { name: "Sun" }).click();
      await page.locator("[data-theme=sun]").waitFor();
      for (const product of ["11-52-0", "0-0-60"]) {
        const price = page.getByLabel(`Price of ${product}, US dollars a short ton`);
        await price.fill("1780");
        await price.blur();
      }
      const heading = page.getByRole("columnheader", { name: "10 % dearer" });
      await heading.waitFor();
      await shoot(page, `${viewport.width}-sun-order`);
      const bench = (await page.locator(".bench .scroll").boundingBox())!;
      const cells = page.locator(".bench .scroll td.figure:last-child", { hasText: /^\$\d+,\d{3}$/ });
      const costs = [...(await cells.all()), heading];
      expect(costs.length).toBeGreaterThanOrEqual(5);
      for (const one of costs) {
        const { x, width } = (await one.boundingBox())!;
        expect(x + width).toBeLessThanOrEqual(bench.x + bench.width + 0.5);
      }
      await allIsDone(page);
      const within = await page.$$eval("#balance > .cell", (all) =>
        all.map(({ scrollWidth, clientWidth }) => scrollWidth <= clientWidth + 1),
      );
      expect(within).toEqual(within.map(() => true));
      expect(faults).toEqual([]);
      await context.close();
    },
    120_000,
  );

  it.each(["split", "fills"])(
    "768 wide, %s: the legend stands whole beside the plat",
    async (sheet) => {
      const { context, page, faults } = await open(tablet, sheet);
      await shoot(page, `768-${sheet}`);
      const column = (await page.locator(".plat .column").boundingBox())!;
      const legend = (await page.getByRole("region", { name: "Legend" }).boundingBox())!;
      expect(legend.y + legend.height).toBeLessThanOrEqual(column.y + column.height - 28);
      expect(faults).toEqual([]);
      await context.close();
    },
    120_000,
  );

  it("420 wide: nothing goes sideways but the sheets' names, none over another, the open one in sight", async () => {
    const { context, page, faults } = await open(phone, "applied");
    for (const sheet of ["applied", "split"]) {
      await page.evaluate((hash) => {
        location.hash = hash;
      }, `#north-kettle/${sheet}`);
      await page.locator(`main[data-sheet=${sheet}]`).waitFor();
      await page.waitForTimeout(300);
      await shoot(page, `420-${sheet}`);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(phone.width);
      const names = await page.$$eval(".index a", (all) =>
        all.map((one) => {
          const { left, right } = one.getBoundingClientRect();
          return { left, right, spill: one.scrollWidth - one.clientWidth };
        }),
      );
      names.forEach(({ left, spill }, k) => {
        expect(spill).toBeLessThanOrEqual(0);
        if (k > 0) expect(left).toBeGreaterThanOrEqual(names[k - 1]!.right - 0.5);
      });
      const chosen = (await page.locator(".index [aria-current=page]").boundingBox())!;
      expect(chosen.x).toBeGreaterThanOrEqual(0);
      expect(chosen.x + chosen.width).toBeLessThanOrEqual(phone.width);
    }
    expect(faults).toEqual([]);
    await context.close();
  }, 120_000);
});
