import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}

/** Every part of the sheet that folds, opened; what is inside is made then, and may fold again. */
export const unfoldAll = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    const folded = () => document.querySelectorAll<HTMLDetailsElement>("main details:not([open])");
    while (folded().length > 0) {
      for (const one of folded()) one.open = true;
      await new Promise((frame) => requestAnimationFrame(() => requestAnimationFrame(frame)));
    }
  });

/** axe-core's violations on the page as it is, in short. */
export async function violationsOn(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = await page.evaluate(async () => {
    const axe = (globalThis as unknown as { axe: { run(): Promise<{ violations: Violation[] }> } }).axe;
    return (await axe.run()).violations.map(({ id, nodes }) => ({
      id,
      nodes: nodes.map(({ html }) => ({ html })),
    }));
  });
  return found.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(" | ")}`);
}

/** The same with everything unfolded. */
export async function violationsUnfolded(page: Page): Promise<string[]> {
  await unfoldAll(page);
  return violationsOn(page);
}
