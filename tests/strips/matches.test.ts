import { describe, expect, test } from "vitest";
import type { MultiPolygon, Point } from "../../src/geo/index.ts";
import { guidanceAt, planterMatch, shiftedLine, stopsOnStrips, stripLayout } from "../../src/strips/index.ts";

const codes = (notices: readonly { readonly code: string }[]): string[] => notices.map(({ code }) => code);

// Common practice; no published text was read for these.
describe("a planter over strips", () => {
  const strips = { rows: 12, rowSpacingIn: 30 };

  test.each([
    [{ rows: 12, rowSpacingIn: 30 }, []],
    [{ rows: 36, rowSpacingIn: 30 }, []],
    [{ rows: 4, rowSpacingIn: 30 }, []],
    [{ rows: 24, rowSpacingIn: 30 }, ["planter-line-offset"]],
    [{ rows: 16, rowSpacingIn: 30 }, ["planter-rows"]],
    [{ rows: 24, rowSpacingIn: 15 }, ["planter-half-rows"]],
    [{ rows: 12, rowSpacingIn: 36 }, ["planter-spacing", "planter-rows"]],
    [{ rows: 48, rowSpacingIn: 7.5, drilled: true }, ["planter-drilled"]],
    [{ rows: 12, rowSpacingIn: 30, sameLine: false }, ["planter-other-line"]],
  ])("%o: %o", (planter, expected) => {
    expect(codes(planterMatch(strips, planter))).toEqual(expected);
  });
});

describe("the line moved between years", () => {
  const line: readonly [Point, Point] = [
    [10, 0],
    [10, 200],
  ];

  test("half a row right in odd years, on the line in even ones; or left", () => {
    expect(shiftedLine(line, 0.762, 2026)).toEqual(line);
    expect(shiftedLine(line, 0.762, 2027)[0]![0]).toBeCloseTo(10.381, 9);
    expect(shiftedLine(line, 0.762, 2027, "left")[1]![0]).toBeCloseTo(9.619, 9);
    expect(shiftedLine(line, 0.762, 2027)[1]![1]).toBeCloseTo(200, 9);
  });
});

describe("a heading typed", () => {
  const box: MultiPolygon = [
    [
      [
        [0, 0],
        [100, 0],
        [100, 200],
        [0, 200],
      ],
    ],
  ];

  test.each([
    [0, 0, 1],
    [90, 1, 0],
    [180, 0, -1],
    [-90, -1, 0],
    [450, 1, 0],
    [30, 0.5, Math.sqrt(3) / 2],
  ])("%f degrees: through the middle, beyond the field both ways", (headingDeg, east, north) => {
    const [a, b] = guidanceAt(box, headingDeg);
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    expect(length).toBeGreaterThan(Math.hypot(100, 200));
    expect((b[0] - a[0]) / length).toBeCloseTo(east, 12);
    expect((b[1] - a[1]) / length).toBeCloseTo(north, 12);
    expect((a[0] + b[0]) / 2).toBeCloseTo(50, 9);
    expect((a[1] + b[1]) / 2).toBeCloseTo(100, 9);
  });

  test("no number is the user's error", () => {
    expect(() => guidanceAt(box, Number.NaN)).toThrow(
      expect.objectContaining({ code: "heading-not-a-number" }),
    );
  });
});

test("a stop is told when strips already lie under it: headlands first, but not last", () => {
  const boundary: MultiPolygon = [
    [
      [
        [0, 0],
        [120, 0],
        [120, 120],
        [0, 120],
      ],
    ],
  ];
  const rig = {
    boundary,
    guidance: [
      [60, 0],
      [60, 120],
    ] as Point[],
    widthM: 12,
    segmentM: 15,
    headlandPasses: 1,
  };
  const atEnd = (headlands: "first" | "last") => {
    const { segments } = stripLayout({ ...rig, headlands });
    const middle =
      Math.max(...segments.filter(({ kind }) => kind === "interior").map(({ order }) => order)) - 20;
    return stopsOnStrips(segments, [{ name: "Fill 1", place: [60, 5], afterOrder: middle }]);
  };
  expect(atEnd("last")).toEqual([]);
  expect(atEnd("first")).toEqual([
    { code: "stop-on-strips", where: "Fill 1", message: expect.stringContaining("headland pass 1") },
  ]);
});
