import fc from "fast-check";
import {
  type MultiPolygon,
  nestRings,
  orient,
  type Point,
  type Ring,
  ringFaults,
} from "../../src/geo/index.ts";

/** A field and the lattice it is to be cut by; points are [across, along], metres. */
export interface NastyField {
  readonly kind: string;
  readonly land: MultiPolygon;
  readonly widthM: number;
  readonly lengthM: number;
}

/** Pass widths and segment lengths, some of which are no whole number of 0.1 mm or no exact binary fraction. */
const lattice: fc.Arbitrary<{ widthM: number; lengthM: number }> = fc.record({
  widthM: fc.constantFrom(9.144, 12.192, 4.572, 8, 20 / 3),
  lengthM: fc.constantFrom(15, 30, 7.5, 10, 100 / 7),
});

const share = (max = 1): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((n) => (n * max) / 1_000_000);

/** Nudges that put a point on a line, a bit off it, within a rounding step of it, or far from it. */
const nudge: fc.Arbitrary<number> = fc.oneof(
  { weight: 4, arbitrary: fc.constant(0) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(1e-13, -1e-13, 1e-9, -1e-9, 5e-5, -5e-5, 4.9e-5, 1e-4, -1e-4, 7e-5),
  },
  { weight: 1, arbitrary: share(4).map((value) => value - 2) },
);

/** Outline of a set of cells of a fine lattice, edges on cut lines; holes and parts that touch at corners are usual. */
const cellsField = ({ widthM, lengthM }: { widthM: number; lengthM: number }): fc.Arbitrary<MultiPolygon> =>
  fc.array(fc.boolean(), { minLength: 36, maxLength: 36 }).map((on) => {
    const n = 6;
    const has = (x: number, y: number): boolean =>
      x >= 0 && y >= 0 && x < n && y < n && on[y * n + x] === true;
    const next = new Map<string, [number, number][]>();
    const add = (x: number, y: number, toX: number, toY: number): void => {
      const key = `${x},${y}`;
      next.set(key, [...(next.get(key) ?? []), [toX, toY]]);
    };
    for (let y = 0; y < n; y++) {
      for (let x = 0; x < n; x++) {
        if (!has(x, y)) continue;
        if (!has(x, y - 1)) add(x, y, x + 1, y);
        if (!has(x + 1, y)) add(x + 1, y, x + 1, y + 1);
        if (!has(x, y + 1)) add(x + 1, y + 1, x, y + 1);
        if (!has(x - 1, y)) add(x, y + 1, x, y);
      }
    }
    const rings: Ring[] = [];
    for (const [key, targets] of next) {
      while (targets.length > 0) {
        const [startX, startY] = key.split(",").map(Number) as [number, number];
        const ring: [number, number][] = [];
        let at: [number, number] = [startX, startY];
        let from: [number, number] = at;
        do {
          ring.push(at);
          const options = next.get(`${at[0]},${at[1]}`)!;
          // At a corner where two cells touch, turn left: round the cell one is on.
          const [x, y] = at;
          const [dx, dy] = [x - from[0], y - from[1]];
          const left = options.findIndex(([toX, toY]) => dx * (toY - y) - dy * (toX - x) > 0);
          const [to] = options.splice(Math.max(0, left), 1);
          from = at;
          at = to!;
        } while (at[0] !== startX || at[1] !== startY);
        rings.push(ring.map(([x, y]): Point => [(x / 2 - 1.5) * widthM, (y / 2 - 1) * lengthM]));
      }
    }
    return nestRings(rings);
  });

/** A ring that goes round a centre once, so that it cannot cross itself; each radius between the two limits. */
const star = (
  centre: fc.Arbitrary<Point>,
  inner: number,
  outer: number,
  corners: number,
): fc.Arbitrary<Ring> =>
  fc
    .tuple(centre, fc.array(fc.tuple(share(), share()), { minLength: 3, maxLength: corners }))
    .map(([[x, y], spokes]) =>
      spokes
        .map(([turn, reach], index) => ({
          // Angles that are sometimes very near one another: spikes.
          angle: (2 * Math.PI * (index + turn ** 4)) / spokes.length,
          radius: inner + reach * (outer - inner),
        }))
        .map(({ angle, radius }): Point => [x + radius * Math.cos(angle), y + radius * Math.sin(angle)]),
    );

const near = (x: number, y: number, spread: number): fc.Arbitrary<Point> =>
  fc.tuple(share(2 * spread), share(2 * spread)).map(([dx, dy]): Point => [x + dx - spread, y + dy - spread]);

/** Moves some vertices onto cut lines, or near them. */
const pulled = (
  land: fc.Arbitrary<MultiPolygon>,
  { widthM, lengthM }: { widthM: number; lengthM: number },
): fc.Arbitrary<MultiPolygon> =>
  fc
    .tuple(land, fc.infiniteStream(fc.tuple(fc.constantFrom(0, 0, 0, 1, 2, 3), nudge, nudge)))
    .map(([area, pulls]) =>
      area.map((polygon) =>
        polygon.map((ring) =>
          ring.map(([x, y]): Point => {
            const [which, dx, dy] = pulls.next().value;
            const lineX = (Math.round(x / widthM) - 0.5) * widthM;
            const lineY = Math.round(y / lengthM) * lengthM;
            return [(which & 1) > 0 ? lineX + dx : x, (which & 2) > 0 ? lineY + dy : y];
          }),
        ),
      ),
    );

const starsField = (): fc.Arbitrary<MultiPolygon> =>
  fc
    .tuple(
      star(near(0, 0, 10), 18, 60, 24),
      fc.array(star(near(0, 0, 6), 0.01, 5, 8), { maxLength: 2 }),
      fc.option(star(near(140, 10, 20), 2, 40, 12)),
    )
    .map(([outer, holes, other]) => [[outer, ...holes.slice(0, 1)], ...(other === null ? [] : [[other]])]);

/** A comb whose fingers and gaps run from 0.1 mm to 20 m, some of them from line to line or ending on a line. */
const combField = ({ widthM, lengthM }: { widthM: number; lengthM: number }): fc.Arbitrary<MultiPolygon> =>
  fc
    .tuple(
      fc.array(fc.tuple(share(), share(), share(), nudge), { minLength: 2, maxLength: 9 }),
      fc.constantFrom(0, 0, 1),
      share(),
    )
    .map(([teeth, leaning, tilt]) => {
      const lean = leaning * (tilt - 0.5) * 0.02;
      const top: Point[] = [];
      let x = -2.5 * widthM;
      for (const [wide, gap, high, off] of teeth) {
        const width = wide < 0.3 ? widthM : 1e-4 * 200_000 ** wide;
        const height = high < 0.4 ? 2 * lengthM + off : 20 + 60 * high;
        top.push([x, 10], [x + lean * height, height], [x + width + lean * height, height], [x + width, 10]);
        x += width + (gap < 0.3 ? widthM : 1e-4 * 200_000 ** gap);
      }
      return [[[[-2.5 * widthM, -20], [x, -20], ...top.toReversed()]]];
    });

/** A hole that touches the shell: at a vertex, at a vertex on an edge, along a needle of land, or by a hair's breadth. */
const touchingField = (): fc.Arbitrary<MultiPolygon> =>
  fc
    .tuple(star(near(0, 0, 10), 30, 60, 14), share(), share(), fc.constantFrom(0, 0, 1e-4, 3e-5, 1e-3))
    .map(([shell, place, along, gap]) => {
      const index = Math.floor(place * (shell.length - 1));
      const [ax, ay] = shell[index]!;
      const [bx, by] = shell[(index + 1) % shell.length]!;
      const onEdge = along > 0.3 ? along : 0;
      const x = ax + (bx - ax) * onEdge;
      const y = ay + (by - ay) * onEdge;
      const length = Math.hypot(x, y);
      const tip: Point = [x - (x / length) * gap, y - (y / length) * gap];
      const hole: Ring = [
        tip,
        [0.3 * x - 0.08 * y, 0.3 * y + 0.08 * x],
        [0.3 * x + 0.08 * y, 0.3 * y - 0.08 * x],
      ];
      return [[shell, hole]];
    });

/** A walked outline: many vertices about a metre apart with centimetres to decimetres of noise. */
const walkedField = (): fc.Arbitrary<MultiPolygon> =>
  fc.tuple(fc.array(share(), { minLength: 60, maxLength: 160 }), share(0.4)).map(([noise, size]) => [
    [
      noise.map((n, i): Point => {
        const angle = (2 * Math.PI * i) / noise.length;
        const radius = 40 + 12 * Math.cos(3 * angle) + (n - 0.5) * size;
        return [radius * Math.cos(angle), radius * Math.sin(angle)];
      }),
    ],
  ]);

/** Fields made to break a cutter: every one is sound (`ringFaults` finds nothing), none is kind. */
export const nastyField: fc.Arbitrary<NastyField> = lattice
  .chain((cut) =>
    fc
      .oneof(
        cellsField(cut).map((land) => ({ kind: "cells", land })),
        starsField().map((land) => ({ kind: "stars", land })),
        pulled(starsField(), cut).map((land) => ({ kind: "pulled stars", land })),
        combField(cut).map((land) => ({ kind: "comb", land })),
        touchingField().map((land) => ({ kind: "touching", land })),
        walkedField().map((land) => ({ kind: "walked", land })),
      )
      .map((field) => ({ ...field, ...cut, land: orient(field.land) })),
  )
  .filter(({ land }) => land.length > 0 && ringFaults(land).length === 0);
