import type { Point, Ring } from "../geo/index.ts";
import type { Graph } from "./wavy-line.ts";

/** A piece of ground from west to east, above every floor and below every roof; m. */
export interface Parcel {
  readonly west: number;
  readonly east: number;
  readonly floors: readonly Graph[];
  readonly roofs: readonly Graph[];
  /** Where a floor or roof jumps or bends sharply. */
  readonly breaks: readonly number[];
}

const STEP_M = 9;
const SIDE_OF_A_JUMP_M = 1e-6;
/** Ground thinner than this is not farmed. */
const THINNEST_M = 14;

export function boxParcel(west: number, south: number, east: number, north: number): Parcel {
  return { west, east, floors: [() => south], roofs: [() => north], breaks: [] };
}

/** The parcel less everything within `halfWidthM` of a line, above it and below it. */
export function splitAlong(parcel: Parcel, line: Graph, halfWidthM: number): [above: Parcel, below: Parcel] {
  return [
    { ...parcel, floors: [...parcel.floors, (x) => line(x) + halfWidthM] },
    { ...parcel, roofs: [...parcel.roofs, (x) => line(x) - halfWidthM] },
  ];
}

/** The parcel less a lane of `laneM` whose middle runs north and south at x. */
export function splitAt(parcel: Parcel, x: number, laneM: number): [west: Parcel, east: Parcel] {
  return [
    { ...parcel, east: x - laneM / 2 },
    { ...parcel, west: x + laneM / 2 },
  ];
}

/** The parcel less a rectangle in its upper or lower corner on the west or east side. */
export function withoutCorner(
  parcel: Parcel,
  side: "west" | "east",
  edge: "roof" | "floor",
  widthM: number,
  depthM: number,
): Parcel {
  const { west, east } = parcel;
  const at = side === "west" ? west + widthM : east - widthM;
  const inCorner = (x: number): boolean => (side === "west" ? x < at : x > at);
  const breaks = [...parcel.breaks, at];
  if (edge === "roof") {
    const roof: Graph = (x) => (inCorner(x) ? roofAt(parcel, x) - depthM : Number.POSITIVE_INFINITY);
    return { ...parcel, breaks, roofs: [...parcel.roofs, roof] };
  }
  const floor: Graph = (x) => (inCorner(x) ? floorAt(parcel, x) + depthM : Number.NEGATIVE_INFINITY);
  return { ...parcel, breaks, floors: [...parcel.floors, floor] };
}

/** The parcel less a triangle in its north-west or north-east corner, legs of `legM`. */
export function withCutCorner(parcel: Parcel, side: "west" | "east", legM: number): Parcel {
  const from = side === "west" ? parcel.west + legM : parcel.east - legM;
  const into = (x: number): number => (side === "west" ? from - x : x - from);
  const roof: Graph = (x) => (into(x) > 0 ? roofAt(parcel, x) - into(x) : Number.POSITIVE_INFINITY);
  return { ...parcel, breaks: [...parcel.breaks, from], roofs: [...parcel.roofs, roof] };
}

const roofAt = (parcel: Parcel, x: number): number => Math.min(...parcel.roofs.map((roof) => roof(x)));
const floorAt = (parcel: Parcel, x: number): number => Math.max(...parcel.floors.map((floor) => floor(x)));

/** The parcel's farmed pieces from west to east, each an outer ring, counter-clockwise. */
export function parcelRings(parcel: Parcel): Ring[] {
  const rings: Ring[] = [];
  let bottom: Point[] = [];
  let top: Point[] = [];
  const close = (): void => {
    if (bottom.length > 2) rings.push([...bottom, ...top.reverse()]);
    bottom = [];
    top = [];
  };
  for (const x of stations(parcel)) {
    const low = floorAt(parcel, x);
    const high = roofAt(parcel, x);
    if (high - low < THINNEST_M) {
      close();
      continue;
    }
    bottom.push([x, low]);
    top.push([x, high]);
  }
  close();
  return rings;
}

function stations({ west, east, breaks }: Parcel): number[] {
  const count = Math.ceil((east - west) / STEP_M);
  const even = Array.from({ length: count + 1 }, (_, i) => west + ((east - west) * i) / count);
  const sides = breaks.flatMap((x) => [x - SIDE_OF_A_JUMP_M, x + SIDE_OF_A_JUMP_M]);
  return [...even, ...sides.filter((x) => x > west && x < east)].sort((a, b) => a - b);
}
