// Long tables, lab XML, several extractants, depths and joined points; synonyms and layouts: common practice.
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import {
  type LabWants,
  type PointFile,
  readLabTable,
  readLabXml,
  type SampleFile,
  sampleRecords,
} from "../../src/soil/index.ts";

const METHODS = { "method.P": "mehlich-3-icp", "method.K": "ammonium-acetate" };

function table(headings: string, ...rows: string[]): SampleFile {
  return {
    name: "lab.csv",
    headings: headings.split(","),
    rows: rows.map((row, i) => ({ line: i + 2, cells: row.split(",") })),
  };
}
const keys = (file: SampleFile, answers: Record<string, string> = {}, wants: LabWants = {}) =>
  readLabTable(file, answers, wants).questions.map(({ key }) => key);
function refusal(call: () => unknown): InputError {
  try {
    call();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("was read");
}

describe("one row a test", () => {
  const headings = "sample,lon,lat,analyte,method,value,unit,depth_top_in,depth_bottom_in";
  const row = (sample: number, test: string, method: string, value: string, unit = "ppm", depth = "0,6") =>
    `${sample},-93.${sample},42,${test},${method},${value},${unit},${depth}`;

  it("becomes one row a sample; other tests are passed over", () => {
    const lab = readLabTable(
      table(
        headings,
        row(1, "P", "Mehlich 3 (ICP)", "15"),
        row(1, "Zn", "DTPA", "2"),
        row(1, "Potassium", "Ammonium acetate", "<50"),
        row(2, "P", "Mehlich 3 (ICP)", "ND"),
        row(2, "K", "Ammonium acetate", "180"),
      ),
      { "limit.P": "4" },
    );
    expect(lab.questions).toEqual([]);
    expect(lab.samples.map(({ id, P, K }) => [id, P, K])).toEqual([
      ["1", 15, 25],
      ["2", 2, 180],
    ]); // prettier as one line
    expect(lab).toMatchObject({ depth: "0-6in", censored: 2 });
  });

  it("asks which extractant when P was done by two, and takes the answer's values alone", () => {
    const both = table(
      headings,
      row(1, "P", "Bray P1", "22"),
      row(1, "P", "Olsen", "11"),
      row(1, "K", "Mehlich 3", "150"),
    );
    const [question] = readLabTable(both, {}).questions;
    expect(question).toMatchObject({ key: "method.P", choices: ["bray-p1", "olsen"] });
    const lab = readLabTable(both, { "method.P": "olsen" });
    expect([lab.tests.P?.method, lab.samples[0]?.P]).toEqual(["olsen", 11]);
  });

  it("asks between depths from the surface, sets deeper ones aside", () => {
    const p = (value: string, depth: string) => row(1, "P", "Olsen", value, "ppm", depth);
    const k = row(1, "K", "Mehlich 3", "150");
    const two = table(headings, p("9", "0,6"), p("8", "0,12"), k);
    expect(readLabTable(two, {}).questions[0]).toMatchObject({ key: "depth", choices: ["0-6in", "0-12in"] });
    expect(readLabTable(two, { depth: "0-6in" }).samples[0]?.P).toBe(9);
    const deep = readLabTable(table(headings, p("9", "0,6"), p("8", "6,12"), k), {});
    expect(deep).toMatchObject({ depth: "0-6in", setAside: 1 });
    expect(deep.notices.map(({ message }) => message)[0]).toContain("6-12in (1 results)");
  });

  it("refuses one test in two units, and one result twice", () => {
    const k = row(1, "K", "Mehlich 3", "150");
    const units = table(headings, row(1, "P", "Olsen", "9"), row(2, "P", "Olsen", "18", "lb/ac"), k);
    expect(refusal(() => readLabTable(units, {})).code).toBe("mixed-units");
    const twice = table(headings, row(1, "P", "Olsen", "9"), row(1, "P", "Olsen", "9"), k);
    expect(refusal(() => readLabTable(twice, {})).message).toContain(
      "line 3: P of sample 1 stands at line 2",
    );
  });
});

describe("several columns, units and depths", () => {
  it("two P columns by different extractants are asked, by none refused", () => {
    const two = table("lon,lat,Bray P1 ppm,Olsen P ppm,K ppm", "-93,42,22,11,150");
    expect(readLabTable(two, METHODS).questions[0]).toMatchObject({
      key: "method.P",
      choices: ["bray-p1", "olsen"],
    });
    expect(readLabTable(two, { ...METHODS, "method.P": "bray-p1" }).samples[0]?.P).toBe(22);
    // The strong Bray is read by no guide: it is not used, and the others are asked about.
    const strong = table("lon,lat,Bray P2 ppm,Bray P1 ppm,Olsen P ppm,K ppm", "-93,42,31,22,11,150");
    expect(readLabTable(strong, METHODS).questions[0]).toMatchObject({ choices: ["bray-p1", "olsen"] });
    const { samples, unused } = readLabTable(strong, { ...METHODS, "method.P": "olsen" });
    expect([samples[0]?.P, unused]).toEqual([11, ["Bray P2 ppm", "Bray P1 ppm"]]);
    const one = readLabTable(table("lon,lat,Bray P2 ppm,Bray P1 ppm,K ppm", "-93,42,31,22,150"), METHODS);
    expect([one.samples[0]?.P, one.tests.P?.method, one.unused]).toEqual([22, "bray-p1", ["Bray P2 ppm"]]);
    expect(
      refusal(() => readLabTable(table("lon,lat,P ppm,Phosphorus ppm,K ppm", "-93,42,1,2,3"), METHODS)).code,
    ).toBe("repeated-test");
  });

  it.each([
    // K: 391 ppm in a meq/100 g, its weight 39.1; 1 % = 10,000 ppm; P2O5 and K2O by atomic weights.
    ["P ppm,K meq/100g", "20,0.5", { P: 20, K: 195.5 }],
    ["P mg/L,K mg/kg", "20,150", { P: 20, K: 150 }],
    ["P2O5 ppm,K2O ppm", "22.914,120.46", { P: 10, K: 100 }],
    ["P #/a,K pp2m", "40,300", { P: 20, K: 150 }],
  ])("%s in ppm", (headings, cells, wanted) => {
    const lab = readLabTable(table(`lon,lat,${headings}`, `-93,42,${cells}`), {
      ...METHODS,
      oxide: "oxide",
      depth: "0-6in",
    });
    expect(lab.samples[0]!.P).toBeCloseTo(wanted.P, 9);
    expect(lab.samples[0]!.K).toBeCloseTo(wanted.K, 9);
    expect(lab.notices.map(({ code }) => code).filter((code) => /ppm|volume|element/.test(code))).not.toEqual(
      [],
    );
  });

  it("oxide: the heading may be wrong, and a recommendation is refused", () => {
    const file = table("lon,lat,P2O5 ppm,K ppm", "-93,42,20,150");
    expect(readLabTable(file, { ...METHODS, oxide: "element" }).samples[0]?.P).toBe(20);
    expect(refusal(() => readLabTable(file, { ...METHODS, oxide: "recommendation" })).code).toBe(
      "recommendation",
    );
  });

  it("a depth without its unit is not taken for inches", () => {
    const file = table("lon,lat,depth,P lb/ac,K lb/ac", "-93,42,0-15,40,300");
    expect(keys(file, METHODS)).toEqual(["depth"]);
    expect(readLabTable(table("lon,lat,Depth (cm),P ppm,K ppm", "-93,42,0-15,20,150"), METHODS).depth).toBe(
      "0-15cm",
    );
    const mixed = table("lon,lat,Depth (in),P ppm,K ppm", "-93,42,0-6,20,150", "-93.1,42,6-12,8,90");
    const lab = readLabTable(mixed, METHODS);
    expect([lab.depth, lab.samples.length, lab.setAside]).toEqual(["0-6in", 1, 1]);
  });

  it("asks the depth always only where that is wanted", () => {
    const file = table("lon,lat,P ppm,K ppm", "-93,42,20,150");
    expect(keys(file, METHODS)).toEqual([]);
    expect(keys(file, METHODS, { depth: "always" })).toEqual(["depth"]);
    expect(keys(file, { ...METHODS, depth: "6 inches" }, { depth: "always" })).toEqual(["depth"]);
  });

  it("takes censored values as the answer says", () => {
    const file = table("lon,lat,P ppm,K ppm", "-93,42,<5,> 400");
    const taken = (answers: Record<string, string>) => {
      const { samples, censored } = readLabTable(file, { ...METHODS, ...answers });
      return [samples[0]?.P ?? null, samples[0]?.K ?? null, censored];
    };
    expect(taken({})).toEqual([2.5, 400, 2]);
    expect(taken({ censored: "limit" })).toEqual([5, 400, 2]);
    expect(taken({ censored: "leave-out" })).toEqual([null, null, 0]);
    expect(keys(table("lon,lat,P ppm,K ppm", "-93,42,BDL,150"), METHODS)).toEqual(["limit.P"]);
  });
});

describe("points from another file", () => {
  const file = table("id,P ppm,K ppm", "1,20,150", "002,21,160", "9,22,170");
  const points = (...ids: string[]): PointFile => ({
    name: "points.zip",
    points: ids.map((id, i) => ({ id, field: null, at: [-93 - i / 100, 42] })),
  });

  it("are joined by id; leading zeros, and what is left over on either side, are reported", () => {
    const lab = readLabTable(file, METHODS, { points: points("1", "2", "7") });
    expect(lab.samples.map(({ id, at }) => [id, at[0]])).toEqual([
      ["1", -93],
      ["002", -93.01],
    ]); // prettier as one line
    const said = lab.notices.map(({ message }) => message).join("\n");
    expect(said).toContain("leading zeros: 002 by 2");
    expect(said).toContain("no point in points.zip for samples 9 (line 4)");
    expect(said).toContain("no sample for points 7");
    expect(lab.skipped).toEqual([{ record: 4, reason: "no position" }]);
  });

  it("are refused when ids are repeated or begin again, unless both files name the field", () => {
    const error = refusal(() => readLabTable(file, METHODS, { points: points("1", "1", "2") }));
    expect([error.code, error.message]).toEqual([
      "repeated-id",
      expect.stringContaining("several places for 1"),
    ]);
    const again = table("field,id,P ppm,K ppm", "East,1,20,150", "West,1,30,250");
    expect(refusal(() => readLabTable(again, METHODS, { points: points("1", "2") })).message).toContain(
      "several rows for 1",
    );
    const both: PointFile = {
      name: "p.csv",
      points: [
        { id: "1", field: "west", at: [-93.5, 42] },
        { id: "1", field: "East", at: [-93.4, 42] },
      ],
    };
    const lab = readLabTable(again, METHODS, { points: both });
    expect(lab.samples.map(({ P, at }) => [P, at[0]])).toEqual([
      [20, -93.4],
      [30, -93.5],
    ]); // prettier as one line
  });
});

describe("lab results in XML", () => {
  const read = (text: string) => readLabXml(new TextEncoder().encode(text), "lab.xml", {});

  it("reads the second open layout leniently, with sample numbers for ids", () => {
    const test = (name: string, method: string, value: string) =>
      `<test><constituent_name>${name}</constituent_name><method_name>${method}</method_name><result>${value}</result><unit>ppm</unit></test>`;
    const { file } = read(
      `<Standard_XML_Data><lab/><results><sample sample_number="007"><tests>${test("P", "Mehlich 3 ICP", "17.7")}${test("K", "Mehlich 3", "150")}</tests></sample></results></Standard_XML_Data>`,
    );
    expect(file.rows[0]!.cells[0]).toBe("007");
    expect(file.methods).toMatchObject({ P: { method: "mehlich-3-icp" }, K: { method: "mehlich-3" } });
    expect(keys(file)).toEqual(["join-points"]);
  });

  it("takes the finish of Mehlich 3 from the code's suffix, not from the table that swaps it", () => {
    const modus = (code: string) =>
      read(
        `<ModusResult><Event><EventSamples><Soil><SoilSamples><SoilSample><SampleMetaData><SampleNumber>1</SampleNumber></SampleMetaData><Depths><Depth DepthID="1"><NutrientResults><NutrientResult><Element>P</Element><Value>9</Value><ValueUnit>ppm</ValueUnit><ModusTestID>${code}</ModusTestID></NutrientResult></NutrientResults></Depth></Depths></SoilSample></SoilSamples></Soil></EventSamples></Event></ModusResult>`,
      ).file.methods?.P?.method;
    expect(
      ["S-P-M3.04", "S-P-M3.01.03", "S-P-B1-1:10.01.03", "S-P-BIC.04", "L_MODV2_SOIL_P_032"].map(modus),
    ).toEqual(["mehlich-3-icp", "mehlich-3-colorimetric", "bray-p1", "olsen", "mehlich-3-icp"]);
    expect(["S-P-B1-1:7.01.03", "S-P-M3BRAYP1.19", "S-P-XYZ.99"].map(modus)).toEqual([null, null, null]);
  });

  it("refuses XML that holds no lab results", () => {
    expect(refusal(() => read("<other/>")).code).toBe("not-lab-results");
    expect(refusal(() => read("<ModusResult/>")).code).toBe("no-rows");
  });

  it("keeps pH and organic matter in columns of their own, to be shown", () => {
    const file = resolve(import.meta.dirname, "../data/formats/labxml/01-lab-result-v1.xml");
    const shown = ["pH", "OM"].map(
      (element, k) =>
        `<NutrientResult><Element>${element}</Element><Value>${6.4 - 3 * k}</Value><ModusTestID>x</ModusTestID></NutrientResult>`,
    );
    const text = readFileSync(file, "utf8").replace(
      "</NutrientResults>",
      `${shown.join("")}</NutrientResults>`,
    );
    const { file: table } = read(text);
    const records = sampleRecords(table);
    expect(records.get(1)).toMatchObject({ pH: 6.4, bufferPH: null });
    expect(records.get(1)!.organicMatter).toBeCloseTo(3.4, 9);
    expect(records.get(2)).toMatchObject({ pH: null, organicMatter: null });
    const plain = read(readFileSync(file, "utf8")).file;
    expect(table.rows.map(({ cells }) => cells.slice(0, 4))).toEqual(
      plain.rows.map(({ cells }) => cells.slice(0, 4)),
    );
  });
});
