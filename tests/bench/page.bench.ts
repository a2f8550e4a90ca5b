import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import {
  allIsDone,
  describeInBrowser,
  launch,
  mapIsDrawn,
  sample,
  servePage,
} from "../page/support/browser.ts";

const MOVES = 20;
/** From input event to updated totals and the map told, 95th percentile, ms. */
const FLOOR_MS = 250;

interface Move {
  /** To totals on the page and rates given to the map. */
  readonly toldMs: number;
  /** To the frame that shows them. */
  readonly drawnMs: number;
}

/** Drag a slider through so many values; each move waits until the one before is shown. */
function drag(page: Page, label: string, from: number, step: number): Promise<Move[]> {
  return page.evaluate(
    async ({ label, from, step, moves }) => {
      const slider = document.querySelector<HTMLInputElement>(`input[type=range][aria-label="${label}"]`)!;
      const totals = () => document.querySelector("#balance")!.textContent!;
      const told = () => performance.getEntriesByName("map told").length;
      const out: { toldMs: number; drawnMs: number }[] = [];
      for (let k = 0; k <= moves; k++) {
        const [before, tellings] = [totals(), told()];
        slider.value = String(from + k * step);
        const start = performance.now();
        slider.dispatchEvent(new Event("input", { bubbles: true }));
        await new Promise<void>((shown) => {
          const look = () => {
            const now = totals();
            if (now !== before && !now.includes("~") && told() > tellings) shown();
            else setTimeout(look, 1);
          };
          look();
        });
        const toldMs = performance.now() - start;
        await new Promise((frame) => requestAnimationFrame(() => requestAnimationFrame(frame)));
        out.push({ toldMs, drawnMs: performance.now() - start });
      }
      slider.dispatchEvent(new Event("change", { bubbles: true }));
      return out.slice(1);
    },
    { label, from, step, moves: MOVES },
  );
}

const percentile = (values: readonly number[], share: number): number =>
  values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.ceil(share * values.length) - 1)]!;

function report(what: string, moves: readonly Move[]): number {
  const told = moves.map((move) => move.toldMs);
  const drawn = moves.map((move) => move.drawnMs);
  const line = (values: readonly number[]) =>
    `median ${percentile(values, 0.5).toFixed(0)}, 95th percentile ${percentile(values, 0.95).toFixed(0)} ms`;
  console.log(`${what}: to totals and map told ${line(told)}; to the drawn frame ${line(drawn)}`);
  return percentile(told, 0.95);
}

describeInBrowser("moves of a slider on single-field", () => {
  it("first map, cap, yield goal", async () => {
    const browser = await launch();
    const served = await servePage(sample("single-field"));
    const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
    const start = performance.now();
    await page.goto(`${served.url}#north-kettle/split`);
    await mapIsDrawn(page, "#north-kettle/split");
    console.log(`first map: ${(performance.now() - start).toFixed(0)} ms from the address to the drawn map`);
    await allIsDone(page);
    const cap = report("cap", await drag(page, "Cap: all products together in the strip, slider", 100, 3));
    await allIsDone(page);
    await page.evaluate(() => {
      location.hash = "#north-kettle/need/K2O";
    });
    await mapIsDrawn(page, "#north-kettle/need/K2O");
    await allIsDone(page);
    const goal = report("yield goal", await drag(page, "Yield goal, slider", 45, 1));
    await browser.close();
    await served.close();
    expect(Math.max(cap, goal)).toBeLessThan(FLOOR_MS);
  });
});
