import { expect, test } from "vitest";
import type { Plan } from "../../src/plan/index.ts";
import { careLines } from "../../src/report/split-lines.ts";
import { takeCare } from "../../src/report/take-care.ts";
import { workedField } from "../support/need-plan.ts";

const saltLines = async (plan: Partial<Plan> = {}) => {
  const field = await workedField({ field: { crop: "corn", yieldBuPerAc: 170 }, plan });
  const cab = takeCare(field).find((line) => line.startsWith("Salt"))!;
  const sheet = careLines(field.care).find(({ label }) => label === "Salt near the seed")!.text;
  return { cab, sheet };
};

// Corn with the seed, rows 30 in. apart: 5 lb/ac on sandy soil, 240 / 30 = 8 on other soil.
test("cab sheet and field sheet give one limit for the acres above it: that of sandy soil while nothing is told", async () => {
  const { cab, sheet } = await saltLines();
  const counted =
    /that limit is 5\.0 lb\/ac, that of sandy soil, since the texture is not told; above it on ([\d.]+) ac/;
  const [, acres] = counted.exec(sheet)!;
  expect(cab).toContain(
    `by the limit with the seed in lb/ac, 5.0 (as sandy, since the texture is not told), ${acres} ac are above: give seed.distanceIn`,
  );
  expect(cab).not.toContain("8 lb/ac");
  const told = await saltLines({ seed: { texture: "other" } });
  expect(told.sheet).toContain("that limit is 8.0 lb/ac, on sandy soil 5.0");
  expect(told.cab).toBe(`Salt near the seed: ${told.sheet}`);
});
