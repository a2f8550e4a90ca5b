// Which sheet of the page shows a notice: the one that deals with it.
import { expect, it } from "vitest";
import type { FarmView } from "../../app/src/engine/protocol.ts";
import { doubts } from "../../app/src/state/how-far.ts";
import { farm } from "../../app/src/state/results.ts";

it.each([
  ["strips", ["broadcast-little", "step-coarse", "maximum-passed", "kept-clear-at-zero", "headland-narrow"]],
  ["strips", ["placed-not-as-planned", "spread-already", "pass-finished", "ledger-field-unknown"]],
  ["split", ["density-not-told", "salt-over-2x2-beyond", "need-short", "flat-rate-cut"]],
  ["strips", ["meter-least", "meter-passes-cap", "spreader-least"]],
  ["need", ["critical-level-typed", "guide-unconfirmed", "own-table-of-zero"]],
  ["soil", ["sampling-old", "same-place", "test-censored"]],
] as const)("%s: %s", (sheet, codes) => {
  const notices = codes.map((code) => ({ code, message: code, where: "" }));
  farm.value = {
    ...{ planSha256: "", acres: 0, refused: [], incomplete: "", guides: [], fields: [] },
    notices,
  } satisfies FarmView;
  expect((doubts.value[sheet] ?? []).map(({ code }) => code)).toEqual([...codes]);
});
