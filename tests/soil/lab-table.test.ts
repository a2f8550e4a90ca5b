import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { readHeading, readLabTable, type SampleFile } from "../../src/soil/index.ts";

const stated = { "method.P": "mehlich-3", "method.K": "mehlich-3" };

function table(headings: string, ...rows: string[]): SampleFile {
  return {
    name: "lab.csv",
    headings: headings.split(","),
    rows: rows.map((row, i) => ({ line: i + 2, cells: row.split(",") })),
  };
}

function refusal(file: SampleFile): InputError {
  try {
    readLabTable(file, stated);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("was read");
}

describe("headings with dots", () => {
  it.each([
    ["C.E.C.", "CEC", null, null],
    ["C.E.C (meq/100g)", "CEC", "meq/100g", null],
    ["O.M. (%)", "OM", "%", null],
    ["Mehlich-3 P p.p.m.", "P", "ppm", "mehlich-3"],
    ["M3-K lbs./ac.", "K", "lb/ac", "mehlich-3"],
    ["K Amm. Acet. ppm", "K", "ppm", "ammonium-acetate"],
    ["Samp. No.", "sample", null, null],
    ["P.ppm", "P", "ppm", null],
    ["Sat. K", "other", null, null],
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
    ["Beg Depth", "depthTop", null, null],
    ["End Depth (in)", "depthBottom", "in", null],
    ["NH4OAc Mg ppm", "other", "ppm", null],
  ])("%s", (heading, means, unit, method) => {
    expect(readHeading(heading, 0)).toMatchObject({ means, unit, method });
  });
});

describe("lab tables", () => {
  it("take the depth from two columns, top and bottom", () => {
    const rows = ["A1,-93.5,42.1,0,6,14,180", "A2,-93.4,42.1,0,6,14,180", "A1,-93.5,42.1,6,24,4,80"];
    const named = table("id,lon,lat,Beg Depth (in),End Depth (in),P_ppm,K_ppm", ...rows);
    const lab = readLabTable(named, stated, { depth: "always" });
    expect([lab.depth, lab.setAside, lab.samples.length]).toEqual(["0-6in", 1, 2]);
    // Without a unit the depth is asked, with what stands there.
    const bare = table("id,lon,lat,Beg Depth,End Depth,P_ppm,K_ppm", ...rows.slice(0, 2));
    const asked = readLabTable(bare, stated, { depth: "always" }).questions;
    expect(asked.map(({ key, seen }) => [key, seen.includes("0-6")])).toEqual([["depth", true]]);
    expect(readLabTable(bare, { ...stated, depth: "0-6in" }, { depth: "always" }).depth).toBe("0-6in");
  });

  it("tell an id that stands at several places, with its lines, unless fields tell them apart", () => {
    const rows = [
      "A1,n,-93.5,42.1,14,180",
      "A1,n,-93.4,42.1,15,170",
      "A2,n,-93.3,42.1,15,170",
      "A2,s,-93.2,42.1,15,170",
    ];
    const repeats = (headings: string) =>
      readLabTable(table(headings, ...rows), stated)
        .notices.filter(({ code }) => code === "sample-id-repeated")
        .map(({ message }) => message);
    const told = "lab.csv: one id at several places: A1 (lines 2, 3)";
    expect(repeats("id,field,lon,lat,P_ppm,K_ppm")).toEqual([`${told}; each is used where it lies.`]);
    expect(repeats("id,Crew,lon,lat,P_ppm,K_ppm")[0]).toContain(`${told}, A2 (lines 4, 5)`);
    expect(repeats("Crew,Depth in,lon,lat,P_ppm,K_ppm")).toEqual([]);
  });

  it("say how many values are outside what the lab can see, and what is taken", () => {
    const few = table(
      "id,lon,lat,P_ppm,K_ppm",
      "1,-93.5,42.1,<5,180",
      "2,-93.4,42.1,<5,>800",
      "3,-93.3,42.1,9,190",
    );
    const told = readLabTable(few, stated).notices.filter(({ code }) => code === "tests-censored");
    expect(told.map(({ message }) => message)).toEqual([
      "lab.csv: 2 values of P are outside what the lab can see; half of a lower limit is taken, an upper limit itself.",
    ]);
  });

  it("name the columns nothing was taken from, and of two capacities take the one called CEC", () => {
    const headings = "id,lon,lat,P_ppm,K_ppm,Sum of Cations,CEC,Zn ppm,K Sat %";
    const lab = readLabTable(table(headings, "A1,-93.5,42.1,14,180,22,17.5,1.1,2.6"), stated);
    expect(lab.unused).toEqual(["Sum of Cations", "Zn ppm", "K Sat %"]);
    expect(lab.samples[0]).toMatchObject({ K: 180, CEC: 17.5 });
  });

  it("read samples and say what was taken from where", () => {
    const lab = readLabTable(
      table("id,lon,lat,P_ppm,K_ppm,CEC meq/100g", "A1,-93.5,42.1,14,180,17.5"),
      stated,
    );
    expect(lab.questions).toEqual([]);
    expect(lab.samples).toEqual([
      { id: "A1", line: 2, at: [-93.5, 42.1], field: null, P: 14, K: 180, CEC: 17.5 },
    ]);
    expect(lab.tests.P).toEqual({ heading: "P_ppm", unit: "ppm", method: "mehlich-3", saidBy: "answer" });
    expect(lab.notices.map((notice) => notice.code)).toEqual(["depth-not-stated"]);
  });

  it("say that a unit was answered where the heading says the extractant alone", () => {
    const lab = readLabTable(table("id,lon,lat,P Mehlich-3,K Mehlich-3 ppm", "A1,-93.5,42.1,14,180"), {
      ...stated,
      "unit.P": "ppm",
    });
    expect(lab.questions).toEqual([]);
    expect([lab.tests.P!.saidBy, lab.tests.K!.saidBy]).toEqual(["answer", "heading"]);
  });

  it("ask for unit and extractant when headings do not say them, and take no default", () => {
    const lab = readLabTable(table("id,lon,lat,P,K", "A1,-93.5,42.1,14,180"), {});
    expect(lab.samples).toEqual([]);
    expect(lab.questions.map((question) => question.key)).toEqual([
      "unit.P",
      "method.P",
      "unit.K",
      "method.K",
    ]);
    expect(lab.questions[0]!.seen).toBe("lab.csv, column “P”: 14");
  });

  it("halve lb/ac to ppm, once the depth is known", () => {
    // 1 ppm = 2 lb/ac in a slice of 6 2/3 to 7 in.: Penn State Agronomy Guide, soil testing page (second-hand).
    const file = table("lon,lat,P lb/ac,K lb/ac", "-93.5,42.1,30,300");
    expect(readLabTable(file, stated).questions.map((question) => question.key)).toEqual(["depth"]);
    const lab = readLabTable(file, { ...stated, depth: "0-7in" });
    expect(lab.samples[0]).toMatchObject({ P: 15, K: 150 });
    expect(lab.notices.map((notice) => notice.code)).toEqual(["lb-per-ac-to-ppm", "lb-per-ac-to-ppm"]);
  });

  it("keep no value apart from zero, and name censored values", () => {
    const lab = readLabTable(
      table("lon,lat,P ppm,K ppm,depth", "-93.5,42.1,,0,0-8in", "-93.51,42.1,<5,>400,0-8 in."),
      stated,
    );
    expect(lab.samples).toMatchObject([
      { P: null, K: 0 },
      { P: 2.5, K: 400 },
    ]);
    expect(lab.depth).toBe("0-8in");
    expect(lab.notices.map((notice) => notice.message)).toEqual([
      "lab.csv, line 2: no value for P; counted as none.",
      "lab.csv, line 3: P “<5” is outside what the lab can see; 2.5 is used.",
      "lab.csv, line 3: K “>400” is outside what the lab can see; 400 is used.",
    ]);
  });

  it("refuse what is wrong, naming file, line, column and value", () => {
    expect(refusal(table("id,lon,lat,P ppm", "A,-93.5,42.1,14")).message).toBe(
      "lab.csv: no column for K among “id”, “lon”, “lat”, “P ppm”.",
    );
    expect(refusal(table("lon,lat,P ppm,K ppm", "-93.5,42.1,14,-3")).message).toBe(
      "lab.csv, line 2, column K ppm: -3 is below zero.",
    );
    expect(refusal(table("lon,lat,P ppm,K ppm", "-93.5,42.1,1e9,180")).message).toBe(
      "lab.csv, line 2, column P ppm: 1e9 is more than any soil test shows.",
    );
    expect(refusal(table("lon,lat,P ppm,P2 ppm,K ppm,p ppm", "-93.5,42.1,1,2,3,4")).code).toBe(
      "repeated-test",
    );
    expect(refusal(table("lon,lat,P ppm,K ppm", "here,42.1,14,180")).code).toBe("not-a-number");
  });

  it("ask about values and places that cannot stand as they are, and name them", () => {
    const asked = (file: SampleFile) =>
      readLabTable(file, stated).questions.map(({ key, seen }) => [key, seen]);
    expect(asked(table("lon,lat,P ppm,K ppm", "-93.5,42.1,2l.4,180"))).toEqual([
      ["unreadable-value", "lab.csv, line 2, column P ppm: “2l.4” is not a number."],
    ]);
    expect(asked(table("lon,lat,P ppm,K ppm", "42.1,-93.5,14,180"))).toEqual([
      ["swap-lon-lat", "lab.csv, line 2: latitude -93.5 is impossible; longitude and latitude look swapped."],
    ]);
    expect(asked(table("lon,lat,P2O5 ppm,K ppm", "-93.5,42.1,14,180"))[0]![0]).toBe("oxide");
    expect(asked(table("id,P ppm,K ppm", "7,14,180"))).toEqual([
      ["join-points", "lab.csv: no latitude and longitude; column “id”: 7"],
    ]);
  });

  it("settle samples at one place: repeats are one, different values are a question", () => {
    const file = table(
      "id,lon,lat,P ppm,K ppm",
      "1,-93.5,42.1,14,180",
      "2,-93.5,42.1,14,180",
      "3,-93.5,42.1,20,190",
    );
    const open = readLabTable(file, stated);
    expect(open.questions.map((question) => question.key)).toEqual(["same-place"]);
    expect(open.questions[0]!.seen).toContain("line 2: P 14, K 180, CEC none; line 3:");
    const answered = (answer: string) => readLabTable(file, { ...stated, "same-place": answer }).samples;
    expect(answered("first")).toMatchObject([{ id: "1", P: 14, K: 180 }]);
    expect(answered("mean")[0]!.P).toBeCloseTo(16, 12);
    expect(answered("drop")).toEqual([]);
    const repeat = readLabTable({ ...file, rows: file.rows.slice(0, 2) }, stated);
    expect(repeat.samples).toHaveLength(1);
    expect(repeat.notices.map((notice) => notice.message)).toContain(
      "lab.csv, lines 2, 3: the same sample 2 times; one is kept.",
    );
  });

  it("of several depths at one place ask for the depth first, and for the place only if it still stands then", () => {
    const rows = [
      "1,-93,42,0-8,20,150",
      "1,-93,42,0-2,48,150",
      "2,-93.1,42,0-8,22,160",
      "2,-93.1,42,0-2,50,160",
    ];
    const file = table("id,lon,lat,depth in,P ppm,K ppm", ...rows);
    const keys = (answers: Record<string, string>, of = file) =>
      readLabTable(of, { ...stated, ...answers }, { depth: "always" }).questions.map(({ key }) => key);
    expect(keys({})).toEqual(["depth"]);
    expect(keys({ depth: "0-8in" })).toEqual([]);
    const twice = table("id,lon,lat,depth in,P ppm,K ppm", ...rows, "3,-93,42,0-8,31,150");
    expect(keys({}, twice)).toEqual(["depth"]);
    expect(keys({ depth: "0-8in" }, twice)).toEqual(["same-place"]);
  });

  it("that say how deep alone, not from where, ask with the surface as likely", () => {
    const asked = (...depths: string[]) =>
      readLabTable(
        table(
          "id,lon,lat,Depth,P_ppm,K_ppm",
          ...depths.map((depth, i) => `${i},-93.${i},42,${depth},20,150`),
        ),
        stated,
        { depth: "always" },
      ).questions.map(({ key, likely }) => [key, likely]);
    expect(asked("8 in", "8 in")).toEqual([["depth", "0-8in"]]);
    expect(asked("20 cm")).toEqual([["depth", "0-20cm"]]);
    expect(asked("8")).toEqual([["depth", undefined]]);
    expect(asked("8 in", "6 in")).toEqual([["depth", undefined]]);
  });

  it("of several depths without a unit are not mixed: the depth is asked, and its unit is the answer's", () => {
    const two = ["0-6", "6-12"].flatMap((depth, i) =>
      [1, 2].map((n) => `${n},-93.${n},42,${depth},${i === 0 ? 22 : 9},150`),
    );
    const read = (depths: readonly string[], depth?: string) =>
      readLabTable(table("id,lon,lat,Depth,P ppm,K ppm", ...depths), {
        ...stated,
        ...(depth === undefined ? {} : { depth }),
      });
    expect(read(two).questions).toMatchObject([
      { key: "depth", choices: ["0-6in", "0-6cm", "6-12in", "6-12cm"] },
    ]);
    const lab = read(two, "0-6in");
    expect([lab.depth, lab.setAside, lab.samples.map(({ P }) => P)]).toEqual(["0-6in", 2, [22, 22]]);
    const other = read(two, "0-8in").questions;
    expect(other.map(({ key, text }) => [key, text.includes("“0-8in” was answered")])).toEqual([
      ["depth", true],
    ]);
    const bare = ["1,-93.1,42,8,22,150", "2,-93.2,42,6,9,150"];
    expect(read(bare).questions.map(({ key }) => key)).toEqual(["depth"]);
    expect(read(bare, "0-8in").samples.map(({ P }) => P)).toEqual([22]);
    expect(read(["1,-93.1,42,0-8,22,150"]).notices.map(({ message }) => message)).toEqual([
      "lab.csv: sampling depth “0-8” stands without a unit; guides are for cores of a given depth: compare.",
    ]);
    const one = table("id,lon,lat,Sample Depth (in),P ppm,K ppm", "1,-93.1,42,8,22,150");
    expect(readLabTable(one, stated).notices.map(({ message }) => message)).toEqual([
      "lab.csv: sampling depth “8” does not say from where, likely 0-8in (answer depth=0-8in); guides are for cores of a given depth: compare.",
    ]);
    const blank = ["1,-93.1,42,0-8 in,22,150", "2,-93.2,42,,9,150"];
    expect(read(blank).questions.map(({ key }) => key)).toEqual(["depth"]);
    expect(read(blank, "0-8in").samples.map(({ P }) => P)).toEqual([22]);
  });

  it("of zones without positions ask for points or say that polygons serve, by the column that names the zone", () => {
    const file = table("Zone,P ppm,K ppm", "A,20,150", "B,30,160");
    const [question] = readLabTable(file, stated).questions;
    expect(question).toMatchObject({
      key: "join-points",
      text: expect.stringMatching(/polygons with these ids serve as well/),
      seen: "lab.csv: no latitude and longitude; column “Zone”: A, B",
    });
    const points = {
      name: "points.csv",
      points: [
        { id: "A", field: null, at: [-93, 42] as const },
        { id: "B", field: null, at: [-93.01, 42] as const },
      ],
    };
    expect(readLabTable(file, stated, { points }).samples.map(({ id, at }) => [id, at[0]])).toEqual([
      ["A", -93],
      ["B", -93.01],
    ]);
  });
});
