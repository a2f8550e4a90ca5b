import {
  boundsOf,
  latticeTiles,
  nestRings,
  type Point,
  type Polygon,
  type Ring,
  ringArea,
  snapFlatTiles,
  snapTiles,
  WRITTEN_DECIMALS,
} from "../geo/index.ts";
import { joinedSets } from "../numeric/index.ts";

const PER_DEGREE = 10 ** WRITTEN_DECIMALS;

/** One polygon of a class. */
interface Melted {
  /** Position in the list of classes. */
  readonly class: number;
  readonly polygon: Polygon;
}

/**
 * Tiles that share edges vertex for vertex (degrees as written), melted class by class: edges between tiles of one class
 * fall away. `classOf` is 0 to `classes` - 1, one a tile. Polygons may have holes, where another class lies. By class.
 */
export function meltTiles(tiles: readonly Polygon[], classOf: ArrayLike<number>, classes: number): Melted[] {
  const bags = Array.from({ length: classes }, () => [] as number[][]);
  tiles.forEach((tile, k) => {
    for (const ring of tile) bags[classOf[k]!]!.push(ring.flat());
  });
  return snapFlatTiles(bags, PER_DEGREE).flatMap((polygons, number) =>
    polygons.map((polygon) => ({ class: number, polygon })),
  );
}

/** How many polygons melting would give, touching corners apart, without melting. */
export class Neighbours {
  private readonly pairs: readonly (readonly [number, number])[];
  private readonly count: number;

  constructor(tiles: readonly Polygon[]) {
    const owners = new Map<string, number>();
    const pairs: [number, number][] = [];
    tiles.forEach((tile, k) => {
      for (const ring of tile) {
        ring.forEach(([x, y], i) => {
          const [toX, toY] = ring[(i + 1) % ring.length]!;
          const other = owners.get(`${toX} ${toY} ${x} ${y}`);
          if (other === undefined) owners.set(`${x} ${y} ${toX} ${toY}`, k);
          else pairs.push([other, k]);
        });
      }
    });
    this.pairs = pairs;
    this.count = tiles.length;
  }

  /** Connected groups of tiles of one class. */
  groups(classOf: ArrayLike<number>): number {
    const sets = joinedSets(this.count);
    let groups = this.count;
    for (const [a, b] of this.pairs) {
      if (classOf[a] === classOf[b] && sets.join(a, b)) groups--;
    }
    return groups;
  }
}

/**
 * Polygons cut up until none has a hole and none more vertices than `mostVertices` (one at least 8), then given the
 * vertices that cuts put on their neighbours' edges, so that they still tile. Each keeps its class; order by class.
 */
export function plainPolygons(melted: readonly Melted[], mostVertices: number): Melted[] {
  let plain: readonly Melted[] = melted;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const cut = plain.flatMap((one) => cutPlain(one, mostVertices));
    const snapped = snapTiles(
      cut.map(({ polygon }) => [polygon]),
      PER_DEGREE,
    );
    plain = snapped.flatMap((polygons, k) => polygons.map((polygon) => ({ class: cut[k]!.class, polygon })));
    if (plain.every(({ polygon }) => isPlain(polygon, mostVertices))) break;
  }
  if (plain.some(({ polygon }) => polygon.length > 1)) throw new Error("plainPolygons: holes come back");
  return [...plain];
}

const MOST_ROUNDS = 6;

/** The closing vertex counts, as files repeat it. */
const isPlain = (polygon: Polygon, mostVertices: number): boolean =>
  polygon.length === 1 && polygon[0]!.length < mostVertices;

function cutPlain(one: Melted, mostVertices: number): Melted[] {
  const { polygon } = one;
  if (isPlain(polygon, mostVertices)) return [one];
  const { minX, minY, maxX, maxY } = boundsOf([[polygon[1] ?? polygon[0]!]]);
  const axis = (maxX - minX) * Math.cos((minY * Math.PI) / 180) > maxY - minY ? 0 : 1;
  const at = axis === 0 ? (minX + maxX) / 2 : (minY + maxY) / 2;
  return halves(polygon, axis, Math.round(at * PER_DEGREE) / PER_DEGREE).flatMap((half) =>
    cutPlain({ class: one.class, polygon: half }, mostVertices),
  );
}

/** Width of the bands that the cut makes, degrees: wider than any field. */
const WIDE = 64;

/**
 * The polygon cut at a line of equal x (axis 0) or y (axis 1). Not rounded: where two neighbours are cut at two places of
 * one edge, both places must still lie on it when all are rounded together.
 */
function halves(polygon: Polygon, axis: 0 | 1, at: number): Polygon[] {
  // The lattice cuts where x is half a width; y is kept within one column.
  const [x0, y0] = polygon[0]![0]!;
  const shift: readonly [number, number] =
    axis === 0 ? [WIDE / 2 - at, WIDE / 2 - y0] : [WIDE / 2 - at, WIDE / 2 + x0];
  const moved = polygon.map((ring) =>
    ring.map(([x, y]) =>
      axis === 0 ? ([x + shift[0], y + shift[1]] as const) : ([y + shift[0], shift[1] - x] as const),
    ),
  );
  const back = ([x, y]: readonly [number, number]): Point =>
    axis === 0 ? [x - shift[0], y - shift[1]] : [shift[1] - y, x - shift[0]];
  const bags = latticeTiles([moved], { widthM: WIDE, lengthM: WIDE }).map(({ rings }) =>
    rings.map((flat) => {
      const ring: Point[] = [];
      for (let i = 0; i < flat.length; i += 2) ring.push(back([flat[i]!, flat[i + 1]!]));
      return ring;
    }),
  );
  return bags.flatMap((rings) => nestRings(rings.filter((ring) => Math.abs(ringArea(ring)) > CRUMB)));
}

/** Square degrees: a billionth of what a square of one step each way has. */
const CRUMB = 1e-9 / PER_DEGREE ** 2;

/** The ground inside a field's outline that is not the field: its holes, less what land lies in them. */
export function holeLand(outline: readonly Polygon[]): Polygon[] {
  const rings: Ring[] = outline.flatMap((polygon) => polygon.slice(1));
  if (rings.length === 0) return [];
  const holes = nestRings(rings.map((ring) => (ringArea(ring) > 0 ? ring : ring.toReversed())));
  const islands = outline.flatMap((polygon) =>
    holes.some((hole) => liesIn(polygon[0]!, hole[0]!)) ? [polygon[0]!] : [],
  );
  return [...nestRings([...rings, ...islands])];
}

function liesIn(inner: Ring, outer: Ring): boolean {
  const all = nestRings([outer, inner]);
  return all.length === 1 && all[0]!.length === 2 && Math.abs(ringArea(inner)) < Math.abs(ringArea(outer));
}
