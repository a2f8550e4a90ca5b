import { beforeAll, describe, expect, it } from "vitest";
import { QuestionError } from "../../src/errors/index.ts";
import { type Feature, rereadShapefile, sha256Hex } from "../../src/formats/index.ts";
import { ellipsoidArea, type MultiPolygon, orient, tilingFaults } from "../../src/geo/index.ts";
import { type FieldResult, type RunResult, run } from "../../src/plan/index.ts";
import { zoneNames } from "../../src/plan/maps/map-ground.ts";
import {
  type Extra,
  type ExtraForm,
  type ExtraGround,
  type Prescription,
  readBackExtraFaults,
} from "../../src/prescription/index.ts";
import { resultJson } from "../../src/publish/index.ts";
import { loadOrder } from "../../src/report/index.ts";
import { acres, KG_PER_HA_PER_LB_PER_AC } from "../../src/units/index.ts";
import { expectTaskDataRules } from "../formats/task-data-rules.ts";
import { ALL_FORMS, planWithForms, runWithForms } from "../support/extra-forms.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

let result: RunResult;
let field: FieldResult;

beforeAll(async () => {
  result = await runWithForms();
  field = result.fields[0]!;
});

/** Each file by its hash: comparing bytes one by one takes long. */
const hashed = (of: { readonly files: ReadonlyMap<string, Uint8Array> }) => ({
  ...of,
  rateLbPerAc: undefined,
  files: [...of.files].map(([path, bytes]) => [path, sha256Hex(bytes)]),
});
const polygonsOf = ({ geometry }: Feature): MultiPolygon =>
  geometry?.kind === "polygon" ? geometry.polygons : [];
const limits = { mostPolygons: 200, mostVertices: 500 };
const groundOf = (pass: Prescription["pass"]): ExtraGround => {
  const lies = pass === "strip" ? field.passes : field.swaths;
  return { polygons: lies.written, zones: zoneNames(lies), areaAc: lies.areaAc, pieces: lies.pieces };
};
const passOf = (extra: Extra) => field.prescriptions.find((map) => map.stem === extra.stems[0])!.pass;
const faultsOf = async (extra: Extra): Promise<string[]> => {
  const pass = passOf(extra);
  const found = await readBackExtraFaults(extra, field.prescriptions, groundOf(pass), field.checked, limits);
  return found.map(({ what }) => what);
};
const formsOf = (form: ExtraForm, of: FieldResult = field) =>
  of.extras.filter((extra) => extra.form === form);
const withFile = (extra: Extra, ending: string, change: (bytes: Uint8Array) => Uint8Array): Extra => ({
  ...extra,
  files: new Map(
    [...extra.files].map(([path, bytes]) => [
      path,
      path.endsWith(ending) ? change(Uint8Array.from(bytes)) : bytes,
    ]),
  ),
});
const withText = (extra: Extra, ending: string, change: (text: string) => string): Extra =>
  withFile(extra, ending, (bytes) => new TextEncoder().encode(change(new TextDecoder().decode(bytes))));

describe("other forms of a map", () => {
  it("come for every map, read back without a fault, with pounds as the map's", async () => {
    const maps = field.prescriptions;
    expect(maps).toHaveLength(4);
    for (const form of ALL_FORMS) {
      expect(
        formsOf(form)
          .flatMap((extra) => extra.stems)
          .sort(),
        form,
      ).toEqual(maps.map((map) => map.stem).sort());
      for (const extra of formsOf(form)) {
        expect(await faultsOf(extra), form).toEqual([]);
        extra.stems.forEach((stem, k) => {
          const map = maps.find((one) => one.stem === stem)!;
          expect(extra.changeLb[k]).toBeCloseTo(extra.totalLb[k]! - map.totalLb, 9);
          // 0.001 % for what holds the very rates; half a mg/m2 an acre for task data; the fallback says its change.
          if (["kg-ha", "kml", "csv"].includes(form))
            expect(Math.abs(extra.changeLb[k]!)).toBeLessThan(1e-5 * map.totalLb + 1e-9);
          else if (form !== "fallback")
            expect(Math.abs(extra.changeLb[k]!)).toBeLessThan(0.0045 * map.areaAc);
        });
      }
    }
  });

  it("stand in extras of result.json and never among the files to load", () => {
    const json = resultJson(result) as {
      prescriptions: { files: { path: string }[]; extras: { path: string; form: string }[] }[];
    };
    for (const { files, extras } of json.prescriptions) {
      expect(files.every(({ path }) => path.startsWith("prescriptions/"))).toBe(true);
      expect(extras.every(({ path, form }) => path.startsWith(`extras/${form}/`))).toBe(true);
      expect(new Set(extras.map(({ form }) => form))).toEqual(new Set(ALL_FORMS));
    }
  });

  it("are the same bytes in two runs, and change nothing about the maps", async () => {
    const again = await runWithForms();
    expect(again.fields[0]!.extras.map(hashed)).toEqual(field.extras.map(hashed));
    const { extras: _, ...plain } = planWithForms();
    const without = await run(plain, sourceOf(smallFarmFiles()));
    expect(without.fields[0]!.extras).toEqual([]);
    expect(without.fields[0]!.prescriptions.map(hashed)).toEqual(field.prescriptions.map(hashed));
  });

  it("ask what the controller does with a rate 0 while nobody has said it", async () => {
    const { controller: _, ...plan } = planWithForms();
    const asked = await run(plan, sourceOf(smallFarmFiles())).catch((error: unknown) => error);
    expect(asked).toBeInstanceOf(QuestionError);
    expect((asked as QuestionError).questions.map(({ key }) => key)).toEqual(["zero-rate"]);
    const answered = await run(plan, sourceOf(smallFarmFiles()), { answers: { "zero-rate": "no-data" } });
    expect(answered.fields[0]!.extras).toHaveLength(field.extras.length);
  });
});

describe("a map with a polygon a stretch", () => {
  it("in kg/ha has the very polygons of the map; result.json counts the records of each file", async () => {
    const plan = planWithForms({ zeroRate: "no-data", mostPolygons: 100 });
    const rig = { ...plan.rig, rates: "stretches" as const };
    const worked = await run({ ...plan, rig, extras: ["kg-ha", "csv"] }, sourceOf(smallFarmFiles()));
    const json = resultJson(worked) as {
      prescriptions: { polygons: number; extras: { form: string; path: string; shapes: number }[] }[];
    };
    const [own] = worked.fields;
    for (const [m, map] of own!.prescriptions.filter(({ pass }) => pass === "strip").entries()) {
      expect(map.polygons).toBeLessThanOrEqual(100);
      expect(own!.passes.pieces.length).toBeGreaterThan(2 * map.polygons);
      const kgHa = own!.extras.find(({ form, stems }) => form === "kg-ha" && stems[0] === map.stem)!;
      const [meant, written] = [await rereadShapefile(map.files), await rereadShapefile(kgHa.files)];
      expect(written.map(polygonsOf)).toEqual(meant.map(polygonsOf));
      expect(written.map(({ properties }) => properties.ZONE)).toEqual(
        meant.map(({ properties }) => properties.ZONE),
      );
      // 1 lb/ac is 0.45359237 kg over 0.40468564224 ha.
      written.forEach(({ properties }, k) => {
        const lbPerAc = meant[k]!.properties.RATE_LBAC as number;
        expect(properties.RATE_KGHA).toBeCloseTo((lbPerAc * 0.45359237) / 0.40468564224, 4);
      });
      const { polygons, extras } = json.prescriptions[m]!;
      expect(polygons).toBe(meant.length);
      const shapes = (form: string) =>
        new Set(extras.filter((one) => one.form === form).map((one) => one.shapes));
      expect(shapes("kg-ha")).toEqual(new Set([meant.length]));
      expect(shapes("csv")).toEqual(new Set([own!.passes.pieces.length]));
    }
  });

  it("that is too much for a controller that takes kg/ha alone is told by the name that is loaded, without a fallback in lb/ac", async () => {
    const plan = planWithForms({ zeroRate: "no-data", mostPolygons: 20, loads: ["kg-ha"] });
    const worked = await run({ ...plan, extras: ["kg-ha"] }, sourceOf(smallFarmFiles()));
    const told = worked.fields[0]!.notices.filter(({ code }) => code === "controller-limit");
    expect(told.map(({ message }) => message)).toContainEqual(
      expect.stringMatching(
        /^LOWFORTY_L_1152K: \d+ polygons, the controller takes 20; there is no plain fallback in kg\/ha: test-load it before the field/,
      ),
    );
    expect(loadOrder(worked.plan, worked.fields[0]!, "strip").doubts).toEqual([
      expect.stringMatching(/^May be refused: \d+ polygons, the controller takes 20/),
    ]);
  });
});

describe("task data", () => {
  const sets = () => [...formsOf("taskdata-4"), ...formsOf("taskdata-3")];

  it("keep every rule; a strip pass is one task for both bins, each broadcast product a task", () => {
    for (const extra of sets()) {
      const inside = new Map(
        [...extra.files].map(([path, bytes]) => [path.slice(path.indexOf("TASKDATA/")), bytes]),
      );
      expectTaskDataRules(inside, extra.form === "taskdata-4" ? 4 : 3);
    }
    expect(formsOf("taskdata-4").map((extra) => extra.stems.length)).toEqual([2, 1, 1]);
  });

  /** The cells of a grid file put in another order; `from` says which cell stands at row, column. */
  const reordered = (
    extra: Extra,
    from: (row: number, column: number, rows: number, columns: number) => number,
  ): Extra => {
    const xml = new TextDecoder().decode([...extra.files].find(([path]) => path.endsWith(".XML"))![1]);
    const [, columns, rows] = /<GRD [^>]* E="(\d+)" F="(\d+)"/.exec(xml)!.map(Number) as [
      number,
      number,
      number,
    ];
    const cell = 4 * extra.stems.length;
    return withFile(extra, ".BIN", (bytes) => {
      const moved = new Uint8Array(bytes.length);
      for (let row = 0; row < rows; row++) {
        for (let column = 0; column < columns; column++) {
          const source = from(row, column, rows, columns) * cell;
          moved.set(bytes.subarray(source, source + cell), (row * columns + column) * cell);
        }
      }
      return moved;
    });
  };

  it.each([
    [
      "begun in the north",
      (row: number, column: number, rows: number, columns: number) => (rows - 1 - row) * columns + column,
    ],
    [
      "begun in the east",
      (row: number, column: number, _: number, columns: number) => row * columns + columns - 1 - column,
    ],
    [
      "turned round",
      (row: number, column: number, rows: number, columns: number) =>
        rows * columns - 1 - (row * columns + column),
    ],
    ["laid column by column", (row: number, column: number, rows: number) => column * rows + row],
    [
      "a row too high",
      (row: number, column: number, rows: number, columns: number) => ((row + 1) % rows) * columns + column,
    ],
  ])("a grid %s is caught", async (_, from) => {
    for (const extra of sets().filter((one) => one.totalLb[0]! > 100)) {
      expect((await faultsOf(reordered(extra, from))).join()).toMatch(/cells of the grid hold another rate/);
    }
    expect(
      await faultsOf(reordered(sets()[0]!, (row, column, __, columns) => row * columns + column)),
    ).toEqual([]);
  });

  it.each([
    ["another DDI", (xml: string) => xml.replaceAll(`A="0006"`, `A="0009"`), /DDI 0009/],
    ["no zone for a lost position", (xml: string) => xml.replace(` I="2"`, ""), /position-lost/],
    [
      "latitude and longitude swapped in the corner",
      (xml: string) => xml.replace(/<GRD A="([^"]+)" B="([^"]+)"/, `<GRD A="$2" B="$1"`),
      /./,
    ],
    ["work that was done", (xml: string) => xml.replace(` G="1"`, ` G="4"`), /not planned/],
    [
      "products exchanged",
      (xml: string) =>
        xml
          .replace(`B="11-52-0"`, `B="x"`)
          .replace(`B="0-0-60"`, `B="11-52-0"`)
          .replace(`B="x"`, `B="0-0-60"`),
      /another rate/,
    ],
    [
      "version 3 where 4 was meant",
      (xml: string) => xml.replace(`VersionMajor="4"`, `VersionMajor="3"`),
      /version 3/,
    ],
  ])("%s is caught", async (_, change, fault) => {
    const extra = formsOf("taskdata-4")[0]!;
    expect((await faultsOf(withText(extra, ".XML", change))).join()).toMatch(fault);
  });

  it("as zones hold one zone a pair of rates, tile the field and keep the pounds", async () => {
    const zoned = await runWithForms({ zeroRate: "off", taskRates: "zones", positionLostLbPerAc: 10 });
    const before = field;
    field = zoned.fields[0]!;
    try {
      const [extra] = formsOf("taskdata-4");
      expect([...extra!.files.keys()]).toHaveLength(1);
      expect(await faultsOf(extra!)).toEqual([]);
      expect(new TextDecoder().decode([...extra!.files.values()][0])).toContain(`<PDV A="0006" B="1121"`);
      const cut = withText(extra!, ".XML", (xml) => xml.replace(/<PLN A="2">.*?<\/PLN>/, ""));
      expect((await faultsOf(cut)).join()).toMatch(/gap or overlap|lb were meant/);
    } finally {
      field = before;
    }
  });
});

describe("kg/ha, KML and CSV", () => {
  it("kg/ha has a column and names of its own", async () => {
    const [extra] = formsOf("kg-ha");
    const features = await rereadShapefile(extra!.files);
    const map = field.prescriptions[0]!;
    features.forEach(({ properties }, k) => {
      expect(Object.keys(properties)).toEqual(["RATE_KGHA", "ZONE", "PRODUCT"]);
      expect(properties.RATE_KGHA).toBeCloseTo(map.rateLbPerAc[k]! * KG_PER_HA_PER_LB_PER_AC, 5);
    });
    expect([...extra!.files.keys()].every((name) => name.startsWith(`${map.stem}K.`))).toBe(true);
  });

  it("a changed rate or place in any of them is caught", async () => {
    const [kml, csv, kgHa] = [formsOf("kml")[0]!, formsOf("csv")[0]!, formsOf("kg-ha")[0]!];
    expect(
      (
        await faultsOf(
          withText(kml, ".kml", (text) => text.replace(/<value>(\d+)<\/value>/, "<value>1$1</value>")),
        )
      ).join(),
    ).toMatch(/not the polygons/);
    expect(
      (await faultsOf(withText(kml, ".kml", (text) => text.replace("-93.49", "-93.48")))).join(),
    ).toMatch(/not the polygons|not closed/);
    expect(
      (await faultsOf(withText(csv, ".csv", (text) => text.replace(/(11-52-0,)(\d)/, "$11$2")))).join(),
    ).toMatch(/rates/);
    const swapped = { ...kgHa, files: new Map([...formsOf("kg-ha")[1]!.files]) };
    expect((await faultsOf(swapped)).join()).toMatch(/another rate/);
  });
});

describe("the plain fallback", () => {
  it("is single polygons without holes that tile the field and its hole, the hole at rate 0", async () => {
    const filled = field.checked.boundaryLonLat.map((polygon) => [polygon[0]!]);
    const holeM2 = ellipsoidArea(orient([field.checked.boundaryLonLat[0]!.slice(1)]));
    expect(holeM2).toBeGreaterThan(1000);
    for (const extra of formsOf("fallback")) {
      const features = await rereadShapefile(extra.files);
      const polygons = features.map(polygonsOf);
      expect(polygons.every((one) => one.length === 1 && one[0]!.length === 1)).toBe(true);
      expect(features.length).toBeLessThanOrEqual(200);
      expect(tilingFaults(polygons, filled, 1e-6)).toEqual([]);
      const zero = features.filter(({ properties }) => properties.RATE_LBAC === 0);
      expect(ellipsoidArea(zero.flatMap(polygonsOf))).toBeGreaterThan(holeM2 - 0.1);
    }
  });

  it("is the very map, melted, where that is few enough", () => {
    const map = field.prescriptions.find(
      (one) => one.stem === formsOf("fallback").find((extra) => extra.note === "")!.stems[0],
    )!;
    const extra = formsOf("fallback").find((one) => one.stems[0] === map.stem)!;
    expect(Math.abs(extra.changeLb[0]!)).toBeLessThan(1e-5 * map.totalLb);
    expect(extra.shapes).toBeLessThan(map.polygons);
  });

  it("gets coarser as the controller takes less, says how, and keeps the pounds", async () => {
    const shapes: number[] = [];
    for (const mostPolygons of [24, 16, 10]) {
      const { fields } = await runWithForms({ zeroRate: "off", mostPolygons, mostVertices: 60 });
      const fallbacks = formsOf("fallback", fields[0]!);
      for (const extra of fallbacks) {
        expect(extra.shapes).toBeLessThanOrEqual(mostPolygons);
        const map = fields[0]!.prescriptions.find((one) => one.stem === extra.stems[0])!;
        // Class means to a hundredth of a pound an acre.
        expect(Math.abs(extra.changeLb[0]!)).toBeLessThan(0.006 * map.areaAc);
        for (const feature of await rereadShapefile(extra.files)) {
          expect(polygonsOf(feature)[0]![0]!.length).toBeLessThan(60);
        }
      }
      shapes.push(fallbacks[0]!.shapes);
      expect(fallbacks[0]!.note).not.toBe("");
      expect(fields[0]!.notices.map(({ code }) => code)).toContain("controller-limit");
    }
    expect(shapes[2]!).toBeLessThan(shapes[0]!);
  });

  it("writes a small rate for a controller that must get no 0, but not into the hole", async () => {
    const { fields } = await runWithForms({ zeroRate: "small", smallRateLbPerAc: 5 });
    const small = formsOf("fallback", fields[0]!);
    for (const [k, extra] of small.entries()) {
      const features = await rereadShapefile(extra.files);
      const zero = features.filter(({ properties }) => properties.RATE_LBAC === 0);
      const holeAc = acres(ellipsoidArea(orient([field.checked.boundaryLonLat[0]!.slice(1)])));
      const zeroAc = acres(ellipsoidArea(zero.flatMap(polygonsOf)));
      expect(zeroAc).toBeCloseTo(holeAc, 4);
      expect(extra.note).toContain("5 lb/ac where the map has 0");
      expect(extra.smallRateLbPerAc).toBe(5);
      // Holes are told, for somebody has to stop the meters: their acres by the boundary's own rings.
      expect(extra.holesAc).toBeCloseTo(holeAc, 4);
      const fileAc = acres(ellipsoidArea(features.flatMap(polygonsOf)));
      expect(fileAc).toBeCloseTo(field.checked.areaAc + extra.holesAc!, 3);
      const map = field.prescriptions[k]!;
      const said = fields[0]!.notices.filter(({ code }) => code === "holes-at-zero");
      expect(said.map(({ message }) => message).join()).toContain(`${map.stem}F`);
      const zeros = map.rateLbPerAc.reduce(
        (sum, rate, i) => sum + (rate === 0 ? groundOf(map.pass).areaAc[i]! : 0),
        0,
      );
      expect(Math.abs(extra.changeLb[0]! - 5 * zeros)).toBeLessThan(0.006 * map.areaAc);
    }
  });

  it("with a polygon left out, or another rate, is caught", async () => {
    const extra = formsOf("fallback")[0]!;
    const other = formsOf("fallback")[1]!;
    expect((await faultsOf({ ...extra, files: other.files })).join()).toMatch(/lb were meant/);
    const holed = { ...formsOf("kg-ha")[0]!, form: "fallback" } as Extra;
    expect((await faultsOf(holed)).join()).toMatch(/RATE_LBAC/);
    const map = field.prescriptions.find((one) => one.stem === extra.stems[0])!;
    const shapefile = new Map([...map.files].filter(([name]) => !name.endsWith(".geojson")));
    expect((await faultsOf({ ...extra, files: shapefile })).join()).toMatch(/hole|gap/);
  });
});
