// Roles, layers and rate shapes with files of our own: what no file of tests/data/formats asks.
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { type Feature, writeShapefile, writeZip } from "../../src/formats/index.ts";
import type { Polygon } from "../../src/geo/index.ts";
import { type InputRole, inputFacts, inputLines, readInput } from "../../src/plan/index.ts";
// biome-ignore lint/correctness/useImportExtensions: a plain module, so that child processes run it as it is
import { taskLogFiles } from "../fuzz/material.mjs";

const utf8 = (text: string) => new TextEncoder().encode(text);
const one = (name: string, bytes: Uint8Array) => new Map([[name, bytes]]);
const square = (x: number, y: number, size = 20): [number, number][] =>
  [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
    [0, 0],
  ].map(([a, b]) => [-93 + (x + a! * size) * 1e-4, 42 + (y + b! * size) * 1e-4]); // prettier as one line
const zone = (properties: object, ...rings: [number, number][][]) => ({
  type: "Feature",
  properties,
  geometry: { type: "Polygon", coordinates: rings },
});
const collection = (...features: object[]) =>
  one("a.geojson", utf8(JSON.stringify({ type: "FeatureCollection", features })));
const read = (files: ReadonlyMap<string, Uint8Array>, as?: InputRole, answers: Record<string, string> = {}) =>
  readInput([...files.keys()][0]!, files, { answers, ...(as === undefined ? {} : { as }) });
const facts = (...call: Parameters<typeof read>) => inputFacts(read(...call)) as Record<string, unknown>;
const keys = (...call: Parameters<typeof read>) => read(...call).questions.map(({ key }) => key);
function refusal(...call: Parameters<typeof read>): InputError {
  try {
    read(...call);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("was read");
}

describe("roles", () => {
  const rates = collection(zone({ RATE: 100 }, square(0, 0)), zone({ RATE: 0 }, square(20, 0)));

  it("are listed while several fit, and asked once an answer needs one", () => {
    expect(facts(rates)).toMatchObject({ role: "unclear", rolesFit: ["prescription", "zones"], features: 2 });
    expect(keys(rates)).toEqual([]);
    const asked = read(rates, undefined, { "unit.rate": "lb/ac" }).questions;
    expect(asked).toMatchObject([{ key: "role", choices: ["prescription", "zones"] }]);
    expect(facts(rates, undefined, { "unit.rate": "lb/ac", role: "zones" })).toMatchObject({ role: "zones" });
  });

  it("follow columns and kinds", () => {
    expect(facts(collection(zone({ field: "x", acres: 9 }, square(0, 0))))).toMatchObject({
      role: "boundary",
    });
    expect(facts(collection(zone({ RATE_LBAC: 9 }, square(0, 0))))).toMatchObject({ role: "prescription" });
    const point = {
      type: "Feature",
      properties: { id: 1 },
      geometry: { type: "Point", coordinates: [-93, 42] },
    };
    const bare = read(collection(point));
    expect(bare.notices.map(({ code }) => code)).toEqual(["no-role-fits"]);
    expect(inputFacts(bare)).toMatchObject({ role: "unclear", rolesFit: [] });
  });

  it("that a file cannot have are refused by name", () => {
    const error = refusal(rates, "guidance");
    expect([error.code, error.message]).toEqual([
      "wrong-kind",
      "a.geojson holds polygons; guidance needs lines or task",
    ]);
    expect(refusal(collection(zone({ NOTE: "x" }, square(0, 0))), "prescription").code).toBe(
      "no-rate-column",
    );
    expect(facts(collection(zone({ NOTE: "x" }, square(0, 0))), "zones")).not.toHaveProperty("rates");
  });
});

describe("shapes with rates", () => {
  it("are never repaired, and may touch but not overlap", () => {
    const [a, b, c, d] = square(0, 0) as [
      [number, number],
      [number, number],
      [number, number],
      [number, number],
    ];
    const eight = collection(zone({ RATE: 1 }, [a, c, b, d, a]));
    expect(refusal(eight, "zones")).toMatchObject({ code: "rate-shape-crossing" });
    expect(refusal(eight, "zones", { "repair-boundary": "non-zero" }).message).toContain("feature 1");
    expect(keys(collection(zone({ name: "x" }, [a, c, b, d, a])), "boundary")).toEqual(["repair-boundary"]);
    const over = collection(
      zone({ RATE: 1 }, square(0, 0)),
      zone({ RATE: 2 }, square(50, 0)),
      zone({ RATE: 3 }, square(10, 0)),
    );
    expect(refusal(over, "prescription").message).toMatch(/feature 1 and feature 3 by 4\.5\d ac/);
    const within = collection(zone({ RATE: 1 }, square(0, 0)), zone({ RATE: 2 }, square(5, 5, 5)));
    expect(refusal(within, "zones").code).toBe("rate-shapes-overlap");
    const island = collection(
      zone({ RATE: 1 }, square(0, 0), square(5, 5, 5)),
      zone({ RATE: 2 }, square(5, 5, 5)),
    );
    expect(keys(island, "zones")).toEqual(["unit.rate"]);
  });

  it("give pounds in lb/ac whatever unit the file has", () => {
    const file = collection(zone({ KG_HA: 112.0851156194456 }, square(0, 0)));
    const found = facts(file, "prescription") as {
      rates: { values: number[] };
      totalLb: number;
      acres: number[];
    };
    expect(found.rates).toMatchObject({ column: "KG_HA", unit: "lb/ac", readUnit: "kg/ha" });
    expect(found.totalLb / found.acres[0]!).toBeCloseTo(100, 9);
  });
});

describe("several layers", () => {
  const shapefile = (stem: string, x: number): [string, Uint8Array][] => {
    const ring = square(x, 0).slice(0, -1);
    const polygon: Polygon = [ring];
    const feature: Feature = {
      record: 1,
      geometry: { kind: "polygon", polygons: [polygon] },
      properties: { NAME: stem },
    };
    const columns = [{ name: "NAME", type: "C", width: 10 } as const];
    return [...writeShapefile({ stem, features: [feature], columns, date: "2026-04-15" })];
  };
  const zip = writeZip(
    new Map([...shapefile("east", 0), ...shapefile("west", 90), ["notes.txt", utf8("x")]]),
    "2026-04-15",
  );

  it("are listed, asked for with a role, and taken by name", () => {
    const files = one("two.zip", zip);
    expect(facts(files)).toMatchObject({
      layers: { east: { role: "boundary" }, west: { role: "boundary" } },
    });
    expect(read(files, "boundary").questions).toMatchObject([{ key: "layer", choices: ["east", "west"] }]);
    const taken = read(files, "boundary", { layer: "west" });
    expect(inputFacts(taken)).toMatchObject({ texts: { NAME: ["west"] } });
    expect(taken.notices.map(({ message }) => message)).toContainEqual(
      "west taken; also there: east (polygons)",
    );
    expect(taken.notices.map(({ code }) => code)).toContain("file-ignored");
    expect(keys(files, "boundary", { layer: "north" })).toEqual(["layer"]);
  });

  it("that are tables of work done under headings nobody knows are refused by their headings; beside a log they are asked about by them", () => {
    const lack =
      "a table without target and applied rates is no log of work done (its headings: lon, lat, Dose";
    const strange = (name: string) =>
      [name, utf8(`lon,lat,Dose ${name[0]},Breadth\n-93,42,100,30\n`)] as const;
    const files = new Map([strange("a.csv"), strange("b.csv")]);
    const zipped = one("days.zip", writeZip(files, "2026-04-15"));
    for (const both of [files, zipped]) {
      const { code, message } = refusal(both, "applied");
      expect(code).toBe("no-applied-rate");
      for (const name of ["a", "b"])
        expect(message).toContain(`${name}.csv: ${lack} ${name}, Breadth; looked for`);
    }
    expect(refusal(new Map([strange("a.csv")]), "applied").message).toContain(
      `${lack} a, Breadth; looked for`,
    );
    const log = utf8("lon,lat,Target Rate (lb/ac),Applied Rate (lb/ac),Width (ft)\n-93,42,100,99,30\n");
    const [question] = read(new Map([["log.csv", log], strange("b.csv")]), "applied").questions;
    expect(question).toMatchObject({ key: "layer", choices: ["log.csv", "log.csv: b.csv"] });
    expect(question!.seen).toContain(`b.csv: ${lack} b, Breadth; looked for`);
    expect(question!.seen).toContain("log.csv: 1 row;");
  });

  it("of a folder are read alike, unzipped or not", () => {
    const folder = new Map([
      ...shapefile("east", 0).map(([path, bytes]) => [`farm/${path}`, bytes] as const),
    ]);
    expect(inputFacts(readInput("farm", folder))).toMatchObject({ role: "boundary", features: 1 });
    expect(() => readInput("farm", one("farm/x.dat", utf8("?")))).toThrow(InputError);
  });
});

describe("task data", () => {
  const root = (inside: string) =>
    `<ISO11783_TaskData VersionMajor="4" VersionMinor="3" DataTransferOrigin="1">${inside}</ISO11783_TaskData>`;
  const zoned = (ddi: string, more = "") =>
    one(
      "TASKDATA/TASKDATA.XML",
      utf8(
        root(
          `<PDT A="PDT1" B="Blend"/><TSK A="TSK1" B="P" G="1"><TZN A="1"><PDV A="${ddi}" B="100" C="PDT1"/>${more}</TZN></TSK>`,
        ),
      ),
    );

  it("is refused where its rates are not mass per area", () => {
    expect(refusal(zoned("0001")).message).toContain("DDI 0001, not 0006");
    // 0009 is the minimum and not the setpoint (ISO 11783-11 online data base).
    expect(refusal(zoned("0009")).code).toBe("rate-not-mass");
    expect(facts(zoned("0006"))).toMatchObject({ role: "prescription", ddi: "0006", product: "Blend" });
  });

  it("with two products asks which one", () => {
    const two = zoned("0006", '<PDV A="0006" B="50" C="PDT2"/>');
    expect(read(two).questions).toMatchObject([{ key: "layer", choices: ["P: Blend", "P: PDT2"] }]);
    expect(facts(two, undefined, { layer: "P: PDT2" })).toMatchObject({ product: "PDT2" });
  });

  it.each([
    ["task-grid-damaged", 'E="3" F="2" I="2"', 23],
    ["task-grid-damaged", 'E="3" F="2" I="1"', 5],
    ["task-grid-damaged", 'E="0" F="2" I="1"', 0],
    ["task-grid-damaged", 'E="1000000" F="1000000" I="1"', 6],
    ["task-grid-damaged", 'E="3" F="2" I="3"', 6],
    ["task-zone-missing", 'E="3" F="2" I="1"', 6],
  ])("refuses %s: %s with %i bytes", (code, counts, size) => {
    const grid = `<GRD A="42" B="-93" C="0.0001" D="0.0001" ${counts} G="GRD00001" J="1"/>`;
    const xml = root(
      `<TSK A="TSK1" B="P" G="1"><TZN A="1"><PDV A="0006" B="0" C="PDT1"/></TZN>${grid}</TSK>`,
    );
    const files = new Map([
      ...one("TASKDATA/TASKDATA.XML", utf8(xml)),
      ["TASKDATA/grd00001.bin", new Uint8Array(size).fill(9)] as const,
    ]);
    expect(refusal(files).code).toBe(code);
  });

  it("reads a grid from the south-west, row by row, one value of several a cell", () => {
    const values = Int32Array.from([1, 10, 2, 20, 3, 30, 4, 40, 5, 50, 6, 60].map((n) => n * 11209));
    const grid = '<GRD A="42" B="-93" C="0.0001" D="0.0002" E="3" F="2" I="2" G="GRD00001" J="1"/>';
    const pdvs = '<PDV A="0006" B="0" C="PDT1"/><PDV A="0006" B="0" C="PDT2"/>';
    const xml = root(
      `<PDT A="PDT1" B="A"/><PDT A="PDT2" B="B"/><TSK A="TSK1" B="P" G="1"><TZN A="1">${pdvs}</TZN>${grid}</TSK>`,
    );
    const files = new Map([
      ["TASKDATA.XML", utf8(xml)],
      ["GRD00001.BIN", new Uint8Array(values.buffer)],
    ]); // prettier as one line
    const taken = read(files, undefined, { layer: "P: B" }).taken!;
    if (!("task" in taken)) throw new Error("no task");
    expect([...taken.rates.grid!.values]).toEqual([10, 20, 30, 40, 50, 60].map((n) => n * 11209));
    expect(taken.rates.grid).toMatchObject({ southWest: [-93, 42], eastDeg: 0.0002, northDeg: 0.0001 });
  });

  it("gives boundaries and lines of its fields when they are asked for", () => {
    const ring = square(0, 0).map(([lon, lat]) => `<PNT A="2" C="${lat}" D="${lon}"/>`);
    const line = `<LSG A="5">${ring[0]}${ring[2]}</LSG>`;
    const field = `<PFD A="PFD1" C="North" D="1"><PLN A="1"><LSG A="1">${ring.join("")}</LSG></PLN>${line}</PFD>`;
    const files = one("TASKDATA.XML", utf8(root(field)));
    expect(facts(files)).toMatchObject({ role: "boundary", features: 1, texts: { field: ["North"] } });
    expect(facts(files, "guidance")).toMatchObject({ role: "guidance", features: 1 });
    expect(refusal(files, "prescription").code).toBe("no-planned-task");
    expect(refusal(zoned("0006"), "guidance").message).toContain("no guidance line");
  });

  it("reads a time log: values stand until they change, passes and pounds follow", () => {
    const found = inputFacts(readInput("stick", taskLogFiles())) as Record<string, number>;
    // Forty rows of 9e-5 degree of latitude, 10.0 m each at 42 N; 17,934 mg/m2 = 160.0 lb/ac; 9,144 mm = 30 ft.
    expect(found).toMatchObject({ role: "applied", points: 40, passes: 1, widthFt: 30 });
    expect(found.coveredAcres).toBeCloseTo((39 * 9.996 * 9.144) / 4046.8564224, 3);
    expect(found.targetLb! / found.coveredAcres!).toBeCloseTo(17934 / 112.0851, 2);
    expect((found.time as unknown as string[])[0]).toBe("2026-04-18T14:00:00Z");
  });
});

describe("files among others, and our own", () => {
  const lab = utf8("id,lat,lon,P M3 ppm,K M3 ppm\n1,42.1,-93.2,12,130\n");

  it("reads a lab's .txt in a folder, and passes over other texts by name", () => {
    const files = new Map([
      ["soil/lab.txt", lab],
      ["notes.txt", utf8("call the dealer, ask about Tuesday\n")],
    ]);
    const found = readInput("folder", files, { answers: { depth: "0-6in" } });
    expect(found.taken).toMatchObject({ role: "samples" });
    expect(found.notices.map(({ message }) => message)).toContain("a file was ignored: notes.txt");
  });

  it.each([
    ["plan.json", "plan/1", "plan.json: is a plan, with no shapes or samples to read."],
    ["result.json", "result/1", "result.json: is the figures of a build, with no shapes or samples to read."],
    [
      "manifest.json",
      "manifest/1",
      "manifest.json: is the list of a folder's files, with no shapes or samples to read.",
    ],
  ])("says what %s is, and passes over it in a folder", (name, format, message) => {
    const own = utf8(JSON.stringify({ format, more: [] }, null, 2));
    expect(refusal(one(name, own))).toMatchObject({ code: "own-file", message });
    const both = new Map([
      ["lab.csv", lab],
      [name, own],
    ]);
    const found = readInput("folder", both, { answers: { depth: "0-6in" } });
    expect(found.notices.map((one) => one.message)).toContain(`a file was ignored: ${name}`);
  });

  it("refuses an object without a type as no GeoJSON", () => {
    const { code, message } = refusal(one("a.json", utf8('{"coordinates": 1}')));
    expect([code, message]).toEqual(["not-geojson", "a.json: an object without a type is no GeoJSON"]);
  });
});

describe("what is said", () => {
  it("names role, counts, acres, unit and coordinate system in one line", () => {
    const file = collection(zone({ RATE_LBAC: 100 }, square(0, 0)));
    expect(inputLines(read(file))).toEqual([
      expect.stringMatching(
        /^a\.geojson: prescription; 1 feature; 9\.10 ac; rates in RATE_LBAC, lb\/ac; 909\.\d lb in all; OGC:CRS84 by standard$/,
      ),
    ]);
  });
});
