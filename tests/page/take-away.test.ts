import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { folderSource } from "../../src/cli/disk.ts";
import { readZip, rereadShapefile } from "../../src/formats/index.ts";
import { readPlan } from "../../src/plan/index.ts";
import { checkFiles, manifestPath, readManifest } from "../../src/publish/index.ts";
import { lbText, shownBalance, tonsText } from "../../src/report/index.ts";
import { compiledCli } from "../support/compiled-cli.ts";
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

const dropped = ["boundary.zip", "guidance.geojson", "soil-tests.csv", "plan.json"].map((name) => ({
  name,
  bytes: new Uint8Array(readFileSync(join(sample("single-field"), name))),
}));

interface ResultFile {
  readonly totals: readonly { readonly product: string; readonly pass: string; readonly lb: number }[];
  readonly prescriptions: readonly {
    readonly totalLb: number;
    readonly files: readonly { readonly path: string }[];
  }[];
  readonly fields: readonly { readonly balance: readonly Parameters<typeof shownBalance>[0][] }[];
}

describeInBrowser("four dropped files to a verified zip", () => {
  let browser: Browser;
  let served: Served;
  let folder: string;
  let zip: ReadonlyMap<string, Uint8Array>;
  let built: (path: string) => Promise<Uint8Array>;
  let builtPaths: string[];
  let faults: string[];
  let page: Page;
  let actions = 0;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "bermplan-page-"));
    const out = join(folder, "set");
    execFileSync(process.execPath, [compiledCli(), "build", sample("single-field"), "--out", out, "--quiet"]);
    const source = await folderSource(out);
    built = (path) => source.read(path);
    builtPaths = await source.list();
    browser = await launch();
    served = await servePage(null);
    const context = await browser.newContext({
      viewport: { width: 1280, height: 800 },
      acceptDownloads: true,
    });
    ({ page, faults } = await watchedPage(context, served.url));
    await page.goto(served.url);
    await page.getByText("No field yet").waitFor();

    await dropFiles(page, dropped);
    actions++;
    await page.getByRole("link", { name: "Strips" }).click();
    actions++;
    const [download] = await Promise.all([
      page.waitForEvent("download", { timeout: 90_000 }),
      page.getByRole("button", { name: "Download zip" }).click(),
    ]);
    actions++;
    const path = join(folder, "taken.zip");
    await download.saveAs(path);
    zip = readZip(new Uint8Array(readFileSync(path)), "taken.zip", { nested: "keep" }).files;
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("takes at most six actions and no error, and nothing is asked of another host", () => {
    expect(actions).toBeLessThanOrEqual(6);
    expect(faults).toEqual([]);
  });

  it("is written as it was asked for, whatever moves meanwhile", async () => {
    await allIsDone(page);
    const asked = page.waitForEvent("download");
    // In one go: the plan with 3 is asked for while nothing of it is worked out, and overtaken at once.
    await page.evaluate(() => {
      const passes = (count: string) =>
        document.querySelector<HTMLInputElement>(`fieldset input[type=radio][value="${count}"]`)!;
      passes("3").click();
      [...document.querySelectorAll("button")].find((one) => one.textContent === "Download zip")!.click();
      passes("4").click();
    });
    const taken = join(folder, "moved.zip");
    await (await asked).saveAs(taken);
    const { files } = readZip(new Uint8Array(readFileSync(taken)), "moved.zip", { nested: "keep" });
    expect(readPlan(files.get("plan/plan.json")!, "plan.json").rig.headlandPasses).toBe(3);
    expect(await page.getByRole("alert").count()).toBe(0);
    expect(faults).toEqual([]);
    const undo = page.getByRole("button", { name: /^Undo: headland passes/ });
    await undo.click();
    await undo.click();
    await allIsDone(page);
  });

  it("is as its manifest says, every file read back", async () => {
    const manifest = readManifest(zip.get(manifestPath)!, manifestPath);
    const problems = await checkFiles(manifest, {
      list: async () => [...zip.keys()].sort(),
      read: async (path) => zip.get(path)!,
    });
    expect(problems).toEqual([]);
  });

  it("is told with as many files as it holds", async () => {
    const told = page.getByRole("status").filter({ hasText: "read back, same as written" });
    expect(await told.textContent()).toContain(`: ${zip.size} files, `);
  });

  it("is told of the plan that it was made of alone, and of a split that nobody kept", async () => {
    const told = page.getByRole("status").filter({ hasText: "read back, same as written" });
    await page.locator('fieldset input[type=radio][value="1"]').click();
    await told.waitFor({ state: "detached" });
    await page.getByRole("button", { name: /^Undo: headland passes/ }).click();
    await told.waitFor();
    await allIsDone(page);
    await page.getByRole("link", { name: "Farm" }).click();
    const figure = page.locator("#bench .number");
    await figure.getByText(/with the split kept and files checked/).waitFor();
    expect(await figure.locator(".big").textContent()).toBe("0.0");
    expect(await page.getByRole("link", { name: "Split" }).textContent()).not.toMatch(/done/);
    await page.getByRole("link", { name: "Strips" }).click();
  });

  it("holds the files that the command line writes, by name", () => {
    expect([...zip.keys()].sort()).toEqual(builtPaths.toSorted());
  });

  it("holds the same records and rates, and coordinates within 1e-9 degree", async () => {
    const layers = builtPaths.filter((path) => path.endsWith(".shp"));
    expect(layers.length).toBeGreaterThanOrEqual(2);
    for (const path of layers) {
      const stem = path.slice(0, -".shp".length);
      const parts = builtPaths.filter((name) => name.startsWith(`${stem}.`) && !name.endsWith(".geojson"));
      const ours = await rereadShapefile(new Map(parts.map((name) => [name, zip.get(name)!])));
      const written = await Promise.all(parts.map(async (name) => [name, await built(name)] as const));
      const theirs = await rereadShapefile(new Map(written));
      expect(ours.length).toBe(theirs.length);
      expect(ours.map((feature) => feature.properties)).toEqual(theirs.map((feature) => feature.properties));
      expect(farthest(ours, theirs)).toBeLessThanOrEqual(1e-9);
      expect(zip.get(`${stem}.dbf`)).toEqual(await built(`${stem}.dbf`));
    }
  });

  it("shows on the page the totals of result.json to the printed digit", async () => {
    await allIsDone(page);
    const result = JSON.parse(new TextDecoder().decode(await built("result.json"))) as ResultFile;
    for (const { product, pass, lb } of result.totals) {
      if (pass !== "all") continue;
      expect(await page.locator(`[data-total="${product}"]`).textContent()).toBe(tonsText(lb, "us", 2));
    }
    for (const balance of result.fields[0]!.balance) {
      const row = page.locator(`[data-oxide="${balance.nutrient}"]`);
      const shown = shownBalance(balance);
      expect(await row.locator("[data-part=need]").textContent()).toBe(shown.need.toLocaleString("en-US"));
      expect(await row.locator("[data-part=strip]").textContent()).toBe(shown.strip.toLocaleString("en-US"));
      expect(await row.locator("[data-part=broadcast]").textContent()).toBe(
        shown.broadcast.toLocaleString("en-US"),
      );
    }
    for (const { totalLb, files } of result.prescriptions) {
      const stem = files[0]!.path.replace(/^.*\//, "").replace(/\.[^.]*$/, "");
      expect(await page.locator(`[data-file="${stem}"]`).textContent()).toBe(lbText(totalLb));
    }
  });
});

function farthest(
  ours: readonly { readonly geometry: unknown }[],
  theirs: readonly { readonly geometry: unknown }[],
): number {
  const [a, b] = [
    numbersIn(ours.map(({ geometry }) => geometry)),
    numbersIn(theirs.map(({ geometry }) => geometry)),
  ];
  expect(a.length).toBe(b.length);
  return a.reduce((most, value, k) => Math.max(most, Math.abs(value - b[k]!)), 0);
}

function numbersIn(value: unknown): number[] {
  if (typeof value === "number") return [value];
  if (Array.isArray(value)) return value.flatMap(numbersIn);
  return value !== null && typeof value === "object" ? numbersIn(Object.values(value)) : [];
}
