// RFC 4180 (from memory) unless a line says otherwise.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCsv, readNumber, writeCsv } from "../../src/formats/index.ts";
import { bytesOf, refusal, textOf } from "./support.ts";

const read = (text: string) => readCsv(bytesOf(text), "lab.csv");

describe("readCsv", () => {
  it("reads quotes, doubled quotes, commas and line breaks inside cells, counting every line of the file", () => {
    const table = read('id,note\r\n1,"a, ""b"""\r\n2,"two\r\nlines"\r\n3,\r\n');
    expect(table.headings).toEqual(["id", "note"]);
    expect(table.rows).toEqual([
      { line: 2, cells: ["1", 'a, "b"'] },
      { line: 3, cells: ["2", "two\r\nlines"] },
      { line: 5, cells: ["3", ""] },
    ]);
    expect(table.notices).toEqual([]);
  });

  it("reads LF, CR LF, lines ended by CR alone, and a last line without an end", () => {
    for (const end of ["\n", "\r\n", "\r"]) {
      expect(read(`a,b${end}1,2${end}3,4`).rows.map((row) => row.line)).toEqual([2, 3]);
    }
  });

  it("keeps cells as they stand, leading zeros and blanks too", () => {
    expect(read("id,p\n001, 5 \n").rows[0]?.cells).toEqual(["001", " 5 "]);
  });

  it("strips the byte-order mark and tells the encoding", () => {
    expect(read("\ufeffa,b\n1,2\n").headings).toEqual(["a", "b"]);
    const latin = new Uint8Array([0x61, 0x0a, 0xf1, 0x80, 0x0a]); // n with tilde and the euro sign in Windows-1252
    expect(readCsv(latin, "x.csv")).toMatchObject({ encoding: "windows-1252", rows: [{ cells: ["ñ€"] }] });
    const wide = new Uint8Array([0xff, 0xfe, 0x61, 0, 0x0a, 0, 0x31, 0]);
    expect(readCsv(wide, "x.csv")).toMatchObject({ encoding: "UTF-16LE", headings: ["a"] });
  });

  it("names the rows without text it left out, but not blank lines at the end", () => {
    expect(read("a,b\n1,2\n\n,\n3,4\n\n\n").notices).toEqual([
      { code: "blank-rows", message: "lines 3, 4 left out: no text in any cell", where: "lab.csv" },
    ]);
    expect(read("a,b\n1,2\n\n\n").notices).toEqual([]);
  });

  it("passes over words alone below the last row, with a notice, and no row cut short", () => {
    const table = read('id,P,K\n1,20,140\n\n"Comments: dry, sampled late"\nEnd of report\n\n');
    expect(table.rows.map(({ cells }) => cells)).toEqual([["1", "20", "140"]]);
    expect(table.notices).toEqual([
      {
        code: "below-rows",
        message: "line 4 below the rows passed over: “Comments: dry, sampled late”",
        where: "lab.csv",
      },
      { code: "below-rows", message: "line 5 below the rows passed over: “End of report”", where: "lab.csv" },
    ]);
    for (const cut of ["S114", "114", "2026-10-28 12:00", "Mill Lot,20"])
      expect(refusal(() => read(`id,P,K\n1,20,140\n${cut}\n`)).code).toBe("row-length");
    expect(refusal(() => read("id,P,K\nMill Lot\n1,20,140\n")).code).toBe("row-length");
  });

  it("takes no row for words that stands in another separator or in quotes as a whole", () => {
    const head = "id,field,P,K\n1,Mill Lot,20,140\n";
    for (const row of [
      "2\tMill Lot\t21\t150",
      "2;Mill Lot;21;150",
      '"2,Mill Lot,21,150"',
      "2|Mill Lot|21|n/a",
      "2 Mill 21 150",
    ]) {
      const { code, message } = refusal(() => read(`${head}${row}\n`));
      expect([code, message]).toEqual(["row-length", expect.stringContaining("line 3: 1 cell")]);
    }
    const legend = read(
      `${head}Legend:\nVL = very low; L = low; M = medium\n"Mehlich-3, ICP, 6 in., dry"\nSamples 1 to 48 of lab 7\n`,
    );
    expect(legend.rows).toHaveLength(1);
    expect(legend.notices.map(({ code }) => code)).toEqual(Array(4).fill("below-rows"));
  });

  it.each([
    ["unclosed-quote", 'a,b\n1,2\n3,"4\n5,6\n', "line 3"],
    ["text-after-quote", 'a,b\n1,"2"x\n', "line 2"],
    ["quote-in-cell", 'a,b\n1,2\n1,6" strip\n', "line 3"],
    ["stray-carriage-return", "a,b\n1,2\r3\n", "line 2"],
    ["row-length", "a,b\n1,2\n1,2,3\n", "line 3: 3 cells under 2 headings"],
    ["row-length", "a,b\n1\n", "line 2"],
    ["repeated-heading", "a,b, a\n1,2,3\n", '"a"'],
    ["no-headings", ",\n1,2\n", "line 1"],
    ["no-rows", "a,b\n", "no rows"],
    ["empty-file", "\r\n", "empty"],
  ])("refuses %s and says where", (code, text, where) => {
    const error = refusal(() => read(text));
    expect(error.code).toBe(code);
    expect(error.message).toContain("lab.csv");
    expect(error.message).toContain(where);
  });
});

describe("a row of units", () => {
  const read = (units: string) =>
    readCsv(new TextEncoder().encode(`id,lat,lon,P\n${units}\n1,40.1,-85.2,20\n`), "lab.csv");

  it.each(["deg min", "dd", "degrees", "WGS84", "decimal degrees", "DDM", "dd.ddddd", "deg/min/sec"])(
    "is one with “%s” over the positions",
    (words) => {
      const { units, rows } = read(`,${words},${words},ppm`);
      expect([units, rows.length]).toEqual([["", words, words, "ppm"], 1]);
    },
  );

  it("is none without a unit, or with other words in it", () => {
    expect(read(",dd,dd,").units).toBeNull();
    expect(read(",north,west,ppm").units).toBeNull();
  });
});

describe("readNumber", () => {
  it.each([
    ["5", 5],
    [" -12.50 ", -12.5],
    [".5", 0.5],
    ["5.", 5],
    ["+1e3", 1000],
    ["0", 0],
  ])("reads %j", (text, value) => expect(readNumber(text)).toBe(value));

  it.each(["", " ", "1,020", "90,5", "<5", "0x10", "Infinity", "NaN", "1e999", "5 ppm", "--5", "1 000", "."])(
    "does not read %j",
    (text) => expect(readNumber(text)).toBeNull(),
  );
});

describe("writeCsv", () => {
  it("ends lines in CR LF and quotes only where it must", () => {
    const bytes = writeCsv(
      ["name", "rate"],
      [
        ['a "b", c', 0.1],
        [null, -2.5],
        ["two\nlines", 1e21],
      ],
    );
    expect(textOf(bytes)).toBe('name,rate\r\n"a ""b"", c",0.1\r\n,-2.5\r\n"two\nlines",1e+21\r\n');
  });

  it("guards texts a spreadsheet would run, not numbers (common practice)", () => {
    const rows = ["=1+1", "+a", "-a", "@a", "-5.00", "a=b", "plain"].map((text) => [text]);
    const lines = textOf(writeCsv(["x"], [...rows, [-5]])).split("\r\n");
    expect(lines.slice(1, -1)).toEqual(["'=1+1", "'+a", "'-a", "'@a", "-5.00", "a=b", "plain", "-5"]);
  });

  it("reads back what it wrote, whatever the cells hold", () => {
    const cell = fc
      .string({ unit: fc.constantFrom('"', ",", "\n", "\r\n", "a", "ñ", " ", "北", "'", "0") })
      .filter((text) => text.trim() !== "" && !text.startsWith("\r")); // a leading CR is guarded
    const table = fc
      .integer({ min: 1, max: 4 })
      .chain((width) => fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1 }));
    fc.assert(
      fc.property(table, (rows) => {
        const headings = rows[0]!.map((_, i) => `h${i}`);
        expect(readCsv(writeCsv(headings, rows), "x.csv").rows.map((row) => row.cells)).toEqual(rows);
      }),
      { seed: 20260415, numRuns: 300 },
    );
  });

  it("crashes on a row of another length and on NaN", () => {
    expect(() => writeCsv(["a", "b"], [["1"]])).toThrow("row 1 has 1 cells under 2 headings");
    expect(() => writeCsv(["a"], [[Number.NaN]])).toThrow("NaN");
  });
});
