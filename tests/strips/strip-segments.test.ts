import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import {
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  ringArea,
  tilingFaults,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { type Segment, spreaderCells, stripSegments } from "../../src/strips/index.ts";
import { frozen } from "../formats/support.ts";
import { expectedBoundaries, readBoundary, readChain, VALID_FILES } from "../geo/boundaries.ts";
import { invalidTiles } from "../geo/tiles.ts";

const tilesOf = (segments: readonly Segment[]): MultiPolygon[] => segments.map(({ polygon }) => [polygon]);
const total = (segments: readonly Segment[]): number => sum(segments.map(({ areaM2 }) => areaM2));

describe("a field of 306 acres, 12 rows of 30 in. by 15 m, cut in R", () => {
  // tests/data/chain: sf 1.0-9 (GEOS 3.11). There the headland is left out; whole segments are the same without one.
  const expected = gunzipSync(readFileSync(new URL("../data/chain/whole-segments.csv.gz", import.meta.url)))
    .toString()
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(",").map(Number) as [number, number, number]);
  const { plane, line } = readChain();
  const segments = stripSegments({ boundary: plane, line, widthM: 9.144, segmentM: 15 });

  test("every whole segment is there, by pass and column, with its area", () => {
    expect(expected).toHaveLength(8_223);
    const areas = new Map(segments.map(({ pass, column, areaM2 }) => [`${pass},${column}`, areaM2]));
    for (const [pass, column, areaM2] of expected) {
      expect(Math.abs(areas.get(`${pass},${column}`)! - areaM2)).toBeLessThan(1e-3);
    }
  });

  test("passes are numbered to the right of the line and all land is in them", () => {
    expect([segments[0]!.pass, segments.at(-1)!.pass]).toEqual([-1, 64]);
    expect(Math.abs(total(segments) / multiPolygonArea(plane) - 1)).toBeLessThan(1e-7);
    expect(tilingFaults(tilesOf(segments), plane, 2e-4)).toEqual([]);
  });
});

describe.each(VALID_FILES)("%s", (file) => {
  const { plane, line } = readBoundary(file);
  const widthM = expectedBoundaries().find((expected) => expected.file === file)!.implement_width_m;
  const segments = stripSegments({ boundary: plane, line, widthM, segmentM: 30 });
  const [a, b] = line;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];

  test("segments tile the field, each positive and valid", () => {
    expect(Math.abs(total(segments) / multiPolygonArea(plane) - 1)).toBeLessThan(1e-7);
    expect(tilingFaults(tilesOf(segments), plane, 2e-4)).toEqual([]);
    expect(invalidTiles(tilesOf(segments))).toEqual([]);
  });

  test("each lies in its pass and column, with the area and the stretch it says", () => {
    const wrong = segments.filter(({ pass, column, polygon, areaM2, alongStartM, alongEndM }) => {
      const right = polygon[0]!.map(([x, y]) => (x - a[0]) * uy - (y - a[1]) * ux);
      const along = polygon[0]!.map(([x, y]) => (x - a[0]) * ux + (y - a[1]) * uy);
      return !(
        Math.min(...right) > (pass - 0.5) * widthM - 1e-4 &&
        Math.max(...right) < (pass + 0.5) * widthM + 1e-4 &&
        Math.abs(Math.min(...along) - alongStartM) < 1e-6 &&
        Math.abs(Math.max(...along) - alongEndM) < 1e-6 &&
        alongStartM > column * 30 - 1e-4 &&
        alongEndM < (column + 1) * 30 + 1e-4 &&
        Math.abs(areaM2 - multiPolygonArea([polygon])) < 1e-6 &&
        ringArea(polygon[0]!) > 0
      );
    });
    expect(wrong).toEqual([]);
  });

  test("sorted by pass, then column", () => {
    const order = segments.toSorted((one, two) => one.pass - two.pass || one.column - two.column);
    expect(segments.every((segment, i) => segment === order[i])).toBe(true);
  });
});

describe("the line", () => {
  const { plane, line } = readBoundary("07-necks-fingers-wedge.geojson");
  const layout = { boundary: plane, widthM: 9.144, segmentM: 15 };
  const perPass = (segments: readonly Segment[]): Map<number, number> => {
    const areas = new Map<number, number>();
    for (const { pass, areaM2 } of segments) areas.set(pass, (areas.get(pass) ?? 0) + areaM2);
    return areas;
  };
  const base = perPass(stripSegments({ ...layout, line }));
  const [a, b] = line;

  test("moved by a width to its right: every pass number falls by one", () => {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const move = ([x, y]: Point): Point => [
      x + ((b[1] - a[1]) / length) * 9.144,
      y - ((b[0] - a[0]) / length) * 9.144,
    ];
    const moved = perPass(stripSegments({ ...layout, line: [move(a), move(b)] }));
    expect([...moved.keys()].map((pass) => pass + 1)).toEqual([...base.keys()]);
    for (const [pass, areaM2] of moved) expect(areaM2).toBeCloseTo(base.get(pass + 1)!, 1);
  });

  test("turned round: pass k becomes pass -k", () => {
    const turned = perPass(stripSegments({ ...layout, line: [b, a] }));
    for (const [pass, areaM2] of base) expect(turned.get(pass === 0 ? 0 : -pass)).toBeCloseTo(areaM2, 1);
    expect(turned.size).toBe(base.size);
  });

  test("lengthened: nothing changes", () => {
    const longer: Point = [b[0] + 2 * (b[0] - a[0]), b[1] + 2 * (b[1] - a[1])];
    const again = perPass(stripSegments({ ...layout, line: [a, longer] }));
    for (const [pass, areaM2] of base) expect(again.get(pass)).toBeCloseTo(areaM2, 1);
  });

  test("input is left as it was, and the same input gives the same numbers", () => {
    const once = stripSegments(frozen(structuredClone({ ...layout, line })));
    expect(once).toEqual(stripSegments({ ...layout, line }));
  });

  test.each([
    ["guidance-missing", [a]],
    ["guidance-not-straight", [a, [0, 5], b]],
    ["guidance-too-short", [a, a]],
    ["guidance-not-finite", [a, [Number.NaN, 0]]],
  ] as [string, Point[]][])("%s is the user's error", (code, points) => {
    expect(() => stripSegments({ ...layout, line: points })).toThrow(
      expect.objectContaining({ name: "InputError", code, remedy: expect.stringMatching(/^Give /) }),
    );
  });

  test.each([
    ["width", { widthM: 0 }],
    ["segment length", { segmentM: -15 }],
    ["width", { widthM: Number.POSITIVE_INFINITY }],
  ])("a %s that is not above 0 is the user's error", (name, wrong) => {
    expect(() => stripSegments({ ...layout, line, ...wrong })).toThrow(
      expect.objectContaining({ code: "length-not-positive", message: expect.stringContaining(name) }),
    );
  });
});

test("a spreader's cells: the same cut at its own width", () => {
  const { plane, line } = readBoundary("02-waterways-ponds.geojson");
  const cells = spreaderCells({ boundary: plane, line, widthM: 18.288, lengthM: 20 });
  expect(cells).toEqual(stripSegments({ boundary: plane, line, widthM: 18.288, segmentM: 20 }));
  expect(Math.abs(total(cells) / multiPolygonArea(plane) - 1)).toBeLessThan(1e-7);
});
