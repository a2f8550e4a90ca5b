import { describe, expect, it } from "vitest";
import { readLabTable, type SampleFile, sampleRecords } from "../../src/soil/index.ts";
import { refusal, stated, table } from "../support/lab-table.ts";

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
      "lab.csv: 2 values of P and 1 of K are outside what the lab can see; half of a lower limit is taken, an upper limit itself.",
    ]);
  });

  it("doubt a test of 0 and a pH that no soil has, by line", () => {
    const file = table(
      "id,lon,lat,P_ppm,K_ppm,CEC,pH",
      "1,-93.5,42.1,14,180,17.5,6.4",
      "2,-93.4,42.1,0,0.0,0,64",
      "3,-93.3,42.1,9,0,12,6",
    );
    const told = readLabTable(file, { ...stated, depth: "0-8in" });
    expect(told.notices.map(({ message, where }) => [message, where])).toEqual([
      [
        "lab.csv, line 3, column “pH”: 64 is no pH of a soil (3 to 11); left out. pH changes no rate.",
        "lab.csv",
      ],
      [
        "lab.csv, line 3: P is 0: 0, or not measured? It counts as 0; leave the cell empty where nothing was measured.",
        "lab.csv, line 3",
      ],
      [
        "lab.csv, lines 3 and 4: K is 0: 0, or not measured? It counts as 0; leave the cell empty where nothing was measured.",
        "lab.csv, line 3",
      ],
      [
        "lab.csv, line 3: CEC is 0: 0, or not measured? It counts as 0; leave the cell empty where nothing was measured.",
        "lab.csv, line 3",
      ],
    ]);
    expect(told.samples.map(({ P }) => P)).toEqual([14, 0, 9]);
    expect([...sampleRecords(file).values()].map(({ pH }) => pH)).toEqual([6.4, null, 6]);
  });

  it("name the columns nothing was taken from, and of two capacities take the one called CEC", () => {
    const headings = "id,lon,lat,P_ppm,K_ppm,Sum of Cations,CEC,Zn ppm,K Sat %";
    const lab = readLabTable(table(headings, "A1,-93.5,42.1,14,180,22,17.5,1.1,2.6"), stated);
    expect(lab.unused).toEqual(["Sum of Cations", "Zn ppm", "K Sat %"]);
    expect(lab.samples[0]).toMatchObject({ K: 180, CEC: 17.5 });
  });

  it("oxides beside the elements, and a second extractant, are named as not used", () => {
    const headings =
      "id,lon,lat,P_Bray1_ppm,P_Olsen_ppm,K_ppm,CEC,P2O5 (kg/ha),K2O (kg/ha),P2O5_Rec_lbs,K2O_Rec_lbs";
    const file = table(headings, "A1,-93.5,42.1,14,9,180,17.5,60,36,44,67");
    const lab = readLabTable(file, { ...stated, "method.P": "bray-p1" });
    expect([lab.questions, lab.samples[0]!.P]).toEqual([[], 14]);
    expect(lab.unused).toEqual(["P_Olsen_ppm", "P2O5 (kg/ha)", "K2O (kg/ha)", "P2O5_Rec_lbs", "K2O_Rec_lbs"]);
    // An oxide that is read in place of an element is used.
    const oxide = readLabTable(table("id,lon,lat,P2O5 ppm,K_ppm", "A1,-93.5,42.1,32,180"), {
      ...stated,
      oxide: "oxide",
    });
    expect(oxide.unused).toEqual([]);
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
      "lab.csv, line 2: K is 0: 0, or not measured? It counts as 0; leave the cell empty where nothing was measured.",
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
    // The laboratory's own number stands first, and the sample's is what is joined by.
    expect(asked(table("Lab No.,Sample ID,P ppm,K ppm", "40210,N-01,14,180"))).toEqual([
      ["join-points", "lab.csv: no latitude and longitude; column “Sample ID”: N-01"],
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
    expect(open.questions[0]!.choices).toEqual(["mean", "first", "drop"]);
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

  it("at one place and more than 60 days apart are two visits; what differs within one is asked with its days", () => {
    const head = "id,date,lon,lat,P ppm,K ppm";
    const rows = ["1,2023-10-18,-93.5,42.1,14,180", "2,2023-10-18,-93.4,42.1,16,170"];
    const later = ["1,2026-11-02,-93.5,42.1,20,190", "2,2026-11-02,-93.40001,42.1,16,170"];
    const both = readLabTable(table(head, ...rows, ...later), stated);
    expect([both.questions, both.skipped]).toEqual([[], []]);
    expect(both.samples.map(({ line, P }) => [line, P])).toEqual([
      [2, 14],
      [3, 16],
      [4, 20],
      [5, 16],
    ]);
    // An id of both visits that lies a step aside is no doubt.
    expect(both.notices.map(({ code }) => code)).not.toContain("sample-id-repeated");
    const soon = table(head, ...rows, "3,2026-11-02,-93.5,42.1,20,190", "3,2026-11-09,-93.5,42.1,22,190");
    expect(readLabTable(soon, stated).questions.map(({ key, seen }) => [key, seen])).toEqual([
      [
        "same-place",
        "lab.csv, line 4 (2026-11-02): P 20, K 190, CEC none; line 5 (2026-11-09): P 22, K 190, CEC none",
      ],
    ]);
    const newest = readLabTable(soon, { ...stated, "same-place": "newest" });
    expect(newest.samples.map(({ line, P }) => [line, P])).toEqual([
      [2, 14],
      [3, 16],
      [5, 22],
    ]);
    expect(readLabTable(soon, stated).questions[0]!.choices).toEqual(["mean", "first", "newest", "drop"]);
    // 60 days are one visit still, 61 are two; a day typed in the plan makes all of them one.
    const apart = (day: string) =>
      table(head, "1,2026-09-01,-93.5,42.1,14,180", `1,${day},-93.5,42.1,20,190`);
    const keys = (file: SampleFile, wants = {}) =>
      readLabTable(file, stated, wants).questions.map(({ key }) => key);
    expect([keys(apart("2026-10-31")), keys(apart("2026-11-01"))]).toEqual([["same-place"], []]);
    expect(keys(apart("2026-11-01"), { isDated: true })).toEqual(["same-place"]);
    // Which day comes first is asked before the place.
    const either = table(head, "1,03/04/2024,-93.5,42.1,14,180", "1,05/06/2026,-93.5,42.1,20,190");
    expect(keys(either)).toEqual(["date-order"]);
    expect(readLabTable(either, { ...stated, "date-order": "day-first" }).samples).toHaveLength(2);
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
    const named = table("Field Name,Nr,P ppm,K ppm", "North,1,20,150");
    expect(readLabTable(named, stated).questions[0]!.text).toMatch(
      /whole field, a copy of the boundaries .* \(column:lab\.csv:Field Name=sample\)\.$/,
    );
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
