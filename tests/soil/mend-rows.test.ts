import { describe, expect, it } from "vitest";
import { leaveOutKey, mendKey, readLabTable, type SampleFile } from "../../src/soil/index.ts";

const stated = { "method.P": "mehlich-3", "method.K": "mehlich-3" };
const file: SampleFile = {
  name: "lab: a.csv",
  headings: ["lat", "lon", "P ppm", "K ppm"],
  rows: [
    { line: 2, cells: ["41.1", "-86.1", "20", "150"] },
    { line: 3, cells: ["41.1001", "-86.1001", "2l.4", "160"] },
    { line: 4, cells: ["41.1002", "-86.1002", "22", "170"] },
  ],
};

describe("mended rows of a lab table", () => {
  it("asks for a text that is no number, and takes what is typed in its place", () => {
    expect(readLabTable(file, stated).questions.map(({ key }) => key)).toEqual(["unreadable-value"]);
    const mended = readLabTable(file, { ...stated, [mendKey(file.name, 3, "P ppm")]: "21.4" });
    expect(mended.questions).toEqual([]);
    expect(mended.samples.map(({ P }) => P)).toEqual([20, 21.4, 22]);
    expect(mended.notices).toContainEqual({
      code: "value-mended",
      message: "lab: a.csv, line 3, column P ppm: “2l.4” is read as 21.4, as typed.",
      where: "lab: a.csv, line 3",
    });
    expect(file.rows[1]!.cells[2]).toBe("2l.4");
  });

  it("leaves a row out with the reason given", () => {
    const left = readLabTable(file, { ...stated, [leaveOutKey(file.name, 3)]: "bag was torn" });
    expect(left.samples.map(({ line }) => line)).toEqual([2, 4]);
    expect(left.notices.map(({ message }) => message)).toContain(
      "lab: a.csv, line 3 is left out: bag was torn.",
    );
  });

  it("leaves other files alone", () => {
    const other = { ...stated, [mendKey("b.csv", 3, "P ppm")]: "9" };
    expect(readLabTable(file, other).questions.map(({ key }) => key)).toEqual(["unreadable-value"]);
  });

  it.each([mendKey(file.name, 9, "P ppm"), mendKey(file.name, 3, "P"), leaveOutKey(file.name, 9)])(
    "refuses an answer for a place that is not there: %s",
    (key) => {
      expect(() => readLabTable(file, { ...stated, [key]: "1" })).toThrow(
        expect.objectContaining({ code: "no-such-cell" }),
      );
    },
  );
});
