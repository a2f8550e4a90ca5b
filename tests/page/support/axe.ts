import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}

/** Every part of the sheet that folds, opened. */
export const unfoldAll = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const one of document.querySelectorAll<HTMLDetailsElement>("main details")) one.open = true;
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
