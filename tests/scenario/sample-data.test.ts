import { describe, expect, test } from "vitest";
import { sha256Hex } from "../../src/formats/index.ts";
import { generate } from "../../src/scenario/index.ts";
import { committed, readScenario, SCENARIOS, scenarioOf, seedOf } from "./scenarios.ts";

const hashes = (files: ReadonlyMap<string, Uint8Array>) =>
  Object.fromEntries([...files].map(([path, bytes]) => [path, sha256Hex(bytes)]).sort());

describe.each(SCENARIOS)("%s", (name) => {
  test("the same seed gives the same bytes, and they are the committed ones", () => {
    const first = hashes(scenarioOf(name).files);
    expect(hashes(generate(seedOf(name)).files)).toEqual(first);
    expect(hashes(committed(name))).toEqual(first);
  });

  test("another seed gives other samples", () => {
    const other = generate({ ...seedOf("single-field"), seed: seedOf("single-field").seed + 1 });
    const before = hashes(scenarioOf("single-field").files);
    expect(hashes(other.files)["soil-tests.csv"]).not.toBe(before["soil-tests.csv"]);
  });

  test("the plan names every other file with its hash, and names each field once", () => {
    const files = committed(name);
    const { plan } = readScenario(name);
    const named = Object.fromEntries(plan.sources.map(({ path, sha256 }) => [path, sha256]));
    const { "plan.json": _plan, ...others } = hashes(files);
    expect(named).toEqual(others);
    expect(new Set(plan.fields.map(({ id }) => id)).size).toBe(plan.fields.length);
    expect(plan).toMatchObject({ seasonYear: 2027, date: "2027-03-15" });
    expect(plan.rig).toMatchObject({ rows: 16, rowSpacingIn: 30, segmentM: 30, rateStepLbPerAc: 5 });
  });
});

test("home-farm stays below 3 MB", () => {
  const bytes = [...committed("home-farm").values()].reduce((sum, file) => sum + file.length, 0);
  expect(bytes).toBeLessThan(3_000_000);
});
