import { expect, test } from "vitest";
import { messagesOf } from "../../src/report/guide-words.ts";

test("a sentence begins with a capital where a plain word does, and leaves names, pH and figures alone", () => {
  const said = messagesOf(
    [
      "no setbacks entered, none respected",
      "pH is read and shown; this tool makes no lime recommendation",
      "lab_m3.csv, line 7: no value for P; counted as none.",
      "soil-tests.csv does not say when it was taken",
      "catch-up rates are added",
      "unconfirmed: 3 of the figures are from memory",
      "unconfirmed: 3 of the figures are from memory",
      "2 rows left out",
    ].map((message) => ({ message })),
  );
  expect(said).toEqual([
    "No setbacks entered, none respected.",
    "pH is read and shown; this tool makes no lime recommendation.",
    "lab_m3.csv, line 7: no value for P; counted as none.",
    "soil-tests.csv does not say when it was taken.",
    "Catch-up rates are added.",
    "Unconfirmed: 3 of the figures are from memory.",
    "2 rows left out.",
  ]);
});
