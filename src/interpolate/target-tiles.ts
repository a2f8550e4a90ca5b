/** Targets that stand close together, and the rectangle they stand in, all in turned coordinates. */
interface TargetTile {
  /** Positions of the targets. */
  readonly targets: Int32Array;
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

/** About so many targets in a tile, so that choosing the samples for it pays. */
const TARGETS_IN_TILE = 64;

/**
 * Sorts targets into square tiles, each with few samples in reach; one tile when the covariance has no end.
 * Rows of tiles from the south, each from the west.
 */
export function targetTiles(u: Float64Array, v: Float64Array, reach: number): TargetTile[] {
  const all = Int32Array.from({ length: u.length }, (_, i) => i);
  if (u.length === 0) return [];
  const whole = around(all, u, v);
  const { west, east, south, north } = whole;
  const area = (east - west) * (north - south);
  const side = Math.max(reach / 16, Math.sqrt((area * TARGETS_IN_TILE) / u.length));
  if (!(side > 0 && Number.isFinite(side))) return [whole];
  const columns = Math.floor((east - west) / side) + 1;
  const rows = Math.floor((north - south) / side) + 1;
  if (columns * rows === 1 || columns * rows > u.length) return [whole];
  const tile = Int32Array.from(
    u,
    (_, i) => columns * Math.floor((v[i]! - south) / side) + Math.floor((u[i]! - west) / side),
  );
  const start = new Int32Array(columns * rows + 1);
  for (const t of tile) start[t + 1]!++;
  for (let t = 0; t < columns * rows; t++) start[t + 1]! += start[t]!;
  const next = start.slice();
  const sorted = new Int32Array(u.length);
  tile.forEach((t, i) => {
    sorted[next[t]!++] = i;
  });
  const tiles: TargetTile[] = [];
  for (let t = 0; t < columns * rows; t++) {
    if (start[t]! < start[t + 1]!) tiles.push(around(sorted.subarray(start[t], start[t + 1]), u, v));
  }
  return tiles;
}

function around(targets: Int32Array, u: Float64Array, v: Float64Array): TargetTile {
  let [west, east] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let [south, north] = [west, east];
  for (const i of targets) {
    west = Math.min(west, u[i]!);
    east = Math.max(east, u[i]!);
    south = Math.min(south, v[i]!);
    north = Math.max(north, v[i]!);
  }
  return { targets, west, east, south, north };
}

/** Positions of the samples within `reach` of a rectangle, ascending, written to `out`; returns how many. */
export function samplesInReach(
  { u, v }: { readonly u: Float64Array; readonly v: Float64Array },
  { west, east, south, north }: Pick<TargetTile, "west" | "east" | "south" | "north">,
  reach: number,
  out: Int32Array,
): number {
  let count = 0;
  for (let i = 0; i < u.length; i++) {
    const dx = Math.max(0, west - u[i]!, u[i]! - east);
    const dy = Math.max(0, south - v[i]!, v[i]! - north);
    if (dx * dx + dy * dy <= reach * reach) out[count++] = i;
  }
  return count;
}
