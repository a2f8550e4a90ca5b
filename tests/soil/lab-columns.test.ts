import { describe, expect, it } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";
import { readCsv } from "../../src/formats/index.ts";
import { readHeading, readLabTable, type SampleFile } from "../../src/soil/index.ts";
import { refusal, stated, table } from "../support/lab-table.ts";

describe("headings with dots", () => {
  it.each([
    ["C.E.C.", "CEC", null, null],
    ["C.E.C (meq/100g)", "CEC", "meq/100g", null],
    ["O.M. (%)", "OM", "%", null],
    ["Org. Matter", "OM", null, null],
    ["Org Matter %", "OM", "%", null],
    ["Organic Matter", "OM", null, null],
    ["Organic Matter (LOI) %", "OM", "%", null],
    ["ORG_MAT", "OM", null, null],
    ["OrgMatter_pct", "OM", "%", null],
    ["% Org. Mat.", "OM", "%", null],
    ["% OM", "OM", "%", null],
    ["Organic Matter, Loss on Ignition", "OM", null, null],
    ["O M", "OM", null, null],
    ["Est. OM %", "OM", "%", null],
    ["OM_LOI", "OM", null, null],
    ["Soil OM", "OM", null, null],
    ["Organic Carbon %", "other", "%", null],
    ["Organic N ppm", "other", "ppm", null],
    ["Organization", "other", null, null],
    ["Mehlich-3 P p.p.m.", "P", "ppm", "mehlich-3"],
    ["M3-K lbs./ac.", "K", "lb/ac", "mehlich-3"],
    ["K Amm. Acet. ppm", "K", "ppm", "ammonium-acetate"],
    ["Samp. No.", "sample", null, null],
    ["P.ppm", "P", "ppm", null],
    ["Sat. K", "other", null, null],
    ["K (moist) ppm", "K", "ppm", null],
    ["Moist K M3 ppm", "K", "ppm", "mehlich-3-moist"],
    ["K NH4OAc slurry ppm", "K", "ppm", "ammonium-acetate-moist"],
    ["Moisture %", "other", "%", null],
  ])("%s", (heading, means, unit, method) => {
    expect(readHeading(heading, 0)).toMatchObject({ heading, means, unit, method });
  });

  it("a lab's C.E.C. is used", () => {
    const lab = readLabTable(table("lat,lon,Sample,P ppm,K ppm,C.E.C.", "40,-84,1,20,150,12.5"), {
      ...stated,
      "unit.CEC": "meq/100g",
    });
    expect(lab.unused).toEqual([]);
    expect(lab.tests.CEC?.heading).toBe("C.E.C.");
  });
});

describe("exchange capacity", () => {
  const cec = (heading: string, answers = {}) =>
    readLabTable(table(`lat,lon,Sample,P ppm,K ppm,${heading}`, "40,-84,1,20,150,125"), {
      ...stated,
      ...answers,
    });

  it.each([["CEC meq/100g"], ["CEC cmolc/kg"], ["CEC cmol(+) kg-1"], ["CEC (me/100 g)"], ["KAK mmol/100 g"]])(
    "%s is in meq/100 g",
    (heading) => {
      const { samples, questions } = cec(heading);
      expect(questions).toEqual([]);
      expect(samples[0]!.CEC).toBe(125);
    },
  );

  it("without a unit is in meq/100 g where mineral soils have such values, else asked", () => {
    const of = (values: readonly number[], answers = {}, heading = "CEC") =>
      readLabTable(
        table(
          `lat,lon,Sample,P ppm,K ppm,${heading}`,
          ...values.map((value, i) => `40.00${i},-84,${i + 1},20,150,${value}`),
        ),
        { ...stated, ...answers },
      );
    // Mostly a clay of 30 with two samples of muck: the median is below 60, and each counts as it stands.
    const mixed = of([30, 31, 32, 110, 140]);
    expect([mixed.questions, mixed.samples.map(({ CEC }) => CEC)]).toEqual([[], [30, 31, 32, 110, 140]]);
    const high = of([99, 112, 125, 145]);
    expect(high.samples).toEqual([]);
    expect(high.questions.map(({ key, choices }) => [key, choices])).toEqual([
      ["unit.CEC", ["meq/100g", "mmol/kg"]],
    ]);
    expect(high.questions[0]!.text).toContain("half of the values are 125 and more");
    const turned = of([99, 112, 125, 145], { "unit.CEC": "mmol/kg" });
    expect(turned.samples.map(({ CEC }) => CEC!.toFixed(1))).toEqual(["9.9", "11.2", "12.5", "14.5"]);
    for (const organic of [
      of([99, 112, 125, 145], { "unit.CEC": "meq/100g" }),
      of([99, 112, 125, 145], {}, "CEC me/100g"),
    ])
      expect([organic.questions, organic.samples.map(({ CEC }) => CEC)]).toEqual([[], [99, 112, 125, 145]]);
  });

  const below = (units: string, answers = {}) => {
    const text = `id,lat,lon,P,K,CEC\n,,,${units}\n1,40,-84,20,150,125\n2,40.001,-84,21,160,145\n`;
    return readLabTable(readCsv(new TextEncoder().encode(text), "lab.csv"), { ...stated, ...answers });
  };

  it.each([
    ["mmol/kg", 12.5],
    ["mmolc/kg", 12.5],
    ["mmol(c)/kg", 12.5],
    ["mmol_c kg-1", 12.5],
    ["meq/kg", 12.5],
    ["me/kg", 12.5],
    ["mval/kg", 12.5],
    ["me/100g", 125],
    ["meq/100 gms", 125],
    ["mval/100g", 125],
    ["cmol(+)/kg", 125],
    ["cmol(p+)/kg soil", 125],
    ["cmolc kg-1", 125],
  ])("%s in a row of units below the headings is its unit", (unit, value) => {
    const { samples, questions, tests } = below(`ppm,ppm,${unit}`);
    expect(questions).toEqual([]);
    expect(samples.map(({ id }) => id)).toEqual(["1", "2"]);
    expect(samples[0]!.CEC).toBeCloseTo(value, 9);
    expect([tests.P?.unit, tests.K?.unit]).toEqual(["ppm", "ppm"]);
  });

  it("a unit in a row of other words is not lost with the row, and one that is not known is asked", () => {
    const left = { "unit.P": "ppm", "unit.K": "ppm", "unreadable-value": "leave-out" };
    const read = below("in ppm,in ppm as K,mmol/kg", left);
    expect(read.questions).toEqual([]);
    expect(read.samples.map(({ CEC }) => CEC!.toFixed(1))).toEqual(["12.5", "14.5"]);
    const unknown = below("in ppm,in ppm as K,exchange units", left);
    expect(unknown.questions.map(({ key }) => key)).toEqual(["unit.CEC"]);
  });

  it("K in meq/kg is no K in meq/100 g: its unit is asked", () => {
    const of = (heading: string) =>
      readLabTable(table(`lat,lon,Sample,P ppm,${heading}`, "40,-84,1,20,4"), stated);
    // 0.4 meq/100 g of K are 156 ppm, by its weight of 391 ppm a meq.
    expect(of("K meq/kg").questions.map(({ key }) => key)).toEqual(["unit.K"]);
    expect(of("K cmol/kg").samples[0]!.K).toBe(4 * 391);
  });

  // 1 mmol of charge is 1 meq; 125 in a kg are 12.5 in 100 g.
  it.each([["CEC (mmol/kg)"], ["CEC meq/kg"], ["CEC mmolc/kg"], ["CEC (mmol+/kg)"], ["KAK mmol(eq) kg-1"]])(
    "%s is turned by a tenth, and told",
    (heading) => {
      const { samples, notices } = cec(heading);
      expect(samples[0]!.CEC).toBeCloseTo(12.5, 9);
      expect(notices.map(({ message }) => message)).toContain(
        "lab.csv: CEC in mmol/kg (meq/kg) was turned into meq/100 g by 0.1.",
      );
    },
  );

  it.each([["CEC (mol/kg)"], ["CEC (cmol/L)"], ["CEC mg/kg"]])("of %s the unit is asked", (heading) => {
    const { samples, questions } = cec(heading);
    expect(questions.map(({ key, choices }) => [key, choices])).toEqual([
      ["unit.CEC", ["meq/100g", "mmol/kg"]],
    ]);
    expect(samples).toEqual([]);
    expect(cec(heading, { "unit.CEC": "mmol/kg" }).samples[0]!.CEC).toBeCloseTo(12.5, 9);
  });
});

describe("extractants and units of other places", () => {
  const cal = table("id,lon,lat,P2O5 CAL (mg/100g),K2O CAL (mg/100 g)", "1,-84,40,12.5,18");
  const told = { ...stated, oxide: "oxide", depth: "0-8in" };

  it("mg in 100 g are turned into ppm by 10, the oxide into the element", () => {
    const lab = readLabTable(cal, told);
    // By hand: 12.5 mg P2O5 in 100 g are 125 ppm P2O5, 54.55 ppm P; 180 ppm K2O are 149.43 ppm K.
    expect(lab.samples[0]!.P).toBeCloseTo(54.55, 2);
    expect(lab.samples[0]!.K).toBeCloseTo(149.43, 2);
    expect(lab.notices.map(({ message }) => message)).toEqual([
      "lab.csv: P in mg/100g was turned into ppm by 10.",
      "lab.csv: “P2O5 CAL (mg/100g)” names CAL, and P is read as mehlich-3, as answered.",
      "lab.csv: P2O5 was turned into P by dividing by 2.2914.",
      "lab.csv: K in mg/100g was turned into ppm by 10.",
      "lab.csv: “K2O CAL (mg/100 g)” names CAL, and K is read as mehlich-3, as answered.",
      "lab.csv: K2O was turned into K by dividing by 1.2046.",
    ]);
  });

  it("K on moist soil is asked with moist extractants where the heading says so, and taken where it does not", () => {
    const read = (heading: string, method?: string) =>
      readLabTable(
        table(`id,lon,lat,${heading}`, "1,-84,40,60"),
        { depth: "0-6in", ...(method === undefined ? {} : { "method.K": method }) },
        { tests: "any" },
      );
    const dried = ["ammonium-acetate", "mehlich-3"];
    const moist = ["ammonium-acetate-moist", "mehlich-3-moist"];
    expect(read("K ppm").questions[0]!.choices).toEqual([...dried, ...moist]);
    expect(read("K (moist) ppm").questions[0]!.choices).toEqual(moist);
    expect(read("K (moist) ppm", "mehlich-3").questions[0]!.text).toMatch(/“mehlich-3” is not one of the/);
    for (const heading of ["K (moist) ppm", "K ppm", "K M3 ppm", "K M3 moist ppm"]) {
      const lab = read(heading, "mehlich-3-moist");
      expect([lab.questions, lab.tests.K?.method]).toEqual([[], "mehlich-3-moist"]);
    }
    const long = table("sample,lon,lat,analyte,method,value,unit,depth", "1,-84,40,K moist,M3,60,ppm,0-6in");
    expect(readLabTable(long, {}, { tests: "any" }).tests.K?.method).toBe("mehlich-3-moist");
    // Iowa, corn at 60 ppm: low (up to 85) on moist soil, 90 lb K2O/ac; very low on dried soil, 130.
    const rates = [...moist, ...dried].map((testMethod) => {
      const input = { crop: "corn", nutrient: "K2O", yieldBuPerAc: 180, test: 60, testMethod } as const;
      return recommend(guideById("iowa-2013"), input as Parameters<typeof recommend>[1]).lbPerAc;
    });
    expect(rates).toEqual([90, 90, 130, 130]);
  });

  it("a decilitre in a unit is no extractant", () => {
    const words = "id,lon,lat,P Mehlich-3 ICP (mg/dL),K Mehlich-3 (mg / dL)";
    const lab = readLabTable(table(words, "1,-84,40,11,87"), { depth: "0-8in" });
    expect(lab.notices.map(({ code }) => code)).not.toContain("extractant-answered-otherwise");
    expect(lab.questions.map(({ key }) => key)).toEqual(["unit.P", "unit.K"]);
  });

  it("an extractant that no guide here reads is named in the question, and nothing is said of the oxide before its answer", () => {
    const { questions, notices } = readLabTable(cal, {});
    expect(questions.map(({ key }) => key)).toEqual(["method.P", "oxide", "method.K"]);
    expect(questions[0]!.text).toMatch(
      /^Which extractant was used for soil test P\? It is headed CAL, which no guide here reads/,
    );
    expect(notices.map(({ code }) => code)).not.toContain("oxide-to-element");
  });

  it.each([
    ["P CAL ppm", /headed CAL/],
    ["P_DL_ppm", /headed DL/],
    ["P Modified Morgan ppm", /headed modified Morgan/],
    ["P Mehlich-1 ppm", /headed Mehlich-1/],
    ["Bray P2 ppm", /headed Bray P2/],
    ["P ppm", /P\?$/],
    ["P Bray ppm", /P\?$/],
    ["P calc ppm", /P\?$/],
  ])("%s", (heading, text) => {
    const file = table(`id,lon,lat,${heading},K M3 ppm`, "1,-84,40,12.5,18");
    expect(readLabTable(file, {}).questions[0]!.text).toMatch(text);
  });

  it.each([
    ["P (mg/100g)", "mg/100g"],
    ["P2O5 mg/100 g Boden", "mg/100g"],
    ["mg P2O5/100g", "mg/100g"],
    ["P_mg_100g", "mg/100g"],
    ["P mg/kg", "ppm"],
    ["K meq/100g", "meq/100g"],
  ])("%s is in %s", (heading, unit) => {
    expect(readHeading(heading, 0).unit).toBe(unit);
  });
});

describe("the column that is the sample's id", () => {
  const ids = (heading: string, ...cells: string[]) => {
    const rows = cells.map((cell, i) => `40.${i + 1},-84,${cell},20,150`);
    const lab = readLabTable(table(`lat,lon,${heading},P ppm,K ppm`, ...rows), stated);
    const codes = lab.notices.map(({ code }) => code);
    return {
      ids: lab.samples.map(({ id }) => id),
      doubts: codes.filter((code) => code.startsWith("buffer")),
    };
  };

  it.each(["Smp ID", "Smp", "Grid", "Grid ID", "Grid #", "Point #"])(
    "%s is it where no other is",
    (heading) => {
      expect(ids(heading, "62", "5", "7")).toEqual({ ids: ["62", "5", "7"], doubts: [] });
    },
  );

  it("a grid is not where the table has a sample's number", () => {
    expect(ids("Grid,Sample ID", "A1,62", "A1,5").ids).toEqual(["62", "5"]);
    expect(ids("Grid,Lab No", "A1,901", "A1,902").ids).toEqual(["901", "902"]);
  });

  it("SMP over a buffer pH is none, and a buffer pH that cannot be one is doubted", () => {
    expect(ids("SMP", "6.5", "6.9")).toEqual({ ids: ["2", "3"], doubts: [] });
    expect(ids("Buffer pH", "6.5", "68")).toEqual({ ids: ["2", "3"], doubts: ["buffer-ph-doubtful"] });
  });
});

describe("a sample without a row of the depth used", () => {
  const told = (file: SampleFile) =>
    readLabTable(file, { ...stated, "unit.P": "ppm", "unit.K": "ppm" }).notices.filter(
      ({ code }) => code === "sample-without-depth",
    );
  it("is named, by its id and its place", () => {
    const file = table(
      "id,lat,lon,Depth (in),P ppm,K ppm",
      "1,40.1,-84,0-6,20,150",
      "1,40.1,-84,6-12,9,120",
      "2,40.2,-84,6-12,8,110",
      // The same place under another number is not lost.
      "9,40.1,-84,6-12,8,110",
      "7,40.3,-84,6-12,8,110",
    );
    expect(told(file).map(({ message }) => message)).toEqual([
      "lab.csv: 2 samples have no result of 0-6in and are left out: 2, 7; ask the lab for that depth.",
    ]);
  });

  it("is named in a table with one row a test too", () => {
    const file = table(
      "id,lat,lon,depth_top_in,depth_bottom_in,analyte,value,unit",
      "1,40.1,-84,0,6,P M3,20,ppm",
      "1,40.1,-84,0,6,K M3,150,ppm",
      "2,40.2,-84,6,12,P M3,20,ppm",
      "2,40.2,-84,6,12,K M3,150,ppm",
    );
    expect(told(file).map(({ message }) => message)).toEqual([
      "lab.csv: 1 sample has no result of 0-6in and is left out: 2; ask the lab for that depth.",
    ]);
  });
});

describe("two depths side by side", () => {
  const wide = (unit: string) =>
    table(
      `id,lat,lon,CEC 6-12${unit},CEC 0-6${unit},P M3 ICP ppm 0-6${unit},P M3 ICP ppm 6-12${unit},K M3 ppm 0-6${unit},K M3 ppm 6-12${unit}`,
      "1,40.1,-84,18,14,32,13,176,123",
    );
  const read = (file: SampleFile, more: Record<string, string> = {}) =>
    readLabTable(file, { ...stated, ...more });

  it("the one from the surface is used and the other named", () => {
    const lab = read(wide(" in"));
    expect(lab.samples).toMatchObject([{ P: 32, K: 176, CEC: 14 }]);
    expect([lab.depth, lab.unused]).toEqual([
      "0-6in",
      ["CEC 6-12 in", "P M3 ICP ppm 6-12 in", "K M3 ppm 6-12 in"],
    ]);
    expect(lab.notices.map(({ message }) => message)).toEqual([
      "lab.csv: the columns of 0-6in are used; those of 6-12in are set aside.",
    ]);
    expect(read(wide(" in"), { depth: "6-12in" }).samples).toMatchObject([{ P: 13, K: 123, CEC: 18 }]);
  });

  it("without a unit the surface is used, and its depth stays open", () => {
    expect(read(wide(""))).toMatchObject({ depth: "", questions: [], samples: [{ P: 32, K: 176, CEC: 14 }] });
    expect(read(wide(""), { depth: "0-6in" }).depth).toBe("0-6in");
    expect(readLabTable(wide(""), stated, { depth: "always" }).questions.map(({ key }) => key)).toEqual([
      "depth",
    ]);
  });

  it("two columns of one test that differ by no depth are refused with a way that helps", () => {
    const two = table("id,lat,lon,P Mehlich 3 ppm,P M3 ppm,K M3 ppm", "1,40.1,-84,32,13,176");
    expect(refusal(two).remedy).toContain("column:lab.csv:P M3 ppm=other");
    const file = { ...two, chosen: { "P M3 ppm": { means: "other" as const, unit: null } } };
    expect(readLabTable(file, stated).samples).toMatchObject([{ P: 32 }]);
  });
});

it("says how a test in kg/ha is given where its unit is asked", () => {
  const [question] = readLabTable(
    table("id,lat,lon,P (Mehlich-3) kg/ha,K ppm", "1,40.1,-84,32,150"),
    stated,
  ).questions;
  expect([question!.key, question!.text]).toEqual([
    "unit.P",
    "In which unit is soil test P? Tests in kg/ha are not read: turn them into lb/ac first (1 kg/ha is 0.892 lb/ac), in a column that says so.",
  ]);
});

describe("positions in degrees and minutes", () => {
  it("are read from columns of their own, together", () => {
    const file = table(
      "id,Lat Deg,Lat Min,Lon Deg,Lon Min,P ppm,K ppm",
      "1,40,27.1456,-85,12.8090,28,176",
      "2,40,27.2029,-85,12.8054,25,187",
      "3,40,,-85,12.8054,25,187",
    );
    const lab = readLabTable(file, stated);
    expect(lab.questions).toEqual([]);
    expect(lab.samples.map(({ at }) => at)).toEqual([
      [-(85 + 12.809 / 60), 40 + 27.1456 / 60],
      [-(85 + 12.8054 / 60), 40 + 27.2029 / 60],
    ]);
    expect(lab.skipped).toEqual([{ record: 4, reason: "no position" }]);
    expect(lab.unused).toEqual([]);
    const seconds = table(
      "id,Latitude (deg),Latitude (min),Latitude (sec),Longitude (deg),Longitude (min),Longitude (sec),P ppm,K ppm",
      "1,40,27,8.736,-85,12,48.54,28,176",
    );
    const [at] = readLabTable(seconds, stated).samples.map((sample) => sample.at);
    expect(at![0]).toBeCloseTo(-(85 + 12.809 / 60), 9);
    expect(at![1]).toBeCloseTo(40 + 27.1456 / 60, 9);
  });

  it("are what the remedy says where neither way of writing was found", () => {
    const error = refusal(table("lat,lon,P ppm,K ppm", "here,there,28,176"));
    expect([error.code, error.remedy]).toEqual([
      "not-a-number",
      "Give decimal degrees, or degrees and minutes such as 40° 27.136' N; west and south with W and S or negative.",
    ]);
    expect(
      readLabTable(table("lat,lon,P ppm,K ppm", "40° 27.136' N,85° 12' W,28,176"), stated).samples,
    ).toHaveLength(1);
  });
});

describe("headings of lab tables", () => {
  // Headings and units: common practice; a lab's heading is taken only for what it says itself.
  it.each([
    ["P_ppm", "P", "ppm", null],
    ["P Mehlich-3 ICP (ppm)", "P", "ppm", "mehlich-3-icp"],
    ["P-M3 color. mg/kg", "P", "ppm", "mehlich-3-colorimetric"],
    ["Bray P1 ppm", "P", "ppm", "bray-p1"],
    ["Olsen P lbs/A", "P", "lb/ac", "olsen"],
    ["K NH4OAc ppm", "K", "ppm", "ammonium-acetate"],
    ["K Mehlich 3 lb/ac", "K", "lb/ac", "mehlich-3"],
    ["K", "K", null, null],
    ["CEC_meq_100g", "CEC", "meq/100g", null],
    ["K2O lb/ac", "K2O", "lb/ac", null],
    ["pH", "pH", null, null],
    ["Buffer pH", "bufferPH", null, null],
    ["Lab number", "labNumber", null, null],
    ["BpH", "bufferPH", null, null],
    ["SMP", "bufferPH", null, null],
    ["SMP pH", "bufferPH", null, null],
    ["SMP Index", "bufferPH", null, null],
    ["Buffer pH (Sikora)", "bufferPH", null, null],
    ["Buffer_pH", "bufferPH", null, null],
    ["Lime buffer capacity", "other", null, null],
    ["Buffer zone", "other", null, null],
    ["Smp ID", "sample", null, null],
    ["Smp No", "sample", null, null],
    ["Smp #", "sample", null, null],
    ["Point #", "sample", null, null],
    ["Point", "sample", null, null],
    ["Lab #", "labNumber", null, null],
    ["SAMP_NUM", "sample", null, null],
    ["Phosphorus Mehlich III ICP", "P", null, "mehlich-3-icp"],
    ["Mehlich 1 P ppm", "other", "ppm", null],
    ["P Mehlich-1 ppm", "P", "ppm", null],
    ["Strong Bray P2", "other", null, null],
    ["Bray P ppm", "P", "ppm", null],
    ["Bray 1 ppm", "P", "ppm", "bray-p1"],
    ["P (weak Bray) ppm", "P", "ppm", "bray-p1"],
    ["P1 ppm", "P", "ppm", null],
    ["Länge", "longitude", null, null],
    ["Probe Nr.", "sample", null, null],
    ["KAK meq/100g", "CEC", "meq/100g", null],
    ["Phosphor Mehlich 3 mg/kg", "P", "ppm", "mehlich-3"],
    ["Kalium mg/kg", "K", "ppm", null],
    ["Schlag", "field", null, null],
    ["Tiefe cm", "depth", "cm", null],
    ["Sample depth in", "depth", "in", null],
    ["Sample Depth (in)", "depth", "in", null],
    ["Depth (inches)", "depth", "in", null],
    ["Sampling depth", "depth", null, null],
    ["Longitude", "longitude", null, null],
    ["Zn ppm", "other", "ppm", null],
    ["NH4OAc K", "K", null, "ammonium-acetate"],
    ["NH4OAc K ppm", "K", "ppm", "ammonium-acetate"],
    ["Ammonium Acetate K ppm", "K", "ppm", "ammonium-acetate"],
    ["Ammonium acetate K", "K", null, "ammonium-acetate"],
    ["Amm. Acetate K (ppm)", "K", "ppm", "ammonium-acetate"],
    ["AA-K ppm", "K", "ppm", "ammonium-acetate"],
    ["K_AA", "K", null, "ammonium-acetate"],
    ["KPPM", "K", "ppm", null],
    ["PPM P", "P", "ppm", null],
    ["Mehlich III K ppm", "K", "ppm", "mehlich-3"],
    ["Exchangeable K ppm", "K", "ppm", null],
    ["BrayP1 ppm", "P", "ppm", "bray-p1"],
    ["BRAY_P1", "P", null, "bray-p1"],
    ["Bray P 1:7", "P", null, null],
    ["Sodium bicarbonate P ppm", "P", "ppm", "olsen"],
    ["K Base Sat %", "other", "%", null],
    ["% K Sat", "other", "%", null],
    ["P rec lb/ac", "other", "lb/ac", null],
    ["Sum of Cations me/100g", "CEC", "meq/100g", null],
    ["Cation exchange capacity", "CEC", null, null],
    ["1:1 Soil pH", "pH", null, null],
    ["Sikora buffer", "bufferPH", null, null],
    ["SampDate", "date", null, null],
    ["Beg Depth", "depthTop", null, null],
    ["End Depth (in)", "depthBottom", "in", null],
    ["NH4OAc Mg ppm", "other", "ppm", null],
  ])("%s", (heading, means, unit, method) => {
    expect(readHeading(heading, 0)).toMatchObject({ means, unit, method });
  });
});
