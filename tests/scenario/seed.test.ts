import { expect, test } from "vitest";
import { readSeed } from "../../src/scenario/index.ts";
import { seedOf } from "./scenarios.ts";

const seed = seedOf("single-field");
const refused = (value: unknown) => () => readSeed(JSON.stringify(value), "seeds/try.json");

test("a seed reads back as it was written", () => {
  expect(readSeed(JSON.stringify(seed), "seeds/try.json")).toEqual(seed);
});

test("an unknown key, a missing one and a value out of range are refused by name", () => {
  expect(refused({ ...seed, colour: "red" })).toThrow(/seeds\/try\.json.*colour/s);
  expect(refused({ ...seed, farm: undefined })).toThrow(/farm/);
  expect(refused({ ...seed, seed: 1.5 })).toThrow(/seed/);
  expect(refused({ ...seed, soil: { ...seed.soil, P: { ...seed.soil.P, least: 90 } } })).toThrow(/median/);
  expect(refused({ ...seed, layout: { ...seed.layout, kind: "circle" } })).toThrow(/layout/);
});

test("text that is no JSON is refused with its file", () => {
  expect(() => readSeed("{", "seeds/try.json")).toThrow(/seeds\/try\.json/);
});
