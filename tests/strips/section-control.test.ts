import { describe, expect, test } from "vitest";
import {
  insetLand,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  repairBoundary,
} from "../../src/geo/index.ts";
import { overlapShare, sectionFigures } from "../../src/strips/index.ts";
import { metresFromInches } from "../../src/units/index.ts";
import { expectedBoundaries, readBoundary } from "../geo/boundaries.ts";

const line: readonly Point[] = [
  [0, 0],
  [0, 100],
];
const box: MultiPolygon = [
  [
    [
      [-6, 0],
      [6, 0],
      [6, 100],
      [-6, 100],
    ],
  ],
];
/** One pass of 12 m whose end runs at 45 degrees: from 100 m at the left side to 112 m at the right. */
const slanted: MultiPolygon = [
  [
    [
      [-6, 0],
      [6, 0],
      [6, 112],
      [-6, 100],
    ],
  ],
];
const rig = { guidance: line, rows: 12, rowSpacingM: 1, sections: 1, onDelayM: 0, offDelayM: 0 };

describe("by hand", () => {
  test("a box of whole passes: nothing over, nothing short", () => {
    const figures = sectionFigures({ ...rig, interior: box });
    expect(figures.appliedM2).toBeCloseTo(1_200, 6);
    expect(figures.overlapM2).toBeCloseTo(0, 6);
    expect(figures.skipM2).toBeCloseTo(0, 6);
  });

  test.each([
    [1, 72],
    [2, 36],
    [12, 6],
  ])("a slanted end with %i sections: triangles of %f m2 over", (sections, overlapM2) => {
    const figures = sectionFigures({ ...rig, interior: slanted, sections });
    expect(figures.overlapM2).toBeCloseTo(overlapM2, 5);
    expect(figures.skipM2).toBeCloseTo(0, 5);
    expect(figures.appliedM2).toBeCloseTo(1_272 + overlapM2, 5);
  });

  test("late on leaves a strip short, late off lays one too many", () => {
    const figures = sectionFigures({ ...rig, interior: box, onDelayM: 2, offDelayM: 3 });
    expect(figures.skipM2).toBeCloseTo(24, 6);
    expect(figures.overlapM2).toBeCloseTo(36, 6);
    expect(figures.appliedM2).toBeCloseTo(1_200 - 24 + 36, 6);
  });

  test("odd passes are driven the other way: late on is at their far end", () => {
    // A pass to the right whose far end is slanted: driven back, the skip lies at the slanted end.
    const moved: MultiPolygon = slanted.map((polygon) =>
      polygon.map((ring) => ring.map(([x, y]): Point => [x + 12, y])),
    );
    const figures = sectionFigures({ ...rig, interior: moved, onDelayM: 4 });
    // Of the 4 m from 112 down to 108 the land is a triangle of 4 m by 4 m.
    expect(figures.skipM2).toBeCloseTo(8, 5);
  });

  test("a gap shorter than the delay is driven through without a stop", () => {
    const gap: MultiPolygon = [
      box[0]!,
      [
        [
          [-6, 102],
          [6, 102],
          [6, 200],
          [-6, 200],
        ],
      ],
    ];
    const figures = sectionFigures({ ...rig, interior: gap, offDelayM: 5 });
    expect(figures.overlapM2).toBeCloseTo(12 * (2 + 5), 5);
  });

  test("typed overlap stands alone and is never added", () => {
    const figures = sectionFigures({ ...rig, interior: slanted });
    expect(overlapShare(0.05, figures, 1_272)).toBe(0.05);
    expect(overlapShare(undefined, figures, 1_272)).toBeCloseTo(72 / 1_272, 6);
    expect(overlapShare(0, figures, 1_272)).toBe(0);
  });

  test.each([0, 5, 13, 1.5])("%f sections of 12 rows are the user's error", (sections) => {
    expect(() => sectionFigures({ ...rig, interior: box, sections })).toThrow(
      expect.objectContaining({ name: "InputError", code: "sections" }),
    );
  });
});

test.each(["02-waterways-ponds.geojson", "07-necks-fingers-wedge.geojson"])(
  "%s: more sections, less overlap; put down is interior, overlap and skip",
  (file) => {
    const {
      implement_width_m: widthM,
      headland_passes,
      ...expected
    } = expectedBoundaries().find((one) => one.file === file)!;
    const { plane, line: guidance } = readBoundary(file);
    let interior = repairBoundary(plane).repaired;
    for (let k = 0; k < headland_passes; k++) interior = insetLand(interior, widthM);
    const figures = [1, 2, 4, expected.rows].map((sections) =>
      sectionFigures({
        interior,
        guidance,
        rows: expected.rows,
        rowSpacingM: metresFromInches(expected.row_spacing_in),
        sections,
        onDelayM: 0,
        offDelayM: 0,
      }),
    );
    const overlaps = figures.map(({ overlapM2 }) => overlapM2);
    expect(overlaps).toEqual(overlaps.toSorted((a, b) => b - a));
    expect(overlaps[0]).toBeGreaterThan(3 * overlaps[3]!);
    for (const { appliedM2, overlapM2, skipM2 } of figures) {
      expect(skipM2).toBeLessThan(1e-3);
      expect(Math.abs(appliedM2 - overlapM2 + skipM2 - multiPolygonArea(interior))).toBeLessThan(1e-3);
    }
    // Point rows: with a section a row what is put down is row length by spacing, but for what a row's own end leaves.
    const rowM2 = expected.interior.row_length_m! * metresFromInches(expected.row_spacing_in);
    expect(Math.abs(figures[3]!.appliedM2 / rowM2 - 1)).toBeLessThan(0.01);
  },
);
