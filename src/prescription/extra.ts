import type { Polygon } from "../geo/index.ts";
import type { Ground, Prescription } from "./prescription.ts";

/** Other forms of a map than the one that is meant to be loaded. */
export type ExtraForm = "taskdata-4" | "taskdata-3" | "kg-ha" | "kml" | "csv" | "fallback";

/** One other form of one map, or of the maps of a pass that are worked in one go. */
export interface Extra {
  readonly form: ExtraForm;
  /** The maps whose rates it carries, by stem, in bin order. */
  readonly stems: readonly string[];
  /** Path below the form's folder -> bytes. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** `lb/ac`, `kg/ha` or `mg/m2`: unit of the rates in the files. */
  readonly unit: "lb/ac" | "kg/ha" | "mg/m2";
  /** Pounds that its files place, one a stem. */
  readonly totalLb: readonly number[];
  /** Less than the map's pounds or more, one a stem; what rounding to the form's numbers costs counts too. */
  readonly changeLb: readonly number[];
  /** Least and most rate on the field's ground as its files have it, lb/ac, one a stem. */
  readonly leastLbPerAc: readonly number[];
  readonly mostLbPerAc: readonly number[];
  /** Name of the task, as a display lists it; task data only. */
  readonly task?: string;
  /** Records, polygons or cells of its files. */
  readonly shapes: number;
  /** The rate that stands in place of 0, lb/ac; left out where 0 stays 0. */
  readonly smallRateLbPerAc?: number;
  /**
   * Task data alone: whether the task has a rate 0 anywhere, as its default, for a lost position, outside the field or on ground;
   * a grid always has one round its cells.
   */
  readonly sendsZero?: boolean;
  /** Acres of holes of the field that are polygons with rate 0 in its files, over the field's own; left out where there are none. */
  readonly holesAc?: number;
  /** Acres of the field's own that are kept clear and have rate 0 in its files, where no other ground may have a 0; left out where there are none. */
  readonly keptClearAc?: number;
  /** More than the controller is said to take, however coarse; told in the note. */
  readonly isOverLimits?: true;
  /** What is different from the map and why, in words; empty when nothing is. */
  readonly note: string;
}

/** Where a map's rates lie, as the extra forms need it; all in the order of its rates. */
export interface ExtraGround {
  /** Longitude and latitude as written; they tile the field. */
  readonly polygons: readonly Polygon[];
  readonly zones: readonly string[];
  /** Acres on the ellipsoid. */
  readonly areaAc: Float64Array;
  /** Pass and column of the lattice the pieces were cut by, and whether nothing may be laid there. */
  readonly pieces: readonly { readonly pass: number; readonly column: number; readonly keptOff?: true }[];
  /** The polygons of a map's own files, where its stretches have one each; the pieces when absent. */
  readonly ofMap?: (map: Prescription) => Ground;
}

/** Letters that extra shapefiles add to a stem, so that no two files with other rates have one name. */
export const FALLBACK_MARK = "F";
export const KG_HA_MARK = "K";
export const KG_HA_COLUMN = "RATE_KGHA";

/** How dark a map for looking draws a rate. */
export const shadeOf = (map: Prescription, rate: number): number =>
  map.maxLbPerAc > 0 ? rate / map.maxLbPerAc : 0;
