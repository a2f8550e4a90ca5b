import type { Page } from "playwright-core";

/** The longest runs of script on the page's thread. */
export interface Frames {
  readonly ownMs: number;
  readonly mapMs: number;
  readonly words: string;
}

interface ScriptRun {
  readonly ms: number;
  readonly by: string;
  readonly file: string;
}

/** Note every script that ran in a long animation frame, from the page's beginning on. */
export const watchFrames = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const runs: { ms: number; by: string; file: string }[] = [];
    Object.assign(globalThis, { scriptRuns: runs });
    new PerformanceObserver((list) => {
      for (const frame of list.getEntries()) {
        const { scripts } = frame as never as {
          scripts: { duration: number; invoker: string; sourceURL: string; sourceFunctionName: string }[];
        };
        for (const { duration, invoker, sourceURL, sourceFunctionName } of scripts) {
          const file = sourceURL.replace(/^.*\//, "");
          runs.push({ ms: duration, by: `${invoker} ${sourceFunctionName}`, file });
        }
      }
    }).observe({ type: "long-animation-frame", buffered: true });
  });

/** The longest run of our own code and of the map library's since the page began. */
export async function longest(page: Page): Promise<Frames> {
  const runs = await page.evaluate(() => (globalThis as never as { scriptRuns: ScriptRun[] }).scriptRuns);
  // The test's own polling runs from no file.
  const scripts = runs.filter(({ file }) => file.endsWith(".js"));
  const most = (some: readonly ScriptRun[]) =>
    some.reduce<ScriptRun>((long, one) => (one.ms > long.ms ? one : long), { ms: 0, by: "", file: "" });
  const own = most(scripts.filter(({ file }) => !file.startsWith("map-")));
  const map = most(scripts.filter(({ file }) => file.startsWith("map-")));
  const words = `own code at a stretch ${own.ms.toFixed(0)} ms (${own.by}, ${own.file}), map library ${map.ms.toFixed(0)} ms`;
  return { ownMs: own.ms, mapMs: map.ms, words };
}
