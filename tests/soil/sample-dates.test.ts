// A date that can be read two ways is asked about, one that cannot be read is named; none is passed over.
import { expect, it } from "vitest";
import { readLabTable, type SampleFile } from "../../src/soil/index.ts";

const answers = { "method.P": "mehlich-3", "method.K": "mehlich-3", depth: "0-8in" };

function dated(...days: string[]): SampleFile {
  return {
    name: "lab.csv",
    headings: ["lat", "lon", "Date Sampled", "P ppm", "K ppm"],
    rows: days.map((day, i) => ({ line: i + 2, cells: [`40.${i + 1}`, "-85.2", day, "20", "150"] })),
  };
}

const read = (file: SampleFile, more: Record<string, string> = {}) =>
  readLabTable(file, { ...answers, ...more });

it("asks which number is the month where no row tells, and takes the answer", () => {
  const open = read(dated("11/03/2026", "11/04/2026"));
  expect(open.questions).toEqual([
    {
      key: "date-order",
      text: "Dates with the month first or the day first?",
      choices: ["month-first", "day-first"],
      seen: "lab.csv, column “Date Sampled”: 11/03/2026, 11/04/2026",
    },
  ]);
  expect(read(dated("11/03/2026"), { "date-order": "month-first" })).toMatchObject({
    questions: [],
    dates: ["2026-11-03", "2026-11-03"],
    unreadDates: [],
  });
  expect(read(dated("11/03/2026"), { "date-order": "day-first" }).dates).toEqual([
    "2026-03-11",
    "2026-03-11",
  ]);
  expect(read(dated("11/03/2026"), { "date-order": "never" }).questions[0]!.text).toMatch(/“never”/);
});

it("asks nothing where a row tells, or where both ways are one day", () => {
  expect(read(dated("11/03/2026", "11/23/2026"))).toMatchObject({
    questions: [],
    dates: ["2026-11-03", "2026-11-23"],
  });
  expect(read(dated("23.11.2026", "03.11.2026")).dates).toEqual(["2026-11-03", "2026-11-23"]);
  expect(read(dated("11/11/2026", "2026-11-12"))).toMatchObject({
    questions: [],
    dates: ["2026-11-11", "2026-11-12"],
  });
  expect(readLabTable(dated("11/03/2026"), answers, { isDated: true }).questions).toEqual([]);
});

it("names what is no date that can be read", () => {
  const lab = read(dated("11/23/26", "spring", "2026-11-03"));
  expect(lab).toMatchObject({ questions: [], dates: null, unreadDates: ["11/23/26", "spring"] });
  const [notice] = lab.notices.filter(({ code }) => code === "date-not-read");
  expect(notice!.message).toBe(
    "lab.csv, column “Date Sampled”: “11/23/26”, “spring” (2 rows) not read as a date; write year, month, day, such as 2026-11-03.",
  );
  // Days that contradict each other: no answer could make sense of both.
  expect(read(dated("11/23/2026", "23/11/2026")).unreadDates).toHaveLength(2);
  expect(read(dated("11/23/2026", "23/11/2026")).questions).toEqual([]);
  // A cell typed again is read.
  expect(read(dated("11/23/26"), { "mend:lab.csv:2:Date Sampled": "2026-11-23" }).dates).toEqual([
    "2026-11-23",
    "2026-11-23",
  ]);
});
