import { shpBytes, writeShapefile } from "../formats/index.ts";
import { ellipsoidArea, orient, type Polygon, tilingFaults } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { acres } from "../units/index.ts";
import { type Coarse, coarserClasses } from "./coarse-classes.ts";
import { type Extra, type ExtraGround, FALLBACK_MARK } from "./extra.ts";
import { holeLand, meltTiles, Neighbours, plainPolygons } from "./melt-tiles.ts";
import type { Prescription } from "./prescription.ts";
import { rateColumns, rateRecords } from "./rate-records.ts";
import { EDGE_DEG } from "./read-back.ts";

export interface FallbackLimits {
  readonly mostPolygons: number;
  /** Of one polygon, the closing one counted. */
  readonly mostVertices: number;
  /** Of the .shp; no limit when absent. */
  readonly mostBytes?: number;
  readonly stepLbPerAc: number;
  /** Written instead of 0 where nothing is wanted; 0 when absent. Holes and pieces that are kept off keep 0. */
  readonly smallRateLbPerAc?: number;
}

interface PlainMap {
  readonly polygons: readonly Polygon[];
  readonly rates: readonly number[];
  readonly how: string;
  readonly isOverLimits?: true;
  /** Over the field's ground that may get something: holes have 0 whatever the map has, and what is kept clear beside a small rate. */
  readonly leastLbPerAc: number;
  readonly mostLbPerAc: number;
  readonly holesAc: number;
  readonly keptClearAc: number;
}

/**
 * A map for a controller that takes only plain files: one shapefile of single polygons without holes, few of them; equal
 * neighbours are melted, holes of the field are polygons with rate 0, ground that is kept clear has 0 whatever a small rate, and where that is not few enough the map is
 * coarsened step by step until it is. Its pounds, the change against the map and how it came about go with it.
 */
export function writeFallback(
  map: Prescription,
  ground: ExtraGround,
  limits: FallbackLimits,
  date: string,
): Extra {
  const plain = plainMap(map, ground, limits);
  const stem = `${map.stem}${FALLBACK_MARK}`;
  const zones = plain.polygons.map((_, k) => String(k + 1));
  const features = rateRecords(plain.polygons, plain.rates, zones, map.product);
  const files = writeShapefile({ stem, date, features, columns: rateColumns() });
  const totalLb = sum(plain.polygons.map((polygon, k) => acres(ellipsoidArea([polygon])) * plain.rates[k]!));
  const small = limits.smallRateLbPerAc ?? 0;
  const notes = [
    ...(plain.how === "" ? [] : [plain.how]),
    ...(plain.isOverLimits ? ["still more than the controller is said to take"] : []),
    ...(small > 0 ? [`${small} lb/ac where the map has 0`] : []),
  ];
  return {
    form: "fallback",
    stems: [map.stem],
    files,
    unit: "lb/ac",
    totalLb: [totalLb],
    changeLb: [totalLb - map.totalLb],
    leastLbPerAc: [plain.leastLbPerAc],
    mostLbPerAc: [plain.mostLbPerAc],
    shapes: plain.polygons.length,
    ...(plain.isOverLimits ? { isOverLimits: true } : {}),
    ...(small > 0 ? { smallRateLbPerAc: small } : {}),
    ...(plain.holesAc > 0 ? { holesAc: plain.holesAc } : {}),
    ...(small > 0 && plain.keptClearAc > 0 ? { keptClearAc: plain.keptClearAc } : {}),
    note: notes.join("; "),
  };
}

function plainMap(map: Prescription, ground: ExtraGround, limits: FallbackLimits): PlainMap {
  const { polygons: tiles, areaAc, pieces } = ground;
  const small = limits.smallRateLbPerAc ?? 0;
  const isKeptOff = (k: number): boolean => pieces[k]!.keptOff === true;
  const rateLbPerAc = map.rateLbPerAc.map((rate, k) => (rate === 0 && !isKeptOff(k) ? small : rate));
  const isTold = (k: number): boolean => small === 0 || !isKeptOff(k);
  const outline = meltTiles(tiles, new Int32Array(tiles.length), 1).map(({ polygon }) => polygon);
  const holes = holeLand(outline);
  const filled = orient([...outline, ...holes]);
  const neighbours = new Neighbours([...tiles, ...holes]);
  const { stepLbPerAc } = limits;
  const ways = [...coarserClasses({ rateLbPerAc, areaAc, pieces, stepLbPerAc })];
  for (const [k, coarse] of ways.entries()) {
    const isLast = k === ways.length - 1;
    const { classOf, rates } = holesAsZero(coarse, holes.length);
    if (!isLast && neighbours.groups(classOf) > limits.mostPolygons) continue;
    const melted = meltTiles([...tiles, ...holes], classOf, rates.length);
    const plain = plainPolygons(melted, limits.mostVertices);
    const found = {
      polygons: plain.map(({ polygon }) => polygon),
      rates: plain.map((one) => rates[one.class]!),
      how: coarse.how,
      leastLbPerAc: leastOf(coarse, isTold),
      holesAc: acres(ellipsoidArea(holes)),
      keptClearAc: sum(areaAc.map((ac, k) => (isKeptOff(k) ? ac : 0))),
      mostLbPerAc: coarse.classOf.reduce((most, one) => Math.max(most, coarse.rates[one]!), 0),
    };
    // Rounding may leave a gap where cuts met; then the next way is taken rather than a faulty file.
    const isTiled =
      tilingFaults(
        found.polygons.map((one) => [one]),
        filled,
        EDGE_DEG,
      ).length === 0;
    if (isTiled && fits(found, limits)) return found;
    if (isLast) return { ...found, isOverLimits: true };
  }
  throw new Error(`no plain form of ${map.stem}`);
}

/** The least rate of the pieces that are told; 0 where there are none. */
function leastOf({ classOf, rates }: Coarse, isTold: (k: number) => boolean): number {
  const told = rates.filter((_, one) => classOf.some((is, k) => is === one && isTold(k)));
  return told.length === 0 ? 0 : Math.min(...told);
}

/** Holes join the class of rate 0, made where there is none. */
function holesAsZero({ classOf, rates }: Coarse, holes: number): { classOf: Int32Array; rates: number[] } {
  if (holes === 0) return { classOf, rates: [...rates] };
  const zero = rates.indexOf(0);
  const number = zero >= 0 ? zero : rates.length;
  const all = new Int32Array(classOf.length + holes).fill(number);
  all.set(classOf);
  return { classOf: all, rates: zero >= 0 ? [...rates] : [...rates, 0] };
}

function fits({ polygons }: Pick<PlainMap, "polygons">, limits: FallbackLimits): boolean {
  const vertices = polygons.map((polygon) => polygon[0]!.length + 1);
  return (
    polygons.length <= limits.mostPolygons &&
    vertices.every((count) => count <= limits.mostVertices) &&
    shpBytes(polygons) <= (limits.mostBytes ?? Number.POSITIVE_INFINITY)
  );
}
