import type { Ring } from "../geo/index.ts";
import { M2_PER_AC } from "../units/index.ts";
import {
  boxParcel,
  type Parcel,
  parcelRings,
  splitAlong,
  splitAt,
  withCutCorner,
  withoutCorner,
} from "./parcel.ts";
import { type Box, boxOf, ringAreaM2 } from "./plane.ts";
import type { Random } from "./random.ts";
import type { SectionsLayout } from "./seed-types.ts";
import { type Graph, wandering } from "./wavy-line.ts";

/** A creek or railroad across the whole farm with the ground it takes to either side, m. */
export interface Crossing {
  readonly line: Graph;
  readonly halfWidthM: number;
}

/** Ground that could be a field, in the farm's plane before it is turned. */
export interface Candidate {
  readonly rings: readonly Ring[];
  readonly areaM2: number;
}

/** A section is a square mile; half a road lies along each of its sides. */
export const SECTION_M = 1_609.344;
const HALF_ROAD_M = 10;
const LANE_M = 5;
const SMALLEST_AC = 15.6;
const LARGEST_AC = 316;
const SMALLEST_PART_AC = 4;

/** Everything on the sections that is large enough for a field, section by section from the south-west. */
export function fieldCandidates(
  random: Random,
  layout: SectionsLayout,
  crossings: readonly Crossing[],
): Candidate[] {
  const found: Candidate[] = [];
  for (let row = 0; row < layout.rows; row++) {
    for (let column = 0; column < layout.columns; column++) {
      const west = (column - layout.columns / 2) * SECTION_M;
      const south = (row - layout.rows / 2) * SECTION_M;
      const box: Box = {
        west: west + HALF_ROAD_M,
        south: south + HALF_ROAD_M,
        east: west + SECTION_M - HALF_ROAD_M,
        north: south + SECTION_M - HALF_ROAD_M,
      };
      for (const parcel of divided(random, box, boxParcel(box.west, box.south, box.east, box.north))) {
        found.push(...fieldsOn(random, parcel, crossings));
      }
    }
  }
  return found;
}

/** A parcel divided the way farms were: in halves again and again, some along a terrace instead of a fence. */
function divided(random: Random, box: Box, parcel: Parcel): Parcel[] {
  const width = box.east - box.west;
  const height = box.north - box.south;
  if (random.chance(chanceToStay((width * height) / M2_PER_AC))) return [parcel];
  const share = random.chance(0.75) ? 0.5 : random.between(0.32, 0.68);
  if (random.chance(width > 1.2 * height ? 0.92 : height > 1.2 * width ? 0.08 : 0.5)) {
    const at = box.west + share * width;
    const [left, right] = splitAt(parcel, at, LANE_M);
    return [...divided(random, { ...box, east: at }, left), ...divided(random, { ...box, west: at }, right)];
  }
  const at = box.south + share * height;
  const wave = random.chance(0.3) ? wandering(random, box.west, box.east, 170) : () => 0;
  const [upper, lower] = splitAlong(parcel, (x) => at + 11 * wave(x), LANE_M / 2);
  return [...divided(random, { ...box, south: at }, upper), ...divided(random, { ...box, north: at }, lower)];
}

function chanceToStay(areaAc: number): number {
  if (areaAc > 330) return 0;
  if (areaAc > 200) return 0.16;
  if (areaAc > 110) return 0.42;
  if (areaAc > 60) return 0.66;
  return areaAc > 36 ? 0.93 : 1;
}

/** What creeks, railroad and farmsteads leave of a parcel: one field of several parts, or a field each. */
function fieldsOn(random: Random, parcel: Parcel, crossings: readonly Crossing[]): Candidate[] {
  let pieces: Parcel[] = [shaped(random, parcel)];
  for (const { line, halfWidthM } of crossings) {
    pieces = pieces.flatMap((piece) => splitAlong(piece, line, halfWidthM));
  }
  const rings = pieces.flatMap(parcelRings).sort((a, b) => ringAreaM2(b) - ringAreaM2(a));
  const large = rings.filter((ring) => ringAreaM2(ring) >= SMALLEST_PART_AC * M2_PER_AC).slice(0, 3);
  const together = large.length > 1 && random.chance(0.45);
  const fields = together ? [large] : rings.map((ring) => [ring]);
  return fields
    .map((parts) => ({ rings: parts, areaM2: parts.reduce((sum, ring) => sum + ringAreaM2(ring), 0) }))
    .filter(({ areaM2 }) => areaM2 >= SMALLEST_AC * M2_PER_AC && areaM2 <= LARGEST_AC * M2_PER_AC);
}

/** Some parcels lose a corner to a farmstead or to a bend of the road. */
function shaped(random: Random, parcel: Parcel): Parcel {
  const { west, south, east, north } = boxOf(parcelRings(parcel));
  const shortest = Math.min(east - west, north - south);
  const side = random.chance(0.5) ? "west" : "east";
  const kind = random.uniform();
  const width = random.between(60, 130);
  const depth = random.between(60, 130);
  if (shortest < 350 || kind > 0.42) return parcel;
  if (kind > 0.28) return withCutCorner(parcel, side, random.between(60, 150));
  return withoutCorner(parcel, side, random.chance(0.5) ? "roof" : "floor", width, depth);
}
