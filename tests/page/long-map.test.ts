// A section of 640 acres with 250 samples: long enough for the page's own threads.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { newPlan, writePlan } from "../../src/plan/index.ts";
import { ANSWERS, asList, boundary, labCsv, smallFarmFiles } from "../support/small-farm.ts";
import {
  describeInBrowser,
  launch,
  mapIsDrawn,
  type Served,
  servePage,
  watchedPage,
} from "./support/browser.ts";

const SIDE = 16;

function sectionFolder(): { folder: string; field: string } {
  const [west, south, width, height] = [-93.5, 42, 0.0194, 0.0145];
  const outer = [
    [west, south],
    [west + width, south],
    [west + width, south + height],
    [west, south + height],
    [west, south],
  ];
  const rows = Array.from({ length: SIDE * SIDE }, (_, i) => {
    const [column, row] = [i % SIDE, Math.floor(i / SIDE)];
    const p = 22 + 9 * Math.sin(column / 3) * Math.cos(row / 4) + ((i * 7919) % 11) - 5;
    const [lon, lat] = [west + (width * (column + 0.5)) / SIDE, south + (height * (row + 0.5)) / SIDE];
    return [i + 1, lon.toFixed(6), lat.toFixed(6), p.toFixed(1), (140 + 3 * p).toFixed(0), "16"];
  });
  const text = new TextEncoder();
  const files = new Map(smallFarmFiles());
  files.set("boundary.geojson", text.encode(JSON.stringify(boundary(outer))));
  files.set("lab.csv", text.encode(labCsv(rows)));
  const { plan } = newPlan("section", "2027-03-20", asList(files), ANSWERS);
  const folder = mkdtempSync(join(tmpdir(), "section-"));
  for (const [path, bytes] of [...files, ["plan.json", writePlan(plan)] as const]) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), bytes);
  }
  return { folder, field: plan.fields[0]!.id };
}

describeInBrowser("a long soil map", () => {
  let browser: Browser;
  let served: Served;
  let page: Page;
  let faults: string[];
  let field: string;
  let folder: string;

  beforeAll(async () => {
    ({ folder, field } = sectionFolder());
    browser = await launch();
    served = await servePage(folder);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(`${served.url}#${field}/soil/P`);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("is kriged by threads of the page, tells how far it is, and stops at once", async () => {
    const words = page.locator(".progress-words");
    await words.getByText(/soil maps \((P|K|CEC) \d+ %\)/).waitFor({ timeout: 90_000 });
    await words.getByRole("button", { name: "Stop" }).click();
    await words.getByText("Stopped. The map shows the plan before this change.").waitFor();
    await page.reload();
    await mapIsDrawn(page, `#${field}/soil/P`);
    await page.locator(".bench").getByText("How computed", { exact: true }).click();
    await page.locator(".bench").getByText("256 samples of P used.").waitFor();
    const threads = page.workers().filter((worker) => /band-worker/.test(worker.url()));
    expect(threads.length).toBe(await page.evaluate(() => Math.min(8, navigator.hardwareConcurrency)));
    expect(faults).toEqual([]);
  });
});
