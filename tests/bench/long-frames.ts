import type { Page } from "playwright-core";

/** The longest runs of script on the page's thread. */
export interface Frames {
  readonly ownMs: number;
  readonly mapMs: number;
  readonly words: string;
}

interface ScriptRun {
  /** Since the page began. */
  readonly start: number;
  readonly ms: number;
  readonly by: string;
  readonly file: string;
}

/** Note every script that ran in a long animation frame, from the page's beginning on. */
export const watchFrames = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const runs: { start: number; ms: number; by: string; file: string }[] = [];
    Object.assign(globalThis, { scriptRuns: runs });
    new PerformanceObserver((list) => {
      for (const frame of list.getEntries()) {
        const { scripts } = frame as never as {
          scripts: {
            startTime: number;
            duration: number;
            invoker: string;
            sourceURL: string;
            sourceFunctionName: string;
          }[];
        };
        for (const { startTime, duration, invoker, sourceURL, sourceFunctionName } of scripts) {
          const file = sourceURL.replace(/^.*\//, "");
          runs.push({ start: startTime, ms: duration, by: `${invoker} ${sourceFunctionName}`, file });
        }
      }
    }).observe({ type: "long-animation-frame", buffered: true });
  });

/**
 * The longest run of our own code and of the map library's since the page began. The library's own beginning, when the
 * browser gives it its canvas, is called from our code and is the library's.
 */
export async function longest(page: Page): Promise<Frames> {
  const [runs, begun] = await page.evaluate(() => {
    const at = (mark: string) => performance.getEntriesByName(mark).map(({ startTime }) => startTime);
    const stands = at("map library stands");
    const begun = at("map library begins").map((start, k) => ({ start, ms: stands[k]! - start }));
    return [(globalThis as never as { scriptRuns: ScriptRun[] }).scriptRuns, begun] as const;
  });
  // The test's own polling runs from no file.
  const scripts = runs.filter(({ file }) => file.endsWith(".js"));
  const within = (run: ScriptRun) =>
    begun
      .filter(({ start, ms }) => start >= run.start - 1 && start + ms <= run.start + run.ms + 1)
      .reduce((sum, { ms }) => sum + ms, 0);
  const most = (some: readonly ScriptRun[]) =>
    some.reduce<ScriptRun>((long, one) => (one.ms > long.ms ? one : long), {
      ...{ start: 0, ms: 0, by: "", file: "" },
    });
  const isMap = ({ file }: ScriptRun) => file.startsWith("map-");
  const own = most(scripts.filter((run) => !isMap(run)).map((run) => ({ ...run, ms: run.ms - within(run) })));
  const beginning = begun.map(({ start, ms }) => ({ start, ms, by: "its beginning", file: "map" }));
  const map = most([...scripts.filter(isMap), ...beginning]);
  const words = `own code at a stretch ${own.ms.toFixed(0)} ms (${own.by}, ${own.file}), map library ${map.ms.toFixed(0)} ms`;
  return { ownMs: own.ms, mapMs: map.ms, words };
}
