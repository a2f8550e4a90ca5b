import { describe, expect, test } from "vitest";
import { sampleRecords } from "../../src/soil/index.ts";

const table = (headings: string, ...rows: string[]) => ({
  headings: headings.split(","),
  rows: rows.map((row, i) => ({ line: i + 2, cells: row.split(",") })),
});

describe("what a lab table says besides P, K and CEC", () => {
  test("pH, buffer pH, organic matter, date and laboratory, by line", () => {
    const records = sampleRecords(
      table(
        "Lab,Date,pH,Buffer pH,OM (%),P ppm",
        "North,2026-10-27,7.2,,2.6,43",
        "North,2026-10-28,6.3,6.6,3,20",
      ),
    );
    expect(records.get(2)).toEqual({
      pH: 7.2,
      bufferPH: null,
      organicMatter: 2.6,
      date: "2026-10-27",
      lab: "North",
    });
    expect(records.get(3)).toMatchObject({ bufferPH: 6.6, date: "2026-10-28" });
  });

  test("decimal commas are read as such; where the same columns have points too, a comma is doubtful", () => {
    const semicolons = (...rows: string[]) => ({
      headings: ["pH", "OM (%)", "P ppm"],
      rows: rows.map((row, i) => ({ line: i + 2, cells: row.split(";") })),
    });
    const commas = sampleRecords(semicolons("6,4;4,19;12,5", "7;3,95;14"));
    expect([2, 3].map((line) => [commas.get(line)!.pH, commas.get(line)!.organicMatter])).toEqual([
      [6.4, 4.19],
      [7, 3.95],
    ]);
    const both = sampleRecords(semicolons("6,4;4.19;12.5", "7.1;3.95;14"));
    expect([2, 3].map((line) => both.get(line)!.pH)).toEqual([null, 7.1]);
  });

  test("slashes are read where a day above 12 tells month from day, else left out", () => {
    const dates = (...rows: string[]) =>
      [...sampleRecords(table("date,P", ...rows)).values()].map((record) => record.date);
    expect(dates("10/27/2026,1", "11/2/2026,1")).toEqual(["2026-10-27", "2026-11-02"]);
    expect(dates("27.10.2026,1")).toEqual(["2026-10-27"]);
    expect(dates("10/11/2026,1")).toEqual([null]);
    expect(dates("11/11/2026,1")).toEqual(["2026-11-11"]);
    const said = (order: string) =>
      [...sampleRecords(table("date,P", "11/03/2026,1"), { "date-order": order }).values()][0]!.date;
    expect([said("month-first"), said("day-first")]).toEqual(["2026-11-03", "2026-03-11"]);
    expect(dates("2026-10-27T08:00,1", "soon,1", "2026-13-01,1")).toEqual(["2026-10-27", null, null]);
  });

  test("text that is no number, and tables without the columns, give nothing and refuse nothing", () => {
    expect(sampleRecords(table("pH,P", "n/a,1", "<5,1", "6,3,1")).get(3)?.pH).toBeNull();
    expect(sampleRecords(table("P", "1")).get(2)).toEqual({
      pH: null,
      bufferPH: null,
      organicMatter: null,
      date: null,
      lab: null,
    });
  });

  test("a table with one row a test tells them by the sample, from the surface where it has several depths", () => {
    const records = sampleRecords(
      table(
        "sample,date,analyte,value,unit,depth_top_in,depth_bottom_in",
        "1,2026-10-27,P,17.7,ppm,0,6",
        "1,2026-10-27,pH,7.9,,6,12",
        "1,2026-10-27,pH,6.3,,0,6",
        "1,,Buffer pH,6.7,,0,6",
        "1,,Organic matter,3.1,%,0,6",
        "2,2026-10-28,P,20,ppm,0,6",
      ),
    );
    const first = { pH: 6.3, bufferPH: 6.7, organicMatter: 3.1, date: "2026-10-27", lab: null };
    for (const line of [2, 3, 4, 5, 6]) expect(records.get(line)).toEqual(first);
    expect(records.get(7)).toMatchObject({ pH: null, date: "2026-10-28" });
  });
});
