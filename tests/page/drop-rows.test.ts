import { expect, it } from "vitest";
import { readFiles } from "../../app/src/engine/read-files.ts";

it("what the lab could not see and samples that count without a value are told before anything is answered", () => {
  const lines = [
    "Sample ID,Latitude,Longitude,P Bray P1 (ppm),K Mehlich-3 (ppm)",
    "1,42.1,-92.1,12,150",
    "2,42.2,-92.2,<5,160",
    "3,42.3,-92.3,,170",
    "4,42.4,-92.4,2l,180",
  ];
  const [read] = readFiles([["lab.csv", new TextEncoder().encode(lines.join("\n"))]], {});
  expect(read?.censored).toEqual(["line 3: P “<5” is outside what the lab can see; 2.5 is used."]);
  expect(read?.bad.map(({ line, counts }) => [line, counts])).toEqual([
    [4, true],
    [5, false],
  ]);
});

it("a log of work done is none of the plan's files, and its place is named", () => {
  const lines = [
    "Time,Longitude,Latitude,Width (ft),Target Rate (lb/ac),Applied Rate (lb/ac)",
    ...[0, 1, 2, 3].map((k) => `2027-04-14T08:00:0${k}Z,-93.1,42.${k}0001,30,150,148`),
  ];
  const [read] = readFiles([["strips.csv", new TextEncoder().encode(lines.join("\n"))]], {});
  expect([read?.as, read?.unfit]).toEqual([
    "as applied",
    "A log of work done is not added to the plan: choose it on the sheet Applied of its field, for its product.",
  ]);
});
