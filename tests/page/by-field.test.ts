/// <reference path="../../app/src/globals.d.ts" />
import { expect, it, vi } from "vitest";

vi.stubGlobal("location", { hash: "" });
vi.stubGlobal("addEventListener", () => {});
const { byField } = await import("../../app/src/state/by-field.ts");
const { openings } = await import("../../app/src/state/opened.ts");

it("what was given for a field is no other's, and is gone once another plan is opened", () => {
  const given = byField<number | null>(null);
  given.put("stony-ridge", 30);
  expect([given.of("stony-ridge"), given.of("mill-bend")]).toEqual([30, null]);
  openings.value++;
  expect(given.of("stony-ridge")).toBeNull();
  given.put("mill-bend", 4);
  expect([given.of("stony-ridge"), given.of("mill-bend")]).toEqual([null, 4]);
});
