import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import type { Plan } from "../../src/plan/index.ts";
import { cabSheet, sheetFiles } from "../../src/report/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { describeWithTools } from "../support/system-tool.ts";
import { runSample } from "./run-sample.ts";

describeWithTools(["chromium"], "in a browser", ({ chromium }) => {
  test.each([
    ["bare", barePlan, 1],
    ["with rates moved ahead", (plan: Plan) => barePlan({ ...plan, rig: { ...plan.rig, leadS: 2.5 } }), 1],
    ["in kg/ha", (plan: Plan) => barePlan({ ...plan, controller: { zeroRate: "off", loads: ["kg-ha"] } }), 1],
    ["with its stops behind it", (plan: Plan) => plan, 2],
  ] as const)(
    "the cab sheet opens from a file and prints a page a field between its index and the rules of law, %s, on letter and on A4",
    async (_, change, pagesAField) => {
      const result = await runSample("home-farm", ["low-flat", "south-knob", "west-heron"], change);
      expect(pagesOf(cabSheet(result), chromium)).toBe(result.fields.length * pagesAField + 2);
    },
  );

  test("the spreader's sheet as well, a page a field that it has a file of", async () => {
    const result = await runSample("home-farm", ["low-flat", "south-knob", "west-heron"], barePlan);
    const carried = result.fields.filter((field) =>
      field.prescriptions.some(({ pass }) => pass === "broadcast"),
    );
    expect(carried.length).toBeGreaterThan(1);
    expect(pagesOf(sheetFiles(result).get("spreader.html")!, chromium)).toBe(carried.length + 2);
  });
});

/** How many pages a sheet prints on. */
function pagesOf(html: string, chromium: (...options: string[]) => unknown): number {
  const folder = mkdtempSync(join(tmpdir(), "bermplan-cab-"));
  try {
    // As wide as A4 and as high as letter: what fits here fits on both.
    const file = join(folder, "cab.html");
    writeFileSync(file, html.replace("@page{", "@page{size:210mm 11in;"));
    const pdf = join(folder, "cab.pdf");
    chromium(
      ...["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
      ...[`--user-data-dir=${join(folder, "profile")}`, "--no-pdf-header-footer", `--print-to-pdf=${pdf}`],
      pathToFileURL(file).href,
    );
    return (readFileSync(pdf, "latin1").match(/\/Type \/Page\b(?!s)/g) ?? []).length;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
