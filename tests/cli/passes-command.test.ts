import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { expectedBoundaries } from "../geo/boundaries.ts";
import { cli } from "../support/in-process-cli.ts";

const data = (file: string): string => fileURLToPath(new URL(`../data/boundaries/${file}`, import.meta.url));

const passes = (file: string, ...words: string[]) => {
  const expected = expectedBoundaries().find((one) => one.file.startsWith(file))!;
  const rig = ["--rows", `${expected.rows}`, "--row-spacing-in", `${expected.row_spacing_in}`];
  return cli(
    "passes",
    data(expected.file),
    ...rig,
    "--headland-passes",
    `${expected.headland_passes}`,
    ...words,
  );
};

// tests/data/boundaries/expected.json: GEOS 3.11.1 and PROJ 9.1.0 through R sf. 04 and 08 are checked in tests/strips.
describe.each(["01", "02", "03", "05", "06", "07", "09"])("field %s", (file) => {
  const expected = expectedBoundaries().find((one) => one.file.startsWith(file))!;

  test("the figures that are expected", async () => {
    const told = await passes(file, "--json", "--answer", "repair-boundary=non-zero");
    expect(told.exit).toBe(0);
    const figures = JSON.parse(told.out);
    const { interior, headlands, headland_passes } = expected;
    const near = (value: number, reference: number, share: number): void => {
      expect(Math.abs(value / reference - 1)).toBeLessThan(share);
    };
    near(figures.areaAc, expected.area.geodesic_m2 / 4046.8564224, expected.area.rel_tol);
    near(figures.interiorAc, headlands[headland_passes - 1]!.interior_ac, expected.rel_tol_offset_area);
    expect(figures.headlandAc + figures.interiorAc).toBeCloseTo(figures.areaAc, 9);
    expect(figures.passes).toBeGreaterThanOrEqual(interior.passes_over_20_m2);
    expect(figures.passes).toBeLessThanOrEqual(interior.passes_over_1_m2);
    expect(figures.firstPass).toBe(interior.pass_index_min);
    expect(figures.lastPass).toBe(interior.pass_index_max);
    expect(figures.runs).toBeGreaterThanOrEqual(interior.runs_over_20_m2);
    expect(figures.runs).toBeLessThanOrEqual(interior.runs_over_1_m2);
    if (interior.segments_over_1_m2 === undefined) return;
    expect(Math.abs(figures.segments - interior.segments_over_1_m2)).toBeLessThanOrEqual(3);
    expect(Math.abs(figures.wholeSegments - interior.segments_whole!)).toBeLessThanOrEqual(3);
    near(figures.centrelineM, interior.centreline_m!, expected.rel_tol_offset_area);
    near(figures.rowLengthM, interior.row_length_m!, expected.rel_tol_offset_area);
    expect(figures.turnM).toBeGreaterThan(0);
  });
});

test("01: clean, so no notice; in words too", async () => {
  const told = await passes("01");
  expect(told.exit).toBe(0);
  expect(told.error).toBe("");
  expect(told.out).toMatch(
    /^field 155\.15 ac = headland 18\.75 \+ interior 136\.40 ac\n63 passes \(2 to 64\), 63 runs\n/,
  );
});

test("one pass and one run are said as one", async () => {
  const wide = ["--rows", "90", "--row-spacing-in", "900", "--segment-m", "5000"];
  const told = await cli("passes", data(expectedBoundaries()[0]!.file), ...wide);
  expect(told.out).toMatch(/\n1 pass \(0 to 0\), 1 run\n2 segments, 0 whole; 0 pieces of headland\n/);
});

test("05: three readings agree, so it is repaired with a notice that names the place and the acres", async () => {
  const told = await passes("05", "--json");
  expect(told.exit).toBe(0);
  const notice = JSON.parse(told.out).notices.find(
    (one: { code: string }) => one.code === "boundary-repaired",
  );
  expect(notice.message).toMatch(/overlap at -88\.89\d+, 41\.90\d+/);
  expect(notice.message).toMatch(/105\.39 ac/);
});

test("03: lobes that run backwards count against the ring sum, so it is asked", async () => {
  const told = await passes("03", "--json");
  expect(told.exit).toBe(3);
  expect(JSON.parse(told.out).questions[0].seen).toMatch(
    /non-zero 327\.20 ac, even-odd 327\.20 ac, signed ring sum 326\.\d+ ac/,
  );
});

test("06: they do not agree, so it is asked: exit 3, the places and the three acreages", async () => {
  const told = await passes("06", "--json");
  expect(told.exit).toBe(3);
  const [question, ...more] = JSON.parse(told.out).questions;
  expect(more).toEqual([]);
  expect(question).toMatchObject({ key: "repair-boundary", choices: ["non-zero", "even-odd"] });
  expect(question.seen).toMatch(/crossing at -90\.33\d+, 42\.50\d+/);
  expect(question.seen).toMatch(/non-zero 106\.79 ac, even-odd 107\.59 ac/);
});

describe("where the line comes from", () => {
  let folder = "";
  const inFolder = (name: string): string => join(folder, name);
  const rig = ["--rows", "16", "--row-spacing-in", "30", "--headland-passes", "2", "--json"];

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "passes-"));
    const all = JSON.parse(readFileSync(data("01-quarter-corner-out.geojson"), "utf8"));
    const write = (name: string, features: unknown[]): void => {
      writeFileSync(inFolder(name), JSON.stringify({ type: "FeatureCollection", features }));
    };
    const [boundary, line] = all.features;
    write("field.geojson", [boundary]);
    write("line.geojson", [line]);
    write("two.geojson", [line, line]);
    write("turned.geojson", [
      { ...line, geometry: { type: "LineString", coordinates: line.geometry.coordinates.toReversed() } },
    ]);
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  test("a file of its own", async () => {
    const apart = await cli(
      "passes",
      inFolder("field.geojson"),
      "--guidance",
      inFolder("line.geojson"),
      ...rig,
    );
    const together = await passes("01", "--json");
    expect(apart.exit).toBe(0);
    expect(JSON.parse(apart.out)).toEqual(JSON.parse(together.out));
  });

  test("turned round: pass k becomes pass -k", async () => {
    const told = await cli(
      "passes",
      inFolder("field.geojson"),
      "--guidance",
      inFolder("turned.geojson"),
      ...rig,
    );
    expect(JSON.parse(told.out)).toMatchObject({ passes: 63, firstPass: -64, lastPass: -2 });
  });

  test("a heading, through the middle of the field", async () => {
    const told = await cli("passes", inFolder("field.geojson"), "--heading", "0", ...rig);
    const figures = JSON.parse(told.out);
    expect(told.exit).toBe(0);
    expect(figures.interiorAc).toBeCloseTo(136.4043, 3);
    expect(figures.firstPass).toBe(-figures.lastPass);
  });

  test.each([
    ["guidance-missing", ["field.geojson"]],
    ["guidance-missing", ["field.geojson", "--guidance", "two.geojson"]],
    ["guidance-twice", ["field.geojson", "--guidance", "line.geojson", "--heading", "0"]],
    ["not-a-number", ["field.geojson", "--heading", "north"]],
  ])("%s: %o", async (code, words) => {
    const paths = words.map((word) => (word.endsWith(".geojson") ? inFolder(word) : word));
    const told = await cli("passes", ...paths, ...rig);
    expect(told.exit).toBe(2);
    expect(told.out).toContain(`"${code}"`);
  });

  test.each([
    ["missing-option", ["--row-spacing-in", "30"]],
    ["missing-option", ["--rows", "16"]],
    ["not-a-number", ["--rows", "1.5", "--row-spacing-in", "30"]],
    ["not-a-number", ["--rows", "16", "--row-spacing-in", "0"]],
    ["not-a-number", ["--rows", "16", "--row-spacing-in", "30", "--headland-passes", "-1"]],
    ["headland-passes", ["--rows", "16", "--row-spacing-in", "30", "--headland-passes", "5"]],
    ["not-a-number", ["--rows", "16", "--row-spacing-in", "30", "--segment-m", "0"]],
  ])("%s: %o", async (code, words) => {
    const told = await cli("passes", inFolder("field.geojson"), "--heading", "0", "--json", ...words);
    expect(told.exit).toBe(2);
    expect(told.out).toContain(`"${code}"`);
  });
});
