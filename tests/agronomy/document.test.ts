import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, test } from "vitest";
import { cautions, conversions, guides, removalFactors } from "../../src/agronomy/index.ts";
import { products } from "../../src/products/index.ts";
import { guideSection } from "../support/guide-section.ts";

const document = readFileSync(resolve(import.meta.dirname, "../../docs/agronomy.md"), "utf8");

test.each(guides.map((guide) => [guide.id, guide] as const))(
  "docs/agronomy.md has %s as it is in the data",
  (_id, guide) => {
    expect(document).toContain(guideSection(guide));
  },
);

test("docs/agronomy.md names every conversion, caution, product and source of removal", () => {
  const names = [
    ...conversions.map((entry) => `| ${entry.id} |`),
    ...cautions.map((entry) => `**${entry.id}** (${entry.place}; ${entry.status}): ${entry.text}`),
    ...products.map((entry) => `| ${entry.id} | ${entry.name} |`),
    ...removalFactors.map(
      (entry) => `| ${entry.id} | ${entry.crop} | ${entry.nutrient} | ${entry.lbPerBu} | ${entry.status} |`,
    ),
  ];
  expect(names.filter((name) => !document.includes(name))).toEqual([]);
});
