// Writing to a stick from the page: a folder of the browser's own storage stands for the one the user would choose.
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { folderSource } from "../../src/cli/disk.ts";
import { rereadShapefile } from "../../src/formats/index.ts";
import { type LedgerEvent, ledgerAddition } from "../../src/ledger/index.ts";
import { LEDGER_PATH, writePlan } from "../../src/plan/index.ts";
import { checkFiles, manifestPath, readManifest, type Stick, stickPath } from "../../src/publish/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { twoFields } from "../support/two-fields.ts";
import { violationsUnfolded } from "./support/axe.ts";
import {
  allIsDone,
  describeInBrowser,
  launch,
  type Served,
  sample,
  servePage,
  watchedPage,
} from "./support/browser.ts";

/** Files of the folder, name and base64. */
const filesIn = (page: Page): Promise<readonly (readonly [string, string])[]> =>
  page.evaluate(async () => {
    const found: [string, string][] = [];
    const walk = async (folder: FileSystemDirectoryHandle, below: string): Promise<void> => {
      for await (const [name, handle] of folder.entries()) {
        const path = below === "" ? name : `${below}/${name}`;
        if (handle.kind === "directory") await walk(handle as FileSystemDirectoryHandle, path);
        else {
          const bytes = new Uint8Array(
            await (await (handle as FileSystemFileHandle).getFile()).arrayBuffer(),
          );
          let text = "";
          for (const byte of bytes) text += String.fromCharCode(byte);
          found.push([path, btoa(text)]);
        }
      }
    };
    await walk(
      await (await navigator.storage.getDirectory()).getDirectoryHandle("stick", { create: true }),
      "",
    );
    return found;
  });

const put = (page: Page, path: string, text: string): Promise<void> =>
  page.evaluate(
    async ({ path, text }) => {
      let folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("stick", {
        create: true,
      });
      const parts = path.split("/");
      for (const part of parts.slice(0, -1)) folder = await folder.getDirectoryHandle(part, { create: true });
      const file = await (await folder.getFileHandle(parts.at(-1)!, { create: true })).createWritable();
      await file.write(text);
      await file.close();
    },
    { path, text },
  );

/** The folder of the browser's own storage stands for the one that the user would choose. */
const standIn = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    (globalThis as unknown as { showDirectoryPicker: unknown }).showDirectoryPicker = async () =>
      (await navigator.storage.getDirectory()).getDirectoryHandle("stick", { create: true });
  });

/** A plan's folder served on a page of its own, with its field's cab sheet open. */
async function cabSheetOf(browser: Browser, plan: string, field: string) {
  const served = await servePage(plan);
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const { page } = await watchedPage(context, served.url);
  await standIn(page);
  await page.goto(`${served.url}#${field}/cab-sheet`);
  await allIsDone(page);
  return {
    page,
    close: async () => {
      await context.close();
      await served.close();
    },
  };
}

describeInBrowser("the stick from the page", () => {
  let browser: Browser;
  let served: Served;
  let folder: string;
  let page: Page;
  let faults: string[];
  let rounds = 0;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "bermplan-stick-"));
    browser = await launch();
    served = await servePage(sample("single-field"));
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    ({ page, faults } = await watchedPage(context, served.url));
    await standIn(page);
    await page.goto(`${served.url}#north-kettle/cab-sheet`);
    await allIsDone(page);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** What the stick holds now, on disk. */
  async function onDisk(): Promise<string> {
    const out = join(folder, `round-${++rounds}`);
    for (const [path, base64] of await filesIn(page)) {
      mkdirSync(dirname(join(out, path)), { recursive: true });
      writeFileSync(join(out, path), Buffer.from(base64, "base64"));
    }
    return out;
  }

  const written = (revision: string) =>
    page
      .getByRole("status")
      .filter({ hasText: `Revision ${revision} on stick` })
      .waitFor({ timeout: 90_000 });

  it("says that the browser does not let it, where it does not", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const denied = await watchedPage(context, served.url);
    await denied.page.addInitScript(() => {
      (globalThis as unknown as { showDirectoryPicker: unknown }).showDirectoryPicker = async () => {
        throw new DOMException("Not allowed to show a file picker.", "SecurityError");
      };
    });
    await denied.page.goto(`${served.url}#north-kettle/cab-sheet`);
    await allIsDone(denied.page);
    await denied.page.getByRole("button", { name: "Choose the stick's folder" }).click();
    const told = denied.page
      .getByRole("alert")
      .filter({ hasText: "does not let this page write into a folder" });
    await told.waitFor();
    expect(await told.textContent()).toMatch(
      /Not allowed to show a file picker\..*Nothing was written\..*download the zip/,
    );
    expect(denied.faults).toEqual([]);
    await context.close();
  });

  it("asks what a rate 0 does, keeps it in the plan, writes the set and reads it back", async () => {
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    await page.locator('[data-key="zero-rate"]').waitFor({ timeout: 90_000 });
    expect(await page.locator('[data-key="zero-rate"]').textContent()).not.toMatch(/zeroRate|small:|no-data/);
    expect(await filesIn(page)).toEqual([]);
    expect(await violationsUnfolded(page)).toEqual([]);
    await page.locator('[data-key="zero-rate"]').getByText("the meter stops", { exact: true }).click();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await written("A");
    const source = await folderSource(await onDisk());
    const manifest = readManifest(await source.read(manifestPath), manifestPath);
    expect(await checkFiles(manifest, source)).toEqual([]);
    const stick = JSON.parse(new TextDecoder().decode(await source.read(stickPath))) as Stick;
    expect(stick.zeroRate).toEqual({ does: "off" });
    expect(stick.maps.length).toBe(2);
    for (const map of stick.maps) {
      const files = new Map<string, Uint8Array>();
      for (const path of map.files.filter((one) => one.startsWith(map.name)))
        files.set(path, await source.read(path));
      const records = await rereadShapefile(files);
      expect(records.length).toBeGreaterThan(10);
    }
    expect(await page.getByText("A rate 0: off").count()).toBeGreaterThan(0);
    await page.setViewportSize({ width: 768, height: 1024 });
    expect(await violationsUnfolded(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    await page.setViewportSize({ width: 1280, height: 800 });
    if (process.env.SHOTS) await page.screenshot({ path: join(process.env.SHOTS, "stick.png") });
  });

  it("names what else is on the stick, as the command line does", async () => {
    await put(page, "OTHER.shp", "of somebody");
    await put(page, "notes.txt", "mine");
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    await page
      .getByText("Not of this set, and not to be loaded: OTHER.shp, notes.txt.")
      .waitFor({ timeout: 90_000 });
  });

  it("does not write a done field again, and says so", async () => {
    await page.locator("details", { hasText: "No field loaded or done" }).evaluate((one) => {
      (one as HTMLDetailsElement).open = true;
    });
    await page.getByLabel("State of North Kettle").selectOption("done");
    await allIsDone(page);
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    await page.getByText("Nothing to write: every field is marked as loaded or done").first().waitFor();
    await page
      .getByText("Tick “Write loaded, done and stripped fields again too” to write them all the same.")
      .first()
      .waitFor();
    await page.getByLabel("State of North Kettle").selectOption("open");
  });

  it("leaves out a field that the plan's ledger has as stripped, unless it is asked for", async () => {
    const plan = join(folder, "stripped");
    cpSync(sample("single-field"), plan, { recursive: true });
    const placed = ["11-52-0", "0-0-60"].map(
      (product): LedgerEvent => ({
        ...{ kind: "placed", fieldId: "north-kettle", pass: "strip", product },
        ...{ lb: 15_000, areaAc: 150.5, map: "", revision: "" },
        ...{ p2o5Lb: 7800, k2oLb: 9000, from: "typed" },
      }),
    );
    let ledger: Uint8Array = new Uint8Array();
    for (const event of placed) {
      const more = ledgerAddition(ledger, LEDGER_PATH, "2027-04-16", event);
      ledger = Buffer.concat([ledger, more]);
    }
    writeFileSync(join(plan, LEDGER_PATH), ledger);
    const { page, close } = await cabSheetOf(browser, plan, "north-kettle");
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    await page
      .getByText("by the plan's ledger nothing is left to strip: North Kettle is stripped by the ledger")
      .first()
      .waitFor({ timeout: 90_000 });
    expect((await filesIn(page)).map(([path]) => path)).toEqual([]);
    await page.locator("details", { hasText: "No field loaded or done" }).evaluate((one) => {
      (one as HTMLDetailsElement).open = true;
    });
    await page.getByLabel("Write loaded, done and stripped fields again too").check();
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    await page.locator('[data-key="zero-rate"]').getByText("the meter stops", { exact: true }).click();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await page
      .getByText("Look before loading: North Kettle is stripped by the ledger")
      .waitFor({ timeout: 90_000 });
    await close();
  });

  it("asks in words what is to become of a TASKDATA, and names a field that is not written again", async () => {
    const folderOfTwo = join(folder, "two-fields");
    mkdirSync(folderOfTwo);
    const { plan, files } = twoFields({}, { zeroRate: "off" });
    for (const [path, bytes] of files) writeFileSync(join(folderOfTwo, path), bytes);
    writeFileSync(join(folderOfTwo, "plan.json"), writePlan(plan));
    const { page, close } = await cabSheetOf(browser, folderOfTwo, "low-forty");
    await put(page, "TASKDATA/TLG00001.BIN", "a day of work");
    await page.locator("details", { hasText: "No field loaded or done" }).evaluate((one) => {
      (one as HTMLDetailsElement).open = true;
    });
    await page.getByLabel("State of Low Forty").selectOption("loaded");
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    const question = page.locator('[data-key="existing-taskdata"]');
    await question.waitFor({ timeout: 90_000 });
    expect(await question.textContent()).not.toMatch(/move-aside|keep/);
    await question.getByText("leave it, and write everything but task data", { exact: true }).click();
    await page.getByRole("button", { name: "Take this answer" }).click();
    await page.getByText("Not written again: Low Forty, loaded.").waitFor({ timeout: 90_000 });
    await close();
  });

  it("lists what to load first as the command line does, as long as the plan is the one that was written", async () => {
    const own = join(folder, "no-zero");
    mkdirSync(own);
    const controller = { zeroRate: "small", smallRateLbPerAc: 5 } as const;
    const { plan, files } = twoFields({ extras: ["fallback"] }, controller);
    for (const [path, bytes] of files) writeFileSync(join(own, path), bytes);
    writeFileSync(join(own, "plan.json"), writePlan(plan));
    const [set, to] = [join(folder, "no-zero-set"), join(folder, "no-zero-stick")];
    mkdirSync(to);
    await cli("build", own, "--out", set);
    const told = (await cli("stick", set, "--to", to)).out;
    const wanted = [...told.matchAll(/^ {2}(FALLBACK\/\S+) {2}(.*)$/gm)].map(
      ([, name, words]) => `${name}: ${words}`,
    );
    expect(wanted).toHaveLength(4);
    const { page, close } = await cabSheetOf(browser, own, "low-forty");
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    const status = page.getByRole("status").filter({ hasText: "Revision A on stick" });
    await status.waitFor({ timeout: 90_000 });
    expect(await status.locator("ul").first().locator("li").allTextContents()).toEqual(wanted);
    // Words of the stick hold for the plan that was written: an edit takes them away, and undone it brings them back.
    const goTo = (sheet: string) =>
      page.evaluate((to) => {
        location.hash = `#low-forty/${to}`;
      }, sheet);
    await goTo("split");
    const cap = page.getByLabel("Cap: all products together in the strip", { exact: true });
    await cap.fill("120");
    await cap.blur();
    await goTo("cab-sheet");
    await page.getByRole("heading", { name: "Write to a stick" }).waitFor();
    expect(await status.count()).toBe(0);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await status.waitFor();
    await close();
  });

  it("leaves a file of somebody else's alone, before it writes anything", async () => {
    const before = await filesIn(page);
    await page.reload();
    await allIsDone(page);
    await put(page, `CAB_B.html`, "mine");
    const stick = JSON.parse(atob(before.find(([path]) => path === stickPath)![1])) as Stick;
    const shp = stick.maps[0]!.files[0]!;
    await put(page, shp, "mine");
    await put(page, "manifest.json", "{}");
    await page.getByRole("button", { name: "Choose the stick's folder" }).click();
    await page
      .getByText(/is there.*did not write it|is not of a stick/)
      .first()
      .waitFor({ timeout: 90_000 });
    const after = new Map(await filesIn(page));
    expect(atob(after.get(shp)!)).toBe("mine");
    expect([...after.keys()].sort()).toEqual(
      [...new Set([...before.map(([path]) => path), "CAB_B.html"])].sort(),
    );
  });

  it("says nothing on the console and asks no other host", () => {
    expect(faults).toEqual([]);
  });
});
