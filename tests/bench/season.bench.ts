// Times of fills, season and order over the home farm, and of a log on a field. The maps themselves are worked out before the clock
// starts.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect, test } from "vitest";
import {
  appliedField,
  fillPlan,
  orderOfPlan,
  type Plan,
  readInput,
  readPlan,
  run,
  seasonOfPlan,
} from "../../src/plan/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { writeSection } from "./bench-page.mjs";

const project = resolve(import.meta.dirname, "../..");
const folder = join(project, "sample-data/home-farm");

test("home farm", async () => {
  const read = readPlan(readFileSync(join(folder, "plan.json")), "plan.json");
  const plan: Plan = {
    ...read,
    rig: { ...read.rig, bins: read.rig.bins.map((bin) => ({ ...bin, volumeFt3: 110 })), work: { mph: 7 } },
    tender: { count: 1, lb: 24_000, tripMin: 110 },
    season: {
      start: "2027-04-10",
      workableDays: [{ from: "2027-04-10", to: "2027-05-31", daysPerWeek: 3.5 }],
      planters: [{ id: "planter", acPerDay: 240, startsOn: "2027-04-20" }],
      humidity: [{ from: "2027-04-10", to: "2027-05-31", morningPercent: 82, afternoonPercent: 55 }],
    },
  };
  const source = {
    list: async () => [],
    read: async (path: string) => new Uint8Array(readFileSync(join(folder, path))),
  };
  const { fields } = await run(plan, source, { files: "later" });
  const largest = fields.toSorted((a, b) => b.checked.areaAc - a.checked.areaAc)[0]!;
  const csv = new TextEncoder().encode(logCsv(driveField(plan, largest, 0), "DRY", 40));
  const reading = readInput("log.csv", new Map([["log.csv", csv]]), { as: "applied" });
  if (reading.taken?.role !== "applied" || reading.taken.log === null) throw new Error("no log");
  const { log } = reading.taken;
  const product = plan.rig.bins[0]!.product;
  const works: readonly (readonly [string, () => unknown])[] = [
    [`fill plans of ${fields.length} fields`, () => fields.map((field) => fillPlan(plan, field))],
    [`season of ${fields.length} fields`, () => seasonOfPlan(plan, fields)],
    [`order of ${fields.length} fields`, () => orderOfPlan(plan, fields)],
    [
      `a log of ${log.points.length.toLocaleString("en-US")} readings on ${largest.checked.areaAc.toFixed(0)} ac`,
      () => appliedField(plan, largest, [{ product, log }]),
    ],
  ];
  const rows = works.map(([name, work]) => {
    const ms = Array.from({ length: 5 }, () => {
      const begun = performance.now();
      work();
      return performance.now() - begun;
    }).sort((a, b) => a - b);
    return { name, median: ms[2]!, most: ms[4]! };
  });
  writeSection(
    "season",
    [
      "Median and most of 5, ms by the clock, with the maps worked out before. The floor is a season of the home farm under 2 s.",
      "",
      "| work | median | most |",
      "|---|---|---|",
      ...rows.map((row) => `| ${row.name} | ${row.median.toFixed(0)} | ${row.most.toFixed(0)} |`),
    ].join("\n"),
  );
  expect(rows[1]!.median).toBeLessThan(2_000);
}, 600_000);
