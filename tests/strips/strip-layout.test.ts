import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  insetLand,
  latticeTiles,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  repairBoundary,
  ringArea,
  tilingFaults,
  unionOfTiles,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import {
  type LaidStrips,
  layoutFigures,
  layoutNotices,
  passLines,
  stripLayout,
  stripSegments,
  type WorkedSegment,
} from "../../src/strips/index.ts";
import { metresFromInches } from "../../src/units/index.ts";
import { frozen } from "../formats/support.ts";
import { type Expected, expectedBoundaries, readBoundary } from "../geo/boundaries.ts";
import { invalidTiles, written } from "../geo/tiles.ts";

const SEGMENT_M = 15;

const tilesOf = (segments: readonly WorkedSegment[]): MultiPolygon[] =>
  segments.map(({ polygon }) => [polygon]);
const total = (segments: readonly WorkedSegment[]): number => sum(segments.map(({ areaM2 }) => areaM2));

const layOut = ({ file, implement_width_m, headland_passes }: Expected) => {
  const { plane, guidance, frame } = readBoundary(file);
  const boundary = repairBoundary(plane).repaired;
  const layout = {
    boundary,
    guidance,
    widthM: implement_width_m,
    segmentM: SEGMENT_M,
    headlandPasses: headland_passes,
  };
  return { layout, frame, laid: stripLayout(layout) };
};

// tests/data/boundaries/expected.json: GEOS 3.11.1 and PROJ 9.1.0 through R sf.
describe.each(expectedBoundaries())("$file", (expected) => {
  const { layout, frame, laid } = layOut(expected);
  const { segments, boundaryM2, interiorM2 } = laid;
  const interior = segments.filter(({ kind }) => kind === "interior");
  const isCurve = layout.guidance.length > 2;

  test("all pieces tile the mended boundary: each inner edge once each way, areas to 1e-7", () => {
    expect(tilingFaults(tilesOf(segments), layout.boundary, 2e-4)).toEqual([]);
    expect(Math.abs(total(segments) / boundaryM2 - 1)).toBeLessThan(1e-7);
    expect(Math.abs(total(interior) / interiorM2 - 1)).toBeLessThan(1e-7);
  });

  test("every piece is positive and valid", () => {
    expect(invalidTiles(tilesOf(segments))).toEqual([]);
    expect(segments.every(({ areaM2, polygon }) => areaM2 > 0 && ringArea(polygon[0]!) > 0)).toBe(true);
  });

  test("written with 9 decimals they still tile and are valid; the total to 2e-6", () => {
    // The outline as the pieces have it; that it is the boundary's the first test says.
    const outline = unionOfTiles(segments.map(({ polygon }) => polygon));
    const { tiles, faults } = written(tilesOf(segments), outline, frame);
    expect(faults).toEqual([]);
    const plane = tiles.map((tile) => tile.map((polygon) => polygon.map((ring) => ring.map(frame.toPlane))));
    expect(Math.abs(sum(plane.map(multiPolygonArea)) / boundaryM2 - 1)).toBeLessThan(2e-6);
  });

  test("passes, runs, segments, lengths are GEOS's", () => {
    const { rows, row_spacing_in, interior: wanted, headlands, headland_passes } = expected;
    const figures = layoutFigures(laid, {
      guidance: layout.guidance,
      rows,
      rowSpacingM: metresFromInches(row_spacing_in),
      segmentM: SEGMENT_M,
    });
    expect(figures.passes).toBeGreaterThanOrEqual(wanted.passes_over_20_m2);
    expect(figures.passes).toBeLessThanOrEqual(wanted.passes_over_1_m2);
    expect([figures.firstPass, figures.lastPass]).toEqual([wanted.pass_index_min, wanted.pass_index_max]);
    expect(figures.runs).toBeGreaterThanOrEqual(wanted.runs_over_20_m2);
    expect(figures.runs).toBeLessThanOrEqual(wanted.runs_over_1_m2);
    const interior_ac = headlands[headland_passes - 1]!.interior_ac;
    const near = (value: number, reference: number): void => {
      expect(Math.abs(value / reference - 1)).toBeLessThan(expected.rel_tol_offset_area);
    };
    near(interiorM2 / 4046.8564224, interior_ac);
    if (isCurve) return;
    expect(Math.abs(figures.segments - wanted.segments_over_1_m2!)).toBeLessThanOrEqual(3);
    expect(Math.abs(figures.wholeSegments - wanted.segments_whole!)).toBeLessThanOrEqual(3);
    near(figures.centrelineM, wanted.centreline_m!);
    near(figures.rowLengthM, wanted.row_length_m!);
  });

  test("the order holds every segment once, a run at a time, headlands last and from the inside out", () => {
    expect(segments.map(({ order }) => order).sort((a, b) => a - b)).toEqual(segments.map((_, i) => i));
    const inOrder = segments.toSorted((a, b) => a.order - b.order);
    expect(inOrder.map(({ run }) => run)).toEqual(inOrder.map(({ run }) => run).sort((a, b) => a - b));
    const kinds = inOrder.map(({ kind }) => kind);
    expect(kinds.indexOf("headland")).toBe(kinds.lastIndexOf("interior") + 1);
    const headland = inOrder.filter(({ kind }) => kind === "headland").map(({ pass }) => pass);
    expect(headland).toEqual(headland.toSorted((a, b) => b - a));
    laid.runs.forEach(({ segments: members, kind, pass, areaM2 }, run) => {
      expect(members.map((member) => segments[member]!.run).every((own) => own === run)).toBe(true);
      expect(members.every((member) => segments[member]!.kind === kind)).toBe(true);
      expect(members.every((member) => segments[member]!.pass === pass)).toBe(true);
      expect(sum(members.map((member) => segments[member]!.areaM2))).toBeCloseTo(areaM2, 6);
    });
  });
});

describe("before rounding", () => {
  test.each(expectedBoundaries().filter(({ file }) => !file.startsWith("09")))(
    "$file: interior pieces sum to the interior to 1e-9",
    ({ file, implement_width_m, headland_passes }) => {
      let interior = repairBoundary(readBoundary(file).plane).repaired;
      for (let k = 0; k < headland_passes; k++) interior = insetLand(interior, implement_width_m);
      const tiles = latticeTiles(interior, { widthM: implement_width_m, lengthM: SEGMENT_M });
      const areas = tiles.flatMap(({ rings }) =>
        rings.map((flat) =>
          ringArea(
            Array.from({ length: flat.length / 2 }, (_, i): Point => [flat[2 * i]!, flat[2 * i + 1]!]),
          ),
        ),
      );
      expect(Math.abs(sum(areas) / multiPolygonArea(interior) - 1)).toBeLessThan(1e-9);
    },
  );
});

describe("a curve (09)", () => {
  const expected = expectedBoundaries().find(({ file }) => file.startsWith("09"))!;
  const { layout, laid } = layOut(expected);
  const interior = laid.segments.filter(({ kind }) => kind === "interior");

  test("each pass has the area of GEOS's distance band, right side and left", () => {
    // tests/data/boundaries/curve-pass-areas.csv: a wrong sign keeps the 62 passes but moves 1,385 m2.
    const rows = readFileSync(new URL("../data/boundaries/curve-pass-areas.csv", import.meta.url), "utf8")
      .trim()
      .split("\n")
      .slice(1)
      .map((line) => line.split(",").map(Number) as [number, number]);
    expect(rows).toHaveLength(62);
    for (const [pass, areaM2] of rows) {
      const own = sum(interior.filter((one) => one.pass === pass).map((one) => one.areaM2));
      expect(Math.abs(own - areaM2)).toBeLessThan(0.2);
    }
  });

  test("segments are about as long as asked, save at ends", () => {
    const widthM = layout.widthM;
    const whole = interior.filter(({ areaM2 }) => areaM2 > 0.9 * SEGMENT_M * widthM);
    expect(whole.length).toBeGreaterThan(2_000);
    expect(Math.max(...interior.map(({ areaM2 }) => areaM2))).toBeLessThan(1.3 * SEGMENT_M * widthM);
  });

  test("what cannot be driven inside its bend is named; the same line with a small radius is clean", () => {
    const [notice, ...more] = layoutNotices(laid, layout);
    expect(more).toEqual([]);
    expect(notice).toMatchObject({ code: "bend-too-tight" });
    // The bend has a radius of 204 m: passes farther inside it than that have a corner.
    const tight = [...notice!.message.matchAll(/pass (-?\d+) at/g)].map((match) => Number(match[1]));
    expect(tight.length).toBeGreaterThan(0);
    for (const pass of tight) expect(Math.abs(pass) * layout.widthM).toBeGreaterThan(195);
  });

  test("a straight line given by many points makes the passes of its two ends", () => {
    const [a, b] = [layout.guidance[0]!, layout.guidance[layout.guidance.length - 1]!];
    const between = (share: number): Point => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    const perPass = (strips: LaidStrips): Map<number, number> => {
      const areas = new Map<number, number>();
      for (const { kind, pass, areaM2 } of strips.segments)
        if (kind === "interior") areas.set(pass, (areas.get(pass) ?? 0) + areaM2);
      return areas;
    };
    const straight = perPass(stripLayout({ ...layout, guidance: [a, b] }));
    const many = perPass(stripLayout({ ...layout, guidance: [a, between(0.2), between(0.7), b] }));
    expect(many.size).toBe(straight.size);
    for (const [pass, areaM2] of straight) expect(Math.abs(many.get(pass)! - areaM2)).toBeLessThan(0.1);
  });

  test("a line that meets itself when run on is the user's error", () => {
    const loop: Point[] = [
      [0, -50],
      [100, 60],
      [-100, 60],
      [20, -50],
    ];
    expect(() => stripLayout({ ...layout, guidance: loop })).toThrow(
      expect.objectContaining({ name: "InputError", code: "guidance-crosses-itself" }),
    );
  });
});

describe("straight passes", () => {
  const expected = expectedBoundaries().find(({ file }) => file.startsWith("02"))!;
  const { layout } = layOut(expected);

  test("without headland the interior is what stripSegments lays", () => {
    const { segments, headlandM2 } = stripLayout({ ...layout, headlandPasses: 0 });
    const plain = stripSegments({
      boundary: layout.boundary,
      line: layout.guidance,
      widthM: layout.widthM,
      segmentM: SEGMENT_M,
    });
    expect(headlandM2).toBe(0);
    expect(segments.map(({ pass, column, polygon }) => ({ pass, column, polygon }))).toEqual(
      plain.map(({ pass, column, polygon }) => ({ pass, column, polygon })),
    );
  });

  test("every second run of a block is driven back: headings along the line and against it", () => {
    const { runs, segments } = stripLayout(layout);
    const [a, b] = layout.guidance as [Point, Point];
    const line = ((Math.atan2(b[0] - a[0], b[1] - a[1]) * 180) / Math.PI + 360) % 360;
    const off = (heading: number): number => Math.abs(((heading - line + 540) % 360) - 180);
    for (const { kind, forward, segments: members } of runs) {
      if (kind === "headland") continue;
      for (const member of members)
        expect(off(segments[member]!.headingDeg)).toBeCloseTo(forward ? 0 : 180, 4);
      const along = members.map((member) => segments[member]!.alongStartM);
      expect(along).toEqual(along.toSorted((x, y) => (forward ? x - y : y - x)));
    }
  });

  test("headlands first, and other patterns, keep the pieces and change only their order", () => {
    const plain = stripLayout(layout);
    const other = stripLayout({ ...layout, headlands: "first", pattern: "skip", turnRadiusM: 9 });
    const shapes = (strips: LaidStrips) =>
      strips.segments.map(({ polygon, pass, column }) => ({ polygon, pass, column }));
    expect(shapes(other)).toEqual(shapes(plain));
    expect(other.segments.find(({ order }) => order === 0)).toMatchObject({ kind: "headland", pass: 1 });
  });

  test("a typed radius that the headland has no room for is told", () => {
    const laid = stripLayout({ ...layout, headlandPasses: 1 });
    const [notice] = layoutNotices(laid, { ...layout, headlandPasses: 1, turnRadiusM: 9 });
    expect(notice).toMatchObject({ code: "headland-narrow" });
    // In feet, as it is typed: 9 m are 29.5 ft, a pass of 12 rows of 30 in. is 30 ft wide.
    expect(notice!.message).toMatch(
      /^Turns of 30 ft radius need \d+\.\d ft of headland; 1 pass is 30\.0 ft wide\.$/,
    );
    expect(layoutNotices(laid, { ...layout, headlandPasses: 1 })).toEqual([]);
  });

  test("input is left as it was; the same input gives the same numbers", () => {
    const small = { ...layout, boundary: layout.boundary.map(([shell]) => [shell!.slice(0)]) };
    expect(stripLayout(frozen(structuredClone(small)))).toEqual(stripLayout(small));
  });

  test.each([
    ["headland-passes", { headlandPasses: 5 }],
    ["headland-passes", { headlandPasses: 1.5 }],
    ["length-not-positive", { widthM: 0 }],
    ["length-not-positive", { turnRadiusM: -1 }],
    ["guidance-missing", { guidance: [] }],
  ])("%s is the user's error", (code, wrong) => {
    expect(() => stripLayout({ ...layout, ...wrong })).toThrow(
      expect.objectContaining({ name: "InputError", code }),
    );
  });
});

test("04: a part too narrow for an interior is headland all over, and told", () => {
  const { layout, laid } = layOut(expectedBoundaries().find(({ file }) => file.startsWith("04"))!);
  expect(layoutNotices(laid, layout)).toEqual([
    expect.objectContaining({ code: "part-all-headland", message: expect.stringContaining("Part 4") }),
  ]);
});

test("without headland passes no part is headland, wherever its corners fall", () => {
  const { layout } = layOut(expectedBoundaries().find(({ file }) => file.startsWith("04"))!);
  const bare = { ...layout, headlandPasses: 0 };
  const codes = layoutNotices(stripLayout(bare), bare).map(({ code }) => code);
  expect(codes).not.toContain("part-all-headland");
});

test("centrelines: a box by hand", () => {
  const box: MultiPolygon = [
    [
      [
        [0, 0],
        [30, 0],
        [30, 100],
        [0, 100],
      ],
    ],
  ];
  const lines = passLines(
    box,
    [
      [5, 0],
      [5, 100],
    ],
    10,
    [-1, 0, 1, 2, 3],
  );
  expect(lines.map(({ lengthM }) => lengthM)).toEqual([0, 100, 100, 100, 0]);
});
