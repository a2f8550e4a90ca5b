import { type Bounds, boundsOf, type Ring, ringArea } from "../geo/index.ts";
import { acres, FT_PER_MILE, metresFromFeet } from "../units/index.ts";
import {
  boxParcel,
  type Parcel,
  parcelRings,
  splitAlong,
  splitAt,
  withCutCorner,
  withoutCorner,
} from "./parcel.ts";
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
export const SECTION_M: number = metresFromFeet(FT_PER_MILE);
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
      const box: Bounds = {
        minX: west + HALF_ROAD_M,
        minY: south + HALF_ROAD_M,
        maxX: west + SECTION_M - HALF_ROAD_M,
        maxY: south + SECTION_M - HALF_ROAD_M,
      };
      for (const parcel of divided(random, box, boxParcel(box.minX, box.minY, box.maxX, box.maxY))) {
        found.push(...fieldsOn(random, parcel, crossings));
      }
    }
  }
  return found;
}

/** A parcel divided the way farms were: in halves again and again, some along a terrace instead of a fence. */
function divided(random: Random, box: Bounds, parcel: Parcel): Parcel[] {
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  if (random.chance(chanceToStay(acres(width * height)))) return [parcel];
  const share = random.chance(0.75) ? 0.5 : random.between(0.32, 0.68);
  if (random.chance(width > 1.2 * height ? 0.92 : height > 1.2 * width ? 0.08 : 0.5)) {
    const at = box.minX + share * width;
    const [left, right] = splitAt(parcel, at, LANE_M);
    return [...divided(random, { ...box, maxX: at }, left), ...divided(random, { ...box, minX: at }, right)];
  }
  const at = box.minY + share * height;
  const wave = random.chance(0.3) ? wandering(random, box.minX, box.maxX, 170) : () => 0;
  const [upper, lower] = splitAlong(parcel, (x) => at + 11 * wave(x), LANE_M / 2);
  return [...divided(random, { ...box, minY: at }, upper), ...divided(random, { ...box, maxY: at }, lower)];
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
  const rings = pieces.flatMap(parcelRings).sort((a, b) => ringArea(b) - ringArea(a));
  const large = rings.filter((ring) => acres(ringArea(ring)) >= SMALLEST_PART_AC).slice(0, 3);
  const together = large.length > 1 && random.chance(0.45);
  const fields = together ? [large] : rings.map((ring) => [ring]);
  return fields
    .map((parts) => ({ rings: parts, areaM2: parts.reduce((sum, ring) => sum + ringArea(ring), 0) }))
    .filter(({ areaM2 }) => acres(areaM2) >= SMALLEST_AC && acres(areaM2) <= LARGEST_AC);
}

/** Some parcels lose a corner to a farmstead or to a bend of the road. */
function shaped(random: Random, parcel: Parcel): Parcel {
  const { minX, minY, maxX, maxY } = boundsOf([parcelRings(parcel)]);
  const shortest = Math.min(maxX - minX, maxY - minY);
  const side = random.chance(0.5) ? "west" : "east";
  const kind = random.uniform();
  const width = random.between(60, 130);
  const depth = random.between(60, 130);
  if (shortest < 350 || kind > 0.42) return parcel;
  if (kind > 0.28) return withCutCorner(parcel, side, random.between(60, 150));
  return withoutCorner(parcel, side, random.chance(0.5) ? "roof" : "floor", width, depth);
}
