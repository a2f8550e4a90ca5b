// What README says of the shipped samples is what the commands print.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { project } from "../support/doc-blocks.ts";
import { cli } from "../support/in-process-cli.ts";

const readme = readFileSync(join(project, "README.md"), "utf8");
const printed = async (...words: string[]): Promise<string> => {
  const { exit, out } = await cli(...words);
  expect(exit).toBe(0);
  return out;
};
/** The one place of a text that a pattern finds. */
const part = (text: string, pattern: RegExp): string[] => {
  const found = pattern.exec(text);
  if (!found) throw new Error(`${pattern} is not in: ${text.slice(0, 2_000)}`);
  return found.slice(1);
};
const day = (iso: string): string =>
  new Date(`${iso}T00:00Z`).toLocaleDateString("en-GB", { day: "numeric", month: "long", timeZone: "UTC" });

/** Bought and still to order, after pounds of the maps, with overlap, and on hand. */
function seasonTons(order: string, product: string): string {
  const row = new RegExp(`^ *${product} +elevator +\\S+ +\\S+ +\\S+ +([\\d.]+) +([\\d.]+)`, "m");
  const [bought, toOrder] = part(order, row);
  return (Number(bought) + Number(toOrder)).toFixed(1);
}

describe("README's figures", () => {
  it("of the single field", { timeout: 60_000 }, async () => {
    const [said] = part(readme, /(On the single field of .*?)\. On `sample-data\/home-farm`/);
    const folder = join(project, "sample-data/single-field");
    const capacity = await printed("capacity", folder);
    const [acres, rate, fill] = part(capacity, /^([\d.]+) ac at (\d+) lb\/ac.*: ([\d.]+) ac a fill/m);
    expect(said).toContain(`of ${acres} ac: ${rate} lb/ac in the strip, ${fill} ac a fill`);
    expect(said).toContain(`${part(capacity, /^(\d+) ac a day steady/m)[0]} ac a day`);
    expect(part(await printed("fills", folder), /^(\d) stops,/m)).toEqual(["2"]);
    expect(said).toContain("two stops after the first load");
    const [date, days] = part(await printed("season", folder), /^Done by (\S+) in 8.* (\d+) workable day/m);
    expect(days).toBe("1");
    expect(said).toContain(`done in the first workable day (by ${day(date!)} in 8 years of 10)`);
    const order = await printed("order", folder);
    const [phosphate, potash] = ["11-52-0", "0-0-60"].map((product) => seasonTons(order, product));
    const [usd] = part(order, /^All: (\$[\d,]+\d)/m);
    expect(said).toContain(`${phosphate} tons of 11-52-0 and ${potash} tons of 0-0-60 to order for ${usd}`);
  });

  it("of the farm", { timeout: 180_000 }, async () => {
    const [said] = part(readme, /On `sample-data\/home-farm`, (.*)/);
    const folder = join(project, "sample-data/home-farm");
    const [fill] = part(await printed("capacity", folder), /: ([\d.]+) ac a fill/);
    expect(said).toContain(`${fill} ac a fill`);
    const season = await printed("season", folder);
    const [date, acres, hours, days] = part(
      season,
      /^Done by (\S+) in 8.*: ([\d,.]+) ac, (\d+) h, (\d+) work/m,
    );
    expect(said).toContain(
      `70 fields and ${Number(acres!.replace(",", "")).toLocaleString("en-US", { maximumFractionDigits: 0 })} ac`,
    );
    expect(said).toContain(`${hours} hours, ${days} workable days, done by ${day(date!)} in 8 years of 10`);
    const order = await printed("order", folder);
    const tons = ["11-52-0", "0-0-60"].map((product) => seasonTons(order, product));
    expect(said).toContain(`${tons.join(" and ")} tons`);
  });
});
