import type { Notice } from "#core";

/** Notices that say what was done and ask for nothing; every other one is a doubt and is counted by a flag. */
const REMARKS: ReadonlySet<string> = new Set([
  "above-headings",
  "addition-counted",
  "blank-rows",
  "budget-spent",
  "build-up-of-several-years",
  "choices-taken",
  "column-not-read",
  "crs-member",
  "decimal-comma",
  "exclusions-kept",
  "file-ignored",
  "leftover-kept",
  "loss-assumed",
  "link-ignored",
  "newest-sampling-used",
  "no-stock",
  "no-workable-days",
  "no-index",
  "no-lime-recommendation",
  "overlap-assumed",
  "reserve-unconfirmed",
  "ring-closed",
  "rotation-taken",
  "save-a-load",
  "separator",
  "taken-as-planned",
  "test-unit-converted",
  "thousands-comma",
]);

export const isDoubt = ({ code }: Notice): boolean => !REMARKS.has(code);

/** Doubts by kind: many alike are one thing to deal with. */
export const doubtCount = (notices: readonly Notice[]): number =>
  new Set(notices.filter(isDoubt).map(({ code }) => code)).size;
