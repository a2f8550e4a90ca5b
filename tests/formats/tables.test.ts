// How tables are written in the wild (common practice), beyond the whole files of verdicts.test.ts.
import { describe, expect, it } from "vitest";
import { numberMarks, placeColumns, pointsOfTable, readCsv } from "../../src/formats/index.ts";
import { bytesOf, refusal } from "./support.ts";

const read = (text: string) => readCsv(bytesOf(text), "lab.csv");

describe("separators, lines above the headings, rows of units", () => {
  it.each([
    ["a;b\n1,5;2\n3,5;4\n", ["1,5", "2"]],
    ["a\tb\n1,5\t2\n", ["1,5", "2"]],
    ["a|b\n1|2\n", ["1", "2"]],
    ['a,b\n"x;y;z",2\n"u;v;w",4\n', ["x;y;z", "2"]],
  ])("%j", (text, cells) => expect(read(text).rows[0]!.cells).toEqual(cells));

  it("passes over lines above the headings and counts them", () => {
    const table = read("Report,,\nGrower:,A. Name,\n,,\nid,P,K\n,ppm,lb/ac\n1,15,300\n2,16,310\n");
    expect(table.headings).toEqual(["id", "P", "K"]);
    expect(table.units).toEqual(["", "ppm", "lb/ac"]);
    expect(table.rows.map(({ line }) => line)).toEqual([6, 7]);
    expect(table.notices.map(({ message }) => message)).toEqual([
      "lines 1 to 3 above the headings passed over",
    ]);
  });

  it("takes a row of words for data unless it is plainly units", () => {
    expect(read("id,place\n1,in\n2,out\n").units).toBeNull();
    expect(read("id,P\n1,5\n,ppm\n").units).toBeNull();
    expect(read("id,K\n,100 ppm\n2,110 ppm\n").units).toBeNull();
    expect(read("id,P,depth\n,mg/100 g,in\n1,5,8\n").units).toEqual(["", "mg/100 g", "in"]);
    expect(refusal(() => read("1,2,3\n4,5,6\n")).code).toBe("no-headings");
    expect(read("a,b,\n1,2,\n3,4\n").headings).toEqual(["a", "b"]);
  });
});

describe("numberMarks", () => {
  const marks = (texts: string[], answers: Record<string, string> = {}) =>
    numberMarks(
      texts.map((text, i) => ({ text, where: `line ${i + 2}` })),
      "f.csv",
      answers,
    );

  it("reads plain numbers as they are", () => {
    const plain = marks(["1.5", "20", "x", ""]);
    expect([plain.read("1.5"), plain.read("x"), plain.notices, plain.questions]).toEqual([1.5, null, [], []]);
  });

  it("reads decimal commas when there is nothing else, and says so", () => {
    const comma = marks(["17,7", "<5,5", "193"]);
    expect([comma.read("17,7"), comma.read("5,5"), comma.read("193")]).toEqual([17.7, 5.5, 193]);
    expect(comma.notices.map(({ code }) => code)).toEqual(["decimal-comma"]);
  });

  it("reads commas before three digits beside decimal points as thousands, and says so", () => {
    const thousands = marks(["1,020", "17.7", "12,345.5"]);
    expect([thousands.read("1,020"), thousands.read("12,345.5")]).toEqual([1020, 12345.5]);
    expect(thousands.notices.map(({ code }) => code)).toEqual(["thousands-comma"]);
  });

  it("asks when a comma could be either: mixed marks, or three digits and no point anywhere", () => {
    for (const texts of [
      ["15,0", "17.7"],
      ["1,020", "386"],
      ["1,020", "15,0", "17.7"],
    ]) {
      expect(marks(texts).questions.map(({ key, choices }) => [key, ...choices])).toEqual([
        ["decimal-comma", "decimal", "thousands", "leave-out"],
      ]);
    }
    const answered = (answer: string) => marks(["15,0", "17.7"], { "decimal-comma": answer });
    expect(answered("decimal").read("15,0")).toBe(15);
    expect(answered("thousands").read("15,0")).toBe(150);
    expect(answered("leave-out").read("15,0")).toBe("left-out");
    expect(answered("leave-out").read("17.7")).toBe(17.7);
  });
});

describe("positions in tables", () => {
  const points = (rows: string, answers: Record<string, string> = {}, headings = "lat,lon") =>
    pointsOfTable(read(`id,${headings}\n${rows}`), answers);
  const first = (rows: string) => {
    const { geometry } = points(rows).layer.features[0]!;
    return geometry?.kind === "point" ? geometry.at.map((n) => Number(n.toFixed(7))) : null;
  };

  it.each([
    ["1,41.5,-93.25\n", [-93.25, 41.5]],
    ["1,41.5N,93.25W\n", [-93.25, 41.5]],
    ["1,N 41.5,W 93.25\n", [-93.25, 41.5]],
    ["1,41°30'N,93°15'W\n", [-93.25, 41.5]],
    ["1,41 30 00 N,93 15 00 W\n", [-93.25, 41.5]],
    [`1,"41°30'36""N","93°15'18""W"\n`, [-93.255, 41.51]],
    ["1,-41 30,-93 15\n", [-93.25, -41.5]],
    ["1,41.5,-99.00\n", [-99, 41.5]],
    ["1,-99,-99\n2,41.5,-93.25\n", null],
    ["1,0,0\n2,41.5,-93.25\n", null],
    ["1,,-93.25\n2,41.5,-93.25\n", null],
  ])("%j", (rows, place) => expect(first(rows)).toEqual(place));

  it("refuses what is no angle, and letters of the other axis", () => {
    for (const row of ["1,here,-93\n", "1,41.5E,-93\n", "1,41°75'N,93°W\n"]) {
      expect(refusal(() => points(row)).code).toBe("not-a-number");
    }
  });

  it("leaves a row out whose comma an answer leaves out, as its notice says", () => {
    const { layer, questions } = points('1,"41,1234",-93.25\n2,41.5,-93.3\n', {
      "decimal-comma": "leave-out",
    });
    expect(questions).toEqual([]);
    expect(layer.notices.map(({ code }) => code)).toEqual(["value-left-out"]);
    expect(layer.features.map(({ geometry }) => geometry?.kind ?? null)).toEqual([null, "point"]);
  });

  it("asks about a lost west sign only where nothing tells", () => {
    const asked = (rows: string) => points(rows).questions.map(({ key }) => key);
    expect(asked("1,41.5,93.25\n2,41.6,93.26\n")).toEqual(["west-sign"]);
    expect(asked("1,41.5,93.25E\n")).toEqual([]);
    expect(asked("1,41.5,93.25\n2,41.6,-93.26\n")).toEqual([]);
    const east = points("1,41.5,93.25\n", { "west-sign": "east" });
    expect(east.layer.features[0]!.geometry).toEqual({ kind: "point", at: [93.25, 41.5] });
  });

  it("asks for the system of eastings and northings, and turns them", () => {
    const metres = points("1,4647000,448000\n", {}, "northing,easting");
    expect(metres.questions.map(({ key }) => key)).toEqual(["coordinate-system"]);
    const { layer } = points("1,4647000,448000\n", { "coordinate-system": "EPSG:26915" }, "northing,easting");
    const at = layer.features[0]!.geometry;
    expect(at?.kind === "point" && at.at[0]).toBeCloseTo(-93.6276218514131, 9);
    expect([layer.coordinateSystem, layer.coordinateSystemFrom]).toEqual(["EPSG:26915", "answer"]);
  });

  it("knows headings of positions in two languages", () => {
    expect(placeColumns(["Breite", "Länge"])).toEqual({ latitude: 0, longitude: 1 });
    expect(placeColumns(["X (deg)", "Y (deg)"])).toEqual({ latitude: 1, longitude: 0 });
    expect(placeColumns(["lat", "P"])).toBeNull();
  });
});
