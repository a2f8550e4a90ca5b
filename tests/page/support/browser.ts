import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { describe, it } from "vitest";
import { openSource } from "../../../src/cli/open-source.ts";
import { listen } from "../../../src/cli/serve-listen.ts";
import { pathOf } from "../../support/system-tool.ts";
import { builtPage } from "./built-page.ts";

const project = resolve(import.meta.dirname, "../../..");

/**
 * Features of the browser that are off: its address bar made of scripts, which would take the cores from the page, and
 * those that playwright-core puts off itself, since this list stands in place of its own.
 */
const notWanted = [
  "WebUIOmniboxAimPopup",
  "WebUIOmniboxPopup",
  "DestroyProfileOnBrowserClose",
  "HttpsUpgrades",
  "HttpsFirstBalancedModeAutoEnable",
  "LensOverlay",
  "MediaRouter",
  "PaintHolding",
  "ThirdPartyStoragePartitioning",
  "AvoidCorsURLLoaderRestartOnRedirect",
  "OptimizationHints",
  "NetworkTimeServiceQuerying",
  "AimEnabled",
  "PreconnectToSearch",
];

/** Software drawing, no sandbox (tests run in containers), nothing fetched in the background. */
const flags = [
  "--no-sandbox",
  "--disable-gpu",
  "--use-angle=swiftshader",
  "--enable-unsafe-swiftshader",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  `--disable-features=${notWanted.join(",")}`,
];

export const sample = (name: string): string => resolve(project, "sample-data", name);

const browserPath = (): string | undefined =>
  process.env.CHROMIUM ?? pathOf("chromium") ?? pathOf("chromium-browser") ?? pathOf("google-chrome");

/**
 * A group of tests that need a browser. Without one the group becomes one skipped test that says so; with CI=true a
 * failing one.
 */
export function describeInBrowser(title: string, body: () => void): void {
  if (browserPath() !== undefined) describe(title, body);
  else if (process.env.CI === "true") {
    it(`${title}: needs Chromium`, () => {
      throw new Error("Chromium is not installed, and with CI=true it must be");
    });
  } else it.skip(`${title}: NOT CHECKED, Chromium is not installed`, () => {});
}

/** `scrollBars`: ordinary ones that take their room, as on most desks; else none are drawn. `webGl`: maps can be drawn. */
export const launch = ({
  scrollBars = false,
  webGl = true,
}: {
  readonly scrollBars?: boolean;
  readonly webGl?: boolean;
} = {}): Promise<Browser> =>
  chromium.launch({
    executablePath: browserPath()!,
    args: webGl ? flags : [...flags.filter((flag) => !/swiftshader/.test(flag)), "--disable-3d-apis"],
    ...(scrollBars ? { ignoreDefaultArgs: ["--hide-scrollbars"] } : {}),
  });

export interface Served {
  readonly url: string;
  close(): Promise<void>;
}

/** The built page with a folder opened, or none, on any free port. */
export async function servePage(folder: string | null): Promise<Served> {
  const page = builtPage();
  const none = () => Promise.resolve(new Uint8Array());
  const opened = folder === null ? null : { name: "sample", source: await openSource(folder, none) };
  const { url, server } = await listen({ page, opened }, 0, true);
  return {
    url,
    close: async () => {
      server.closeAllConnections();
      await new Promise((closed) => server.close(closed));
    },
  };
}

/** A page that notes what it must not do: errors in the console, requests to elsewhere. */
export interface Watched {
  readonly page: Page;
  readonly faults: string[];
}

export async function watchedPage(context: BrowserContext, url: string): Promise<Watched> {
  const page = await context.newPage();
  // What is waited for comes late where other programs take the processors.
  page.setDefaultTimeout(90_000);
  const faults: string[] = [];
  const origin = new URL(url).origin;
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => faults.push(`page: ${error.message}`));
  page.on("request", (request) => {
    const asked = request.url();
    if (!asked.startsWith(origin) && !/^(data|blob):/.test(asked)) faults.push(`outside request: ${asked}`);
  });
  return { page, faults };
}

interface ServedCopy extends Watched {
  readonly folder: string;
  readonly url: string;
  close(): Promise<void>;
}

/** A sample in a folder of its own, served and watched on a desk's page: what is written into the folder meanwhile is seen there. */
export async function servedCopy(
  name: string,
  prepare: (folder: string) => void = () => {},
): Promise<ServedCopy> {
  const folder = mkdtempSync(join(tmpdir(), "served-copy-"));
  cpSync(sample(name), folder, { recursive: true });
  prepare(folder);
  const served = await servePage(folder);
  const browser = await launch();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  return {
    ...(await watchedPage(context, served.url)),
    folder,
    url: served.url,
    close: async () => {
      await browser.close();
      await served.close();
      rmSync(folder, { recursive: true });
    },
  };
}

/** Wait until the open sheet's map has drawn everything it was given. */
export async function mapIsDrawn(page: Page, hash: string): Promise<void> {
  await page.waitForFunction(
    (wanted) => document.querySelector<HTMLElement>(".plat")?.dataset.idle?.startsWith(`${wanted} `),
    hash,
    { timeout: 90_000 },
  );
}

/** Wait until every figure is worked out and the files are written and read back. */
export async function allIsDone(page: Page): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector<HTMLElement>("#balance")?.dataset.done === "true",
    null,
    {
      timeout: 90_000,
    },
  );
}

/** Drop files on the page as from a folder window. */
export async function dropFiles(
  page: Page,
  files: readonly { readonly name: string; readonly bytes: Uint8Array }[],
): Promise<void> {
  const given = files.map(({ name, bytes }) => ({ name, base64: Buffer.from(bytes).toString("base64") }));
  const data = await page.evaluateHandle((list) => {
    const transfer = new DataTransfer();
    for (const { name, base64 } of list) {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
    }
    return transfer;
  }, given);
  await page.dispatchEvent("body", "dragover", { dataTransfer: data });
  await page.dispatchEvent("body", "drop", { dataTransfer: data });
}
