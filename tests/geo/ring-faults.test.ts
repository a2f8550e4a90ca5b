import { describe, expect, test } from "vitest";
import { distanceToBoundary, type MultiPolygon, type Ring, ringFaults } from "../../src/geo/index.ts";
import { expectedBoundaries, readBoundary, VALID_FILES } from "./boundaries.ts";
import { box } from "./box.ts";

const field = box(0, 0, 100, 100);
const kinds = (area: MultiPolygon): string[] => ringFaults(area).map(({ kind }) => kind);

describe("sound rings", () => {
  test.each(VALID_FILES)("%s has no fault, in the plane or in degrees", (file) => {
    expect(expectedBoundaries().find((expected) => expected.file === file)!.valid).toBe(true);
    expect(ringFaults(readBoundary(file).plane)).toEqual([]);
    expect(ringFaults(readBoundary(file).lonLat)).toEqual([]);
  });

  const touching: [string, MultiPolygon][] = [
    [
      "a hole touches at a vertex",
      [
        [
          field,
          [
            [0, 0],
            [50, 10],
            [10, 50],
          ],
        ],
      ],
    ],
    [
      "a hole touches an edge",
      [
        [
          field,
          [
            [50, 0],
            [60, 30],
            [40, 30],
          ],
        ],
      ],
    ],
    [
      "a hole touches all round",
      [
        [
          field,
          [
            [50, 0],
            [100, 50],
            [50, 100],
            [0, 50],
          ],
        ],
      ],
    ],
    ["two holes touch at a vertex", [[field, box(10, 10, 50, 50), box(50, 50, 90, 90)]]],
    ["two parts touch at a vertex", [[field], [box(100, 100, 120, 120)]]],
    [
      "a ring touches itself at a vertex",
      [
        [
          [
            [0, 0],
            [50, 50],
            [100, 0],
            [100, 100],
            [50, 50],
            [0, 100],
          ],
        ],
      ],
    ],
    ["a part in another's hole", [[field, box(20, 20, 80, 80)], [box(30, 30, 70, 70)]]],
    [
      "a vertex in the middle of a straight edge",
      [
        [
          [
            [0, 0],
            [50, 0],
            [100, 0],
            [100, 100],
          ],
        ],
      ],
    ],
    ["clockwise", [[field.toReversed(), box(10, 10, 20, 20)]]],
  ];
  test.each(touching)("touching is no crossing: %s", (_, area) => {
    expect(ringFaults(area)).toEqual([]);
  });
});

describe("faults are named with their place", () => {
  test("a bow tie crosses in the middle", () => {
    const faults = ringFaults([
      [
        [
          [0, 0],
          [10, 10],
          [10, 0],
          [0, 10],
        ],
      ],
    ]);
    expect(faults).toEqual(
      [
        {
          kind: "crossing",
          place: [5, 5],
          part: 0,
          ring: 0,
          vertex: 0,
          other: { part: 0, ring: 0, vertex: 2 },
        },
        { kind: "zero-area", place: [0, 0], part: 0, ring: 0, vertex: 0 },
      ].toSorted((a, b) => b.kind.localeCompare(a.kind)),
    );
  });

  test("a hole that sticks out, and parts that cross", () => {
    const faults = ringFaults([[field, box(90, 40, 110, 60)]]);
    expect(faults.map(({ kind, place }) => [kind, ...place])).toEqual([
      ["crossing", 100, 40],
      ["crossing", 100, 60],
    ]);
    expect(faults[0]!.other).toMatchObject({ part: 0, ring: 1 });
    expect(kinds([[field], [box(50, 50, 150, 150)]])).toEqual(["crossing", "crossing"]);
  });

  test("going through one's own vertex, or another edge at a vertex, is a crossing", () => {
    const eight: Ring = [
      [0, 0],
      [50, 50],
      [100, 100],
      [100, 0],
      [50, 50],
      [0, 80],
    ];
    expect(ringFaults([[eight]])).toMatchObject([{ kind: "crossing", place: [50, 50] }]);
    const pierced: Ring = [
      [0, 0],
      [100, 0],
      [100, 100],
      [50, 0],
      [0, -50],
    ];
    expect(ringFaults([[pierced]])).toMatchObject([{ kind: "crossing", place: [50, 0] }]);
    // Both rings go through the same vertex, one bends there.
    expect(
      kinds([
        [field],
        [
          [
            [100, 100],
            [150, 100],
            [150, 20],
            [100, 50],
          ],
        ],
      ]),
    ).toEqual(["overlap"]);
  });

  test("edges on one another", () => {
    expect(
      ringFaults([
        [
          field,
          [
            [20, 0],
            [60, 0],
            [40, 30],
          ],
        ],
      ]),
    ).toMatchObject([{ kind: "overlap", place: [40, 0], other: { ring: 1 } }]);
    expect(kinds([[field], [box(100, 20, 120, 40)]])).toEqual(["overlap"]);
    const keyhole: Ring = [
      [0, 0],
      [100, 0],
      [100, 100],
      [50, 100],
      [50, 50],
      [60, 40],
      [40, 40],
      [50, 50],
      [50, 100],
      [0, 100],
    ];
    expect(kinds([[keyhole]])).toEqual(["overlap"]);
  });

  test("a needle is a spike, also when it overshoots a corner", () => {
    expect(
      ringFaults([
        [
          [
            [0, 0],
            [100, 0],
            [100, 50],
            [130, 50],
            [100, 50],
            [100, 100],
          ],
        ],
      ]),
    ).toMatchObject(
      expect.arrayContaining([expect.objectContaining({ kind: "spike", place: [130, 50], vertex: 3 })]),
    );
    expect(
      ringFaults([
        [
          [
            [0, 0],
            [120, 0],
            [100, 0],
            [100, 100],
          ],
        ],
      ]),
    ).toMatchObject([{ kind: "spike", place: [120, 0], vertex: 1 }]);
  });

  test("repeated vertices, too few vertices, no area", () => {
    expect(
      ringFaults([
        [
          [
            [0, 0],
            [100, 0],
            [100, 0],
            [100, 100],
            [0, 0],
          ],
        ],
      ]),
    ).toMatchObject([
      { kind: "repeated", place: [0, 0], vertex: 0 },
      { kind: "repeated", place: [100, 0], vertex: 2 },
    ]);
    expect(
      kinds([
        [
          [
            [0, 0],
            [100, 0],
          ],
        ],
      ]),
    ).toEqual(["too-few"]);
    expect(
      kinds([
        [
          field,
          [
            [10, 10],
            [20, 20],
            [30, 30],
          ],
        ],
      ]),
    ).toContain("zero-area");
    expect(kinds([[[]]])).toEqual(["too-few"]);
  });

  test("a hole outside, a hole in a hole, a part on another's land", () => {
    expect(ringFaults([[field, box(200, 200, 210, 210)]])).toMatchObject([
      { kind: "hole-outside", place: [200, 200], part: 0, ring: 1 },
    ]);
    expect(kinds([[field, box(10, 10, 90, 90), box(20, 20, 30, 30)]])).toEqual(["overlap"]);
    expect(kinds([[field], [box(10, 10, 20, 20)]])).toEqual(["overlap"]);
  });

  // Where GEOS 3.11.1 reports the first self-intersection, by st_is_valid of R sf 1.0-9 on the degrees of the file.
  test.each([
    ["03-river-edge.geojson", ["crossing"], -91.717460244315, 40.612372866585],
    ["05-touching-rings.geojson", ["overlap"], -88.89256361, 41.90499969],
    ["06-digitising-faults.geojson", ["crossing", "overlap", "repeated", "spike"], -90.32448281, 42.50934027],
  ] as const)("%s is refused, and GEOS's place is on an edge we name", (file, found, lon, lat) => {
    const { frame, plane } = readBoundary(file);
    const place = frame.toPlane([lon, lat]);
    const faults = ringFaults(plane);
    expect([...new Set(faults.map(({ kind }) => kind))].toSorted()).toEqual(found);
    const edges = faults.map(({ part, ring, vertex }): Ring => {
      const points = plane[part]![ring]!;
      return [
        points.at(vertex - 1)!,
        points[vertex]!,
        points[(vertex + 1) % points.length]!,
        points[vertex]!,
      ];
    });
    expect(distanceToBoundary([edges], place)).toBeLessThan(1e-3);
  });

  test("5,000 vertices are checked well within a second of processor time", () => {
    const { plane } = readBoundary("03-river-edge.geojson");
    const start = process.cpuUsage();
    ringFaults(plane);
    expect(process.cpuUsage(start).user).toBeLessThan(1_000_000);
  });
});
