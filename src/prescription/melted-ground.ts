import { type Polygon, unionOfTiles } from "../geo/index.ts";

/** Where a map's polygons lie when pieces of one stretch are put together. */
interface MeltedGround {
  readonly polygons: readonly Polygon[];
  readonly zones: readonly string[];
  /** The pieces of each polygon. */
  readonly members: readonly (readonly number[])[];
}

/** Names of zones in the order of a map, further ones of the same name numbered: `12-3`, `12-3-2`, `12-3-3`. */
export function numberedZones(names: readonly string[]): string[] {
  const seen = new Map<string, number>();
  return names.map((name) => {
    const count = (seen.get(name) ?? 0) + 1;
    seen.set(name, count);
    return count === 1 ? name : `${name}-${count}`;
  });
}

interface Stretched {
  /** Longitude and latitude as they will be written, a piece each; they tile the field. */
  readonly polygons: readonly Polygon[];
  readonly pieces: readonly { readonly column: number }[];
  /** What a pass is called in ZONE, a piece each. */
  readonly passNames: readonly string[];
  /** Number of the stretch of each piece, from 0. */
  readonly stretchOf: Int32Array;
  /** Place in the working order, a piece each: a stretch that must be parted is parted there. */
  readonly orderOf: readonly number[];
  /** Vertices that a polygon of several pieces may have, the closing one counted. */
  readonly mostVertices: number;
}

/**
 * One polygon a stretch. Vertices stay, so that it tiles with its neighbours. Parted in halves where the pieces are not one
 * polygon, would close round other ground, or would have too many vertices; `12-3:9` is pass 12, segments 3 to 9.
 */
export function meltedGround(stretched: Stretched): MeltedGround {
  const { polygons, pieces, passNames, stretchOf, orderOf, mostVertices } = stretched;
  const groups = new Map<number, number[]>();
  stretchOf.forEach((stretch, k) => {
    const own = groups.get(stretch);
    if (own === undefined) groups.set(stretch, [k]);
    else own.push(k);
  });
  const ordered = [...groups.values()]
    .map((own) => own.toSorted((a, b) => orderOf[a]! - orderOf[b]!))
    .sort((a, b) => Math.min(...a) - Math.min(...b));
  const melted: { polygon: Polygon; members: readonly number[] }[] = [];
  const melt = (members: readonly number[]): void => {
    if (members.length === 1) {
      melted.push({ polygon: polygons[members[0]!]!, members });
      return;
    }
    const [polygon, ...more] = unionOfTiles(members.map((k) => polygons[k]!));
    const holes = members.reduce((count, k) => count + polygons[k]!.length - 1, 0);
    const vertices = polygon!.reduce((count, ring) => count + ring.length + 1, 0);
    if (more.length === 0 && polygon!.length - 1 <= holes && vertices <= mostVertices) {
      melted.push({ polygon: polygon!, members });
      return;
    }
    const half = Math.ceil(members.length / 2);
    melt(members.slice(0, half));
    melt(members.slice(half));
  };
  for (const members of ordered) melt(members);
  const zones = melted.map(({ members }) => {
    const columns = members.map((k) => pieces[k]!.column);
    const [first, last] = [Math.min(...columns), Math.max(...columns)];
    return `${passNames[members[0]!]!}-${first}${first === last ? "" : `:${last}`}`;
  });
  return {
    polygons: melted.map(({ polygon }) => polygon),
    zones: numberedZones(zones),
    members: melted.map(({ members }) => members),
  };
}
