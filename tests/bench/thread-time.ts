import type { Browser, Page } from "playwright-core";

/** The longest tasks of script on the page's thread, by the processor time they took. */
export interface ThreadTime {
  readonly ownMs: number;
  readonly mapMs: number;
  /** What ran longest of our own, and how long it took by the clock. */
  readonly words: string;
}

/** An event of the browser's trace; times in microseconds, `tts` and `tdur` those of the thread's own clock. */
interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly dur?: number;
  readonly tts?: number;
  readonly tdur?: number;
  readonly args: { readonly name?: string; readonly data?: { readonly url?: string } };
}

const CATEGORIES = ["toplevel", "devtools.timeline", "v8", "blink.user_timing"];
/** What runs script, and the promises kept after it. */
const runsScript =
  /^(FunctionCall|EvaluateScript|v8\.evaluateModule|BlinkScheduler_PerformMicrotaskCheckpoint)$/;

export const beginTrace = (browser: Browser, page: Page): Promise<void> =>
  browser.startTracing(page, { categories: CATEGORIES });

export async function endTrace(browser: Browser): Promise<ThreadTime> {
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as {
    traceEvents: TraceEvent[];
  };
  return threadTime(traceEvents);
}

/**
 * Sums the scripts of every task of the page's thread. Promises are counted with the script before them in the task;
 * the map library's beginning is taken out of the task that calls it.
 */
function threadTime(events: readonly TraceEvent[]): ThreadTime {
  const scripts = events.filter(({ ph, name }) => ph === "X" && runsScript.test(name));
  const threads = events.filter(({ name, args }) => name === "thread_name" && args.name === "CrRendererMain");
  const count = (one: TraceEvent) => scripts.filter((script) => isBeside(script, one)).length;
  const page = threads.reduce((most, one) => (count(one) > count(most) ? one : most));
  const tasks = events.filter(
    (event) => event.ph === "X" && /RunTask$/.test(event.name) && isBeside(event, page),
  );
  const onPage = scripts
    .filter((script) => isBeside(script, page))
    .toSorted((a, b) => a.ts - b.ts || b.dur! - a.dur!);
  const [begins, stands] = ["map library begins", "map library stands"].map((mark) =>
    events.filter(({ name, tts }) => name === mark && tts !== undefined),
  ) as [TraceEvent[], TraceEvent[]];
  const beginnings = begins.map((begin, k) => ({ ts: begin.ts, us: stands[k]!.tts! - begin.tts! }));
  let longest = { ownMs: 0, mapMs: 0, words: "" };
  for (const task of tasks) {
    let [own, map, end, isMap, by] = [0, 0, 0, false, ""];
    for (const script of onPage) {
      if (!isWithin(script, task) || script.ts < end) continue;
      end = script.ts + script.dur!;
      const file = script.args.data?.url?.replace(/^.*\//, "") ?? "";
      if (script.name === "FunctionCall") isMap = file.startsWith("map-");
      by ||= `${script.name} ${file}`;
      if (isMap) map += script.tdur!;
      else own += script.tdur!;
    }
    for (const { ts, us } of beginnings) {
      if (ts < task.ts || ts >= task.ts + task.dur!) continue;
      own -= us;
      map += us;
    }
    const words = `${(own / 1_000).toFixed(0)} ms of the processor, ${(task.dur! / 1_000).toFixed(0)} by the clock (${by})`;
    if (own / 1_000 > longest.ownMs) longest = { ...longest, ownMs: own / 1_000, words };
    if (map / 1_000 > longest.mapMs) longest = { ...longest, mapMs: map / 1_000 };
  }
  return longest;
}

const isBeside = (a: TraceEvent, b: TraceEvent): boolean => a.pid === b.pid && a.tid === b.tid;
const isWithin = (script: TraceEvent, task: TraceEvent): boolean =>
  script.ts >= task.ts && script.ts + script.dur! <= task.ts + task.dur!;
