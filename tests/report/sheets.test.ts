import { beforeAll, describe, expect, test } from "vitest";
import { cautions } from "../../src/agronomy/index.ts";
import type { FieldResult, RunResult } from "../../src/plan/index.ts";
import {
  acresText,
  cabSheet,
  catchTest,
  fieldSheet,
  layerIds,
  lbText,
  orderSheet,
  rateText,
  sheetFiles,
  stripSalt,
  summary,
  tonsText,
} from "../../src/report/index.ts";
import { numberText } from "../../src/units/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { runSample } from "./run-sample.ts";
import { faultsOf, readStrictly } from "./strict-xml.ts";

const three = ["low-flat", "south-knob", "west-heron"];
let result: RunResult;

beforeAll(async () => {
  result = await runSample("home-farm", three, barePlan);
});

/** The text a reader sees, tags away. */
const textOf = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>/s, "")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("&amp;", "&")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll(/\s+/g, " ");

/** Cells of the table rows of a document, in order. */
const rowsOf = (html: string): string[][] =>
  [...html.matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].map(([, row]) =>
    [...row!.matchAll(/<t[dh][^>]*>(.*?)<\/t[dh]>/gs)].map(([, cell]) => textOf(cell!).trim()),
  );

const figureOf = (text: string): number => Number(text.replaceAll(",", "").replace("−", "-"));

const pageOf = (cab: string, field: FieldResult): string =>
  cab.split("<section").find((page) => page.includes(`id="${field.field.id}"`))!;

describe("every sheet", () => {
  test("is well-formed, one file, without script, inline style attribute or anything to fetch", () => {
    const files = sheetFiles(result);
    expect([...files.keys()].sort()).toEqual([
      "cab.html",
      "fields/low-flat/field-sheet.html",
      "fields/south-knob/field-sheet.html",
      "fields/west-heron/field-sheet.html",
      "order.html",
      "spreader.html",
    ]);
    for (const [path, html] of files) {
      expect(faultsOf(readStrictly(html), false), path).toEqual([]);
      expect(html, path).not.toMatch(/@import|url\((?!#)|expression\(/);
      expect(textOf(html), path).not.toMatch(/\b(NaN|undefined|Infinity|null|MAP|potash)\b/);
    }
  });

  test("shows names as text, whatever they hold", () => {
    const [first] = result.fields as [FieldResult];
    const name = `<b onload="x">&'"\u0007</b>`;
    const named: RunResult = { ...result, fields: [{ ...first, field: { ...first.field, name } }] };
    for (const [path, html] of sheetFiles(named)) {
      expect(faultsOf(readStrictly(html), false), path).toEqual([]);
      expect(textOf(html)).toContain(`<b onload="x">&'"</b>`);
    }
  });

  test("with rig, season and dealer told there are two more, as clean, whatever fields are called", async () => {
    const told = await runSample("home-farm", three);
    const name = `<b onload="x">&'"\u0007</b>`;
    const fields = told.fields.map((one) => ({ ...one, field: { ...one.field, name } }));
    const files = sheetFiles({ ...told, fields });
    expect([...files.keys()].filter((path) => !path.startsWith("fields/")).sort()).toEqual([
      "cab.html",
      "fills.html",
      "order.html",
      "season.html",
      "spreader.html",
    ]);
    for (const [path, html] of files) {
      expect(faultsOf(readStrictly(html), false), path).toEqual([]);
      expect(html, path).not.toMatch(/@import|url\((?!#)|expression\(/);
      expect(textOf(html), path).not.toMatch(/\b(NaN|undefined|Infinity|null|MAP|potash)\b/);
      expect(textOf(html), path).toContain(`<b onload="x">&'"</b>`);
    }
  });

  test("names the plan and its day", () => {
    for (const html of sheetFiles(result).values()) {
      expect(textOf(html)).toContain(
        `plan ${result.planSha256.slice(0, 4)} ${result.planSha256.slice(4, 8)}, ${result.plan.date}`,
      );
    }
  });
});

test("the summary's balance is that of all fields and adds up as shown", () => {
  const lines = summary(result).split("\n");
  for (const nutrient of ["P2O5", "K2O"]) {
    const figures = lines
      .find((line) => line.startsWith(`${nutrient} `))!
      .trim()
      .split(/\s+/)
      .slice(1)
      .map(figureOf);
    const of = result.fields.flatMap(({ balances }) =>
      balances.filter((balance) => balance.nutrient === nutrient),
    );
    expect(of.length).toBeGreaterThan(1);
    expect(figures[0]).toBe(Math.round(of.reduce((total, { needLb }) => total + needLb, 0)));
    const [need, strip, broadcast, credits, short, over, rounding] = figures;
    expect(strip! + broadcast! + credits! + short! - over! - rounding!).toBe(need);
  }
});

describe("the cab sheet", () => {
  test("has each strip and broadcast file with its bin, pounds and rates, as in the result", () => {
    const cab = cabSheet(result);
    for (const field of result.fields) {
      const rows = rowsOf(pageOf(cab, field));
      for (const map of field.prescriptions) {
        const stem = [...map.files.keys()].find((name) => name.endsWith(".shp"))!.replace(/\.shp$/, "");
        const row = rows.find((cells) => cells.includes(stem))!;
        expect(row.slice(0, 2)).toEqual([
          map.pass === "broadcast" ? "spreader" : { L: "left bin (L)", R: "right bin (R)" }[map.bin],
          map.product,
        ]);
        const step =
          map.pass === "strip" ? result.plan.rig.rateStepLbPerAc : result.plan.spreader.rateStepLbPerAc;
        expect(row.slice(4)).toEqual([
          lbText(map.totalLb),
          rateText(map.minLbPerAc),
          rateText(map.meanLbPerAc, "us", 1),
          rateText(map.maxLbPerAc),
          rateText(figureOf(row.at(-1)!)),
        ]);
        expect(figureOf(row.at(-1)!) % step).toBe(0);
        expect(Math.abs(figureOf(row.at(-1)!) - map.meanLbPerAc)).toBeLessThanOrEqual(step / 2);
      }
    }
  });

  test("says what the ticket must read, the column, the zero rates and what to do without position", () => {
    const cab = cabSheet(result);
    for (const field of result.fields) {
      const text = textOf(pageOf(cab, field));
      expect(text).toContain("N 11, P₂O₅ 52, K₂O 0");
      expect(text).toContain("N 0, P₂O₅ 0, K₂O 60");
      expect(text).toMatch(/Column RATE_LBAC , unit lb\/ac/);
      expect(text).toContain(
        "Default rate 0, outside the field 0. Position lost: both meters stop; stop the rig.",
      );
      expect(text).toContain("fertilizer lies under the seed row");
      expect(text).toContain("No limit for strips is published");
      expect(text).toContain(`${acresText(field.checked.areaAc)} ac`);
      expect(text).toMatch(/heading \d+\.\d° from A to B/);
      for (const word of ["Salt", "Too much", "Water", "Dust", "Machinery", "Local codes"]) {
        expect(text).toContain(`${word}`);
      }
    }
    for (const caution of cautions) expect(textOf(cab)).toContain(caution.text);
  });

  test("says when a bin has nothing to do in a field", () => {
    const [first] = result.fields as [FieldResult];
    const empty = first.prescriptions.map((map) =>
      map.pass === "strip" && map.bin === "R"
        ? {
            ...map,
            rateLbPerAc: map.rateLbPerAc.map(() => 0),
            totalLb: 0,
            maxLbPerAc: 0,
            minLbPerAc: 0,
            meanLbPerAc: 0,
          }
        : map,
    );
    const cab = cabSheet({ ...result, fields: [{ ...first, prescriptions: empty }] });
    expect(textOf(cab)).toContain("Nothing comes from the right bin (R): its file is 0 everywhere.");
    const south = result.fields.find(({ field }) => field.id === "south-knob")!;
    expect(textOf(cabSheet({ ...result, fields: [south] }))).not.toContain("Nothing comes from");
  });

  test("names missing fields and why", () => {
    const cab = textOf(cabSheet(withRefused(result)));
    expect(cab).toContain("Incomplete: 3 of 4 fields.");
    expect(cab).toContain("upper-bench has no files: The boundary crosses itself. Redraw it.");
  });

  // Flow lb/min = rate x width ft x mph / 495: 43,560 ft2 in an acre over 88 ft/min in 1 mph.
  test("catch test: 150 lb/ac on 40 ft at 6 mph is 72.7 lb a minute, a sixteenth a row", () => {
    const { allRowsLb, oneRowLb } = catchTest(result.plan, 150, 6);
    expect(allRowsLb).toBeCloseTo((150 * 40 * 6) / 495, 9);
    expect(oneRowLb).toBeCloseTo(allRowsLb / 16, 12);
  });

  test("salt is N and K2O of what the strip files lay", () => {
    for (const field of result.fields) {
      const salt = stripSalt(field);
      const lb = field.prescriptions
        .filter((map) => map.pass === "strip")
        .reduce((all, map) => all + map.totalLb * (map.product === "11-52-0" ? 0.11 : 0.6), 0);
      expect(salt.mean).toBeCloseTo(lb / field.checked.areaAc, 4);
      expect(salt.least).toBeLessThanOrEqual(salt.mean);
      expect(salt.most).toBeGreaterThanOrEqual(salt.mean);
    }
  });
});

describe("the order sheet", () => {
  test("pounds a pass and tons are the files', each rounded by itself, and columns add up as shown", () => {
    const rows = rowsOf(orderSheet(result));
    const together = rows.find(([first]) => first === "together")!;
    const products = result.plan.rig.bins.map(({ product }) => rows.find(([first]) => first === product)!);
    for (const column of [2, 3, 4]) {
      const sum = products.reduce((all, row) => all + Math.round(figureOf(row[column]!) * 10), 0);
      expect(sum).toBe(Math.round(figureOf(together[column]!) * 10));
    }
    for (const row of products) {
      const total = result.totals.find((one) => one.product === row[0] && one.pass === "all")!;
      expect(row[4]).toBe(numberText(total.tons, 1));
      for (const [column, pass] of [
        [2, "strip"],
        [3, "broadcast"],
      ] as const) {
        const own = result.totals.find((one) => one.product === row[0] && one.pass === pass);
        expect(row[column]).toBe(lbText(own?.lb ?? 0));
      }
    }
  });

  test("pounds of finished passes are named: they have no file any more", () => {
    expect(orderSheet(result)).not.toContain("in finished passes");
    const [first] = result.fields;
    const finished = [{ pass: "strip" as const, date: "2027-04-20" }];
    const done = { ...result, fields: [{ ...first!, finished }, ...result.fields.slice(1)] };
    const pounds = result.plan.rig.bins.map(({ product }) => {
      const map = first!.prescriptions.find((one) => one.pass === "strip" && one.product === product);
      return `${lbText(map?.totalLb ?? 0)} lb ${product}`;
    });
    expect(orderSheet(done)).toContain(
      `(of it ${pounds.join(", ")} in finished passes of ${first!.field.name}, which have no file any more)`,
    );
  });

  test("pounds by field are the files', within a pound, and add up to the farm's", () => {
    const rows = rowsOf(orderSheet(result));
    const farm = rows.find(([first]) => first === "farm")!;
    const fields = result.fields.map(({ field }) => rows.find(([first]) => first === field.name)!);
    const columns = result.plan.rig.bins.flatMap(({ product }) => [
      { product, pass: "strip" as const },
      { product, pass: "broadcast" as const },
      { product, pass: "all" as const },
    ]);
    columns.forEach(({ product, pass }, k) => {
      const at = 3 + k;
      const total = result.totals.find((one) => one.product === product && one.pass === pass)!;
      const unit = pass === "all" ? 100 : 1;
      expect(farm[at]).toBe(pass === "all" ? tonsText(total.lb, "us", 2) : lbText(total.lb));
      const sum = fields.reduce((all, row) => all + Math.round(figureOf(row[at]!) * unit), 0);
      expect(sum).toBe(Math.round(figureOf(farm[at]!) * unit));
      result.fields.forEach((field, i) => {
        if (pass === "all") return;
        const map = field.prescriptions.find((one) => one.product === product && one.pass === pass);
        expect(Math.abs(figureOf(fields[i]![at]!) - (map?.totalLb ?? 0))).toBeLessThan(1);
      });
    });
    const acres = fields.reduce((all, row) => all + Math.round(figureOf(row[2]!) * 10), 0);
    expect(acres).toBe(Math.round(figureOf(farm[2]!) * 10));
    expect(farm[2]).toBe(acresText(result.acres));
  });

  test("says when fields are missing, and that a guide is unconfirmed", () => {
    const text = textOf(orderSheet(withRefused(result)));
    expect(text).toContain("3 of 4 fields worked out");
    expect(text).toContain("Incomplete: 3 of 4 fields. The tons below leave the others out.");
    expect(text).toContain("upper-bench: The boundary crosses itself. Redraw it.");
    expect(text).toMatch(/unconfirmed: some figures are from memory, compare with your bulletin/);
    expect(textOf(orderSheet(result))).not.toContain("Incomplete");
  });
});

describe("the field sheets", () => {
  test("have a page a layer, one of how the soil maps came about and one of totals; figures are the result's", () => {
    for (const field of result.fields) {
      const html = fieldSheet(result, field);
      const pages = html.split("<section").length - 1;
      const layers = layerIds(result.plan, field).filter((id) => id !== "strip/all");
      expect(pages).toBe(layers.length + 2);
      const text = textOf(html);
      for (const map of Object.values(field.maps)) {
        expect(map.decisions).toHaveLength(10);
        for (const { sentence } of map.decisions) expect(text).toContain(sentence);
      }
      expect(text).toContain(`Field sheets, page 1 of ${pages}`);
      // When the samples were taken stands with the test.
      for (const { date, usedFor } of field.checked.samplings)
        if (usedFor.includes("P"))
          expect(text).toMatch(new RegExp(`in\\., \\d+ samples of ${date}\\. Method`));
      for (const map of field.prescriptions) {
        expect(text).toContain(
          `${lbText(map.totalLb)} lb of ${map.product}, ${tonsText(map.totalLb, "us", 2)} tons.`,
        );
      }
      for (const balance of field.balances) {
        const oxide = balance.nutrient === "P2O5" ? "P₂O₅" : "K₂O";
        expect(text).toContain(`${lbText(balance.needLb)} lb ${oxide} in the field`);
        const row = rowsOf(html).find(([first]) => first === `${oxide}, lb`)!;
        expect(row.slice(1, 4)).toEqual(
          [balance.needLb, balance.stripLb, balance.broadcastLb].map((lb) => lbText(lb)),
        );
        const [need, strip, broadcast, credits, short, over, rounding] = row.slice(1).map(figureOf);
        expect(strip! + broadcast! + credits! + short! - over! - rounding!).toBe(need);
      }
      for (const notice of field.notices) {
        expect(text.toLowerCase()).toContain(notice.message.toLowerCase());
      }
    }
  });
});

function withRefused(whole: RunResult): RunResult {
  return {
    ...whole,
    incomplete: "3 of 4 fields",
    refused: [
      {
        field: "upper-bench",
        code: "boundary-not-valid",
        message: "The boundary crosses itself.",
        remedy: "Redraw it.",
      },
    ],
  };
}
