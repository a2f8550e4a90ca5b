import { boundsOf } from "./bounds.ts";
import { firstClockwise } from "./first-clockwise.ts";
import { nestRings } from "./nest-rings.ts";
import { ringArea } from "./plane-area.ts";
import type { MultiPolygon, Point, Ring } from "./types.ts";
import { type Arrangement, arrange, type Stretch } from "./winding.ts";

/** What counts as land where rings cross: places gone round an odd number of times, or any number but none. */
type FillRule = "even-odd" | "non-zero";

/** Vertices closer than this share of the largest coordinate are one: 1 nm in a field's plane, 0.1 mm in degrees. */
const REACH = 1e-11;

/**
 * The land that rings go round, as sound polygons, whatever the rings do: cross, lie on one another, repeat.
 * The rule says what counts where they cross; `non-zero` looks at the direction of the rings, so holes must run against
 * their outer ring (`orient`). Coordinates of vertices stay to the last bit; crossings become vertices.
 * In the plane of the coordinates, metres or degrees alike. Polygons with less than a sliver of area are dropped.
 */
export const fillRings = (area: MultiPolygon, rule: FillRule): MultiPolygon => {
  const { minX, minY, maxX, maxY } = boundsOf(area);
  const largest = Math.max(Math.abs(minX), Math.abs(minY), Math.abs(maxX), Math.abs(maxY));
  if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) return [];
  const reach = REACH * largest;
  const arrangement = arrange(area.flat(), reach);
  const isLand = (turns: number, edges: number) => (rule === "even-odd" ? edges % 2 !== 0 : turns !== 0);
  const border = borderOf(arrangement, isLand);
  const rings = ringsAlong(arrangement.points, border);
  return nestRings(
    rings.filter((ring) => Math.abs(ringArea(ring)) > reach * Math.max(maxX - minX, maxY - minY)),
  );
};

/** The stretches with land on one side, directed so that it lies on the left. */
function borderOf(
  { points, stretches }: Arrangement,
  isLand: (turns: number, edges: number) => boolean,
): [from: number, to: number][] {
  const rays = [new Rays(points, stretches, 0), new Rays(points, stretches, 1)] as const;
  return stretches.flatMap((stretch): [number, number][] => {
    const [a, b] = [points[stretch.from]!, points[stretch.to]!];
    const isSteep = Math.abs(b[1] - a[1]) >= Math.abs(b[0] - a[0]);
    // Beyond the stretch in the direction of the ray (east of a steep one, north of a flat one).
    const beyond = rays[isSteep ? 0 : 1].countBeyond(stretch);
    const isRising = isSteep ? b[1] > a[1] : b[0] < a[0];
    // Left of a rising stretch is the near side, with the ray's direction to its right.
    const near = {
      turns: beyond.turns + (isRising ? stretch.turns : -stretch.turns),
      edges: beyond.edges + stretch.edges,
    };
    const landBeyond = isLand(beyond.turns, beyond.edges);
    const landNear = isLand(near.turns, near.edges);
    if (landBeyond === landNear) return [];
    const landLeft = isRising ? landNear : landBeyond;
    return [landLeft ? [stretch.from, stretch.to] : [stretch.to, stretch.from]];
  });
}

/** Counts what a ray along one axis meets, from the middle of a stretch to infinity. */
class Rays {
  readonly #points: readonly Point[];
  readonly #axis: 0 | 1;
  readonly #rows: Stretch[][];
  readonly #low: number;
  readonly #perRow: number;

  constructor(points: readonly Point[], stretches: readonly Stretch[], axis: 0 | 1) {
    this.#points = points;
    this.#axis = axis;
    const across = points.map((point) => point[1 - axis]!);
    this.#low = across.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
    const high = across.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
    const count = Math.max(1, Math.ceil(Math.sqrt(stretches.length)) * 2);
    this.#perRow = (high - this.#low) / count || 1;
    this.#rows = Array.from({ length: count + 1 }, () => []);
    for (const stretch of stretches) {
      const [a, b] = [across[stretch.from]!, across[stretch.to]!];
      for (let row = this.#rowOf(Math.min(a, b)); row <= this.#rowOf(Math.max(a, b)); row++) {
        this.#rows[row]!.push(stretch);
      }
    }
  }

  #rowOf(across: number): number {
    return Math.min(this.#rows.length - 1, Math.max(0, Math.floor((across - this.#low) / this.#perRow)));
  }

  countBeyond(stretch: Stretch): { turns: number; edges: number } {
    const axis = this.#axis;
    const [from, to] = [this.#points[stretch.from]!, this.#points[stretch.to]!];
    const at = (from[axis]! + to[axis]!) / 2;
    const level = (from[1 - axis]! + to[1 - axis]!) / 2;
    let turns = 0;
    let edges = 0;
    for (const other of this.#rows[this.#rowOf(level)]!) {
      if (other === stretch) continue;
      const [a, b] = [this.#points[other.from]!, this.#points[other.to]!];
      const [levelA, levelB] = [a[1 - axis]!, b[1 - axis]!];
      if (levelA > level === levelB > level) continue;
      const meets = a[axis]! + ((level - levelA) / (levelB - levelA)) * (b[axis]! - a[axis]!);
      if (meets <= at) continue;
      // Going up across an eastward ray turns round the start once, counter-clockwise; across a northward one, going west.
      const isUp = levelB > levelA;
      turns += isUp === (axis === 0) ? other.turns : -other.turns;
      edges += other.edges;
    }
    return { turns, edges };
  }
}

/** Simple rings along directed stretches with land on the left. */
function ringsAlong(points: readonly Point[], border: readonly (readonly [number, number])[]): Ring[] {
  const leaving = new Map<number, number[]>();
  for (const [from, to] of border) {
    const others = leaving.get(from);
    if (others) others.push(to);
    else leaving.set(from, [to]);
  }
  const places = { xs: points.map(([x]) => x), ys: points.map(([, y]) => y) };
  const rings: Ring[] = [];
  for (const [start] of border) {
    while ((leaving.get(start)?.length ?? 0) > 0) {
      const path = [start];
      const placeOf = new Map([[start, 0]]);
      let at = start;
      for (;;) {
        const next = takeNext(places, leaving, path.at(-2), at);
        if (next === undefined) break;
        const seen = placeOf.get(next);
        if (seen === undefined) {
          placeOf.set(next, path.length);
          path.push(next);
        } else {
          const loop = path.splice(seen + 1);
          for (const id of loop) placeOf.delete(id);
          rings.push([next, ...loop].map((id) => points[id]!));
        }
        at = next;
        if (path.length === 1 && (leaving.get(start)?.length ?? 0) === 0) break;
      }
    }
  }
  return rings;
}

/** Takes the way on that keeps the same land on the left. */
function takeNext(
  { xs, ys }: { readonly xs: readonly number[]; readonly ys: readonly number[] },
  leaving: Map<number, number[]>,
  before: number | undefined,
  at: number,
): number | undefined {
  const ways = leaving.get(at);
  if (ways === undefined || ways.length === 0) return undefined;
  const next = before === undefined ? ways[0]! : firstClockwise(ways, before, at, xs, ys);
  return ways.splice(ways.indexOf(next), 1)[0];
}
