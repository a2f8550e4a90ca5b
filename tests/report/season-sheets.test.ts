import { beforeAll, describe, expect, test } from "vitest";
import {
  type FieldResult,
  fillPlan,
  orderOfPlan,
  type Plan,
  type RunResult,
  requireSomethingLeft,
  run,
  seasonOfPlan,
  tenderPlaces,
} from "../../src/plan/index.ts";
import { buildFiles } from "../../src/publish/index.ts";
import {
  cabSheet,
  dayText,
  fillPlat,
  finishChart,
  lbText,
  sheetFiles,
  weightChart,
} from "../../src/report/index.ts";
import { orderRecordPage } from "../../src/report/order-record.ts";
import { numberText } from "../../src/units/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, smallPlan, sourceOf } from "../support/small-farm.ts";
import { faultsOf, readStrictly } from "./strict-xml.ts";

const document = seasonPlanDocument();
/** Small bins, so that there are several stops. */
const plan: Plan = {
  ...document,
  rig: { ...document.rig, bins: document.rig.bins.map((bin) => ({ ...bin, volumeFt3: 8 })) },
};
let result: RunResult;
let sheets: Map<string, string>;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()));
  sheets = sheetFiles(result);
});

const textOf = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>/s, "")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll(/\s+/g, " ");

describe("sheets of fills, season and order", () => {
  test("stops that no tender can fill are said to be so above the stops, in the cab and at the tender", () => {
    const small = sheetFiles({ ...result, plan: { ...plan, tender: { count: 1, lb: 300, tripMin: 60 } } });
    const doubt =
      /A tender brings 300 lb and a stop takes up to [\d,]+ lb: these stops cannot be filled as they stand/g;
    const fills = textOf(small.get("fills.html")!);
    expect(fills.match(doubt)).toHaveLength(2);
    expect(fills.search(doubt)).toBeLessThan(fills.indexOf("scale reads"));
    expect(textOf(small.get("cab.html")!).match(doubt)).toHaveLength(1);
    expect(textOf(sheets.get("fills.html")!)).not.toMatch(doubt);
  });

  test("stops of a field that the ledger has as begun or done are said to be of all of it, in the cab and at the tender", () => {
    const [stand] = result.stands;
    const of = (more: object): string =>
      textOf(sheetFiles({ ...result, stands: [{ ...stand!, ...more }] }).get("fills.html")!);
    const begun =
      /by the ledger 12\.5 of [\d.]+ ac are stripped; these stops are of the whole field from its first pass: plan on/g;
    expect(of({ state: "part stripped", strippedAc: 12.5 }).match(begun)).toHaveLength(2);
    const done =
      /is stripped by the ledger, .* nothing is left for the strip rig to load; these stops are of/;
    expect(of({ state: "stripped", strippedAc: stand!.toStripAc })).toMatch(done);
    expect(of({})).not.toContain("by the ledger");
  });

  test("stand in a build once the plan tells the rig and the season, and not before", async () => {
    expect([...sheets.keys()]).toEqual(
      expect.arrayContaining(["cab.html", "fills.html", "order.html", "season.html"]),
    );
    const files = buildFiles(result, "0.0.0", new Map());
    expect([...files.keys()]).toEqual(
      expect.arrayContaining(["fills.html", "season.html", "order-record.csv"]),
    );
    const plain = await run(smallPlan(), sourceOf(smallFarmFiles()));
    const without = [...buildFiles(plain, "0.0.0", new Map()).keys()];
    expect(without.filter((path) => /fills|season|record/.test(path))).toEqual([]);
  });

  test("name unconfirmed figures in words, with their units", () => {
    for (const path of ["fills.html", "season.html"]) {
      const [, line = ""] = /Unconfirmed defaults, type your own: (.*?)<\/p>/.exec(sheets.get(path)!) ?? [];
      expect(line, path).toMatch(/bin L, part of the volume that fills: 100 %/);
      expect(line, path).not.toMatch(/\b[a-z]+\.[a-zA-Z]+\b|\[\d\]/);
    }
  });

  test("are well-formed, without script, style attribute or anything to fetch", () => {
    for (const [path, html] of sheets) {
      expect(faultsOf(readStrictly(html), false), path).toEqual([]);
      expect(html, path).not.toMatch(/<script|<link|NaN|undefined|\[object/);
    }
  });

  test("the cab and fill sheets count passes by their numbers, and the parts that they are driven in", () => {
    // 32 passes of 30 ft in 20 ac; the hole parts two of them.
    const { driving, passes } = result.fields[0]!;
    expect([driving.passes, passes.runs.length]).toEqual([32, 34]);
    for (const path of ["cab.html", "fills.html"]) {
      expect(textOf(sheets.get(path)!)).toContain("32 passes, driven in 34 parts");
    }
  });

  test("a corner that the outline cuts off is no part and no last pass, and nothing is left where it alone is", () => {
    const field = result.fields[0]!;
    const last = field.passes.runs.at(-1)!;
    // 0.4 m² are 0.0001 ac.
    const corner = { ...last, pass: 99, areaM2: 0.4, segments: [] };
    const runs = [...field.passes.runs, corner];
    const touched = { ...field, passes: { ...field.passes, runs } };
    const sheet = textOf(cabSheet({ ...result, fields: [touched] }));
    expect(sheet).toContain("32 passes, driven in 34 parts");
    const fills = fillPlan(plan, field, { places: tenderPlaces(plan, field) });
    const passes = [...fills.passes, { ...fills.passes.at(-1)!, pass: 99, passName: "99", areaAc: 0.0001 }];
    const chart = weightChart({ ...fills, passes }, { width: 240, height: 120, bin: 0 });
    expect(chart).toContain(`>pass ${fills.passes.at(-1)!.passName}<`);
    expect(chart).not.toContain(">pass 99<");
    const done = (driven: number) => () => requireSomethingLeft(touched, { driven, words: "so far" });
    expect(done(34)).toThrow("is finished so far: nothing is left to strip");
    expect(done(33)).not.toThrow();
  });

  test("the cab and fill sheets show every stop with its pounds, as the fill plan has them", () => {
    const [field] = result.fields;
    const fills = fillPlan(plan, field!, { places: tenderPlaces(plan, field!) });
    expect(fills.stops.length).toBeGreaterThan(2);
    for (const path of ["cab.html", "fills.html"]) {
      const text = textOf(sheets.get(path)!);
      for (const stop of fills.stops) {
        const [before, load, after] = [stop.scaleBeforeLb, stop.loadLb, stop.scaleAfterLb].map((lb) =>
          lbText(lb[0]!),
        );
        expect(text, `${path}, stop ${stop.number}`).toContain(
          `${stop.at} ${before} ${load} ${after} ______`,
        );
      }
    }
    const tender = textOf(sheets.get("fills.html")!.split("Tender sheet")[1]!);
    fills.bins.forEach((_, b) => {
      // What went in with the first load and at the stops: what the field takes and what is left.
      const all = fills.fieldLb[b]! + fills.endScaleLb![b]! - fills.residualLb[b]!;
      expect(tender).toMatch(new RegExp(`all (.* )?${lbText(all)} `));
      expect(tender).toContain("first load");
    });
  });

  test("a bin that lays nothing wants no first load; pages and index stand in working order", () => {
    const [field] = result.fields as [FieldResult];
    const prescriptions = field.prescriptions.map((map) =>
      map.pass === "strip" && map.bin === "R"
        ? { ...map, rateLbPerAc: map.rateLbPerAc.map(() => 0), totalLb: 0 }
        : map,
    );
    const other = { ...field, field: { ...field.field, id: "other", name: "Other Field" }, prescriptions };
    const both = {
      ...result,
      fields: [field, other],
      plan: { ...plan, season: { ...plan.season!, order: ["other", field.field.id] } },
    };
    const cab = cabSheet(both);
    const [index, first] = cab.split('<section class="page"').slice(1).map(textOf);
    expect(index).toMatch(/ 1 Other Field .* 2 Low Forty /);
    expect(first).toContain("Cab sheet, page 1 of 2");
    expect(first).toContain("Other Field strip pass");
    expect(textOf(cab)).toContain("Right, 0-0-60 nothing needed");
  });

  test("the catch test wants rate x width x speed / 495 a minute, each row within 5 %", () => {
    const text = textOf(sheets.get("fills.html")!.split("Catch-test sheet")[1]!);
    const strip = result.fields[0]!.prescriptions[0]!;
    const step = plan.rig.rateStepLbPerAc;
    const flat = Math.round(strip.meanLbPerAc / step) * step;
    const all = (flat * 30 * 7) / 495;
    expect(text).toContain(
      `Left, 11-52-0 ${flat} 7.0 ${numberText(all, 1)} ${numberText((all / 12) * 0.95, 2)} ${numberText(all / 12, 2)} ${numberText((all / 12) * 1.05, 2)}`,
    );
  });

  test("the season sheet says the 80 % date first; the order record its tons and the booking", () => {
    const season = seasonOfPlan(plan, result.fields);
    const text = textOf(sheets.get("season.html")!);
    expect(text).toContain(`Done by ${dayText(season.finish[0]!.date80)} in 8 years of 10`);
    expect(text).toContain("Unconfirmed defaults");
    const order = textOf(sheets.get("order.html")!);
    expect(order).toContain("Order record");
    // One order: the first page is what the maps take, and says so.
    expect(order).toContain("in the maps, tons");
    expect(order).toContain("This is not the order");
    expect(order).not.toContain("Ordered by");
    const made = orderOfPlan(plan, result.fields);
    const left = made.toOrderTons["0-0-60"]!;
    expect(left).toBe(made.products[1]!.line.seasonTons);
    expect(order).toContain(`0-0-60 ${left.toFixed(1)} tons (no supplier typed)`);
    expect(order).toMatch(/11-52-0 elevator .* 2027-02-14 booked 11-52-0 elevator 1.00/);
    expect(order).toContain("in the maps, lb");
    expect(order).toContain("still due bought plan now up or down");
    const placed = [{ product: "11-52-0", pass: "strip" as const, lb: 100, areaAc: 1, p2o5Lb: 52, k2oLb: 0 }];
    const begun = { ...result, stands: result.stands.map((one) => ({ ...one, placed })) };
    const record = textOf(orderRecordPage(begun));
    expect(record).toContain("in the maps, still to place, lb");
    expect(record).toContain("11-52-0: 100 lb placed by the ledger, ");
    const csv = new TextDecoder().decode(buildFiles(result, "0", new Map()).get("order-record.csv"));
    expect(csv.split("\r\n")[1]).toMatch(/^elevator,11-52-0,/);
  });
});

describe("drawings", () => {
  test("a numbered square a stop, only the next one in the signal colour", () => {
    const [field] = result.fields;
    const fills = fillPlan(plan, field!);
    const svg = fillPlat(plan, field!, fills, { width: 400, height: 300, id: "t", next: 2 });
    expect(faultsOf(readStrictly(svg), false)).toEqual([]);
    const stops = [...svg.matchAll(/<g data-stop="(\d+)"><rect [^>]*fill="([^"]+)"/g)];
    expect(stops.map(([, number]) => Number(number))).toEqual(fills.stops.map((stop) => stop.number));
    expect(stops.filter(([, , fill]) => fill === "#cc2c05").map(([, number]) => number)).toEqual(["2"]);
  });

  test("the weight line falls with each pass and rises at stops", () => {
    const fills = fillPlan(plan, result.fields[0]!);
    const svg = weightChart(fills, { width: 300, height: 120, bin: 0 });
    expect(faultsOf(readStrictly(svg), false)).toEqual([]);
    const path = /d="(M[^"]*L[^"]*)"[^>]*stroke-linejoin/.exec(svg)![1]!;
    const heights = [...path.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(([, , y]) => Number(y));
    expect(heights).toHaveLength(2 * fills.passes.length);
    for (let k = 0; k < heights.length; k += 2) expect(heights[k + 1]).toBeGreaterThanOrEqual(heights[k]!);
    const rises = heights.filter((y, k) => k > 0 && k % 2 === 0 && y < heights[k - 1]! - 1).length;
    expect(rises).toBe(fills.stops.length);
  });

  test("the finish chart names the day", () => {
    const [first] = seasonOfPlan(plan, result.fields).finish;
    const svg = finishChart(first!, { width: 400, height: 120 });
    expect(faultsOf(readStrictly(svg), false)).toEqual([]);
    expect(svg).toContain(`8 years in 10: ${dayText(first!.date80)}`);
    expect(first!.byDay.at(-1)!.chance).toBeGreaterThan(0.995);
  });
});
