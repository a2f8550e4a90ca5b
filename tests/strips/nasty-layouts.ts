import {
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  repairBoundary,
  tilingFaults,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { type LaidStrips, type RigLayout, stripLayout } from "../../src/strips/index.ts";
import { invalidTiles, perimeter } from "../geo/tiles.ts";

export interface LayoutFault {
  readonly what: string;
  readonly detail: unknown;
}

/** What is wrong with a layout of some land, by properties that need no reference. Empty when all is well. */
export const layoutFaults = (laid: LaidStrips, boundary: MultiPolygon): LayoutFault[] => {
  const tiles = laid.segments.map(({ polygon }): MultiPolygon => [polygon]);
  const faults: LayoutFault[] = tilingFaults(tiles, boundary, 2e-4).map((detail) => ({
    what: "tiling",
    detail,
  }));
  faults.push(...invalidTiles(tiles).map((detail) => ({ what: "invalid", detail })));
  const areas = laid.segments.map(({ areaM2 }) => areaM2);
  if (!areas.every((areaM2) => areaM2 > 0)) faults.push({ what: "not positive", detail: Math.min(...areas) });
  // Each corner moves by under 0.1 mm, so the total by under that along the border.
  const off = Math.abs(sum(areas) - multiPolygonArea(boundary));
  if (off > 1e-4 * perimeter(boundary)) faults.push({ what: "total", detail: off });
  const inside = laid.segments.filter(({ kind }) => kind === "interior").map(({ areaM2 }) => areaM2);
  const offInside = Math.abs(sum(inside) - laid.interiorM2);
  if (offInside > 1e-4 * perimeter(laid.interior) + 1e-6)
    faults.push({ what: "interior", detail: offInside });
  return faults;
};

export const layAndCheck = (layout: RigLayout): { laid: LaidStrips; faults: LayoutFault[] } => {
  const { repaired } = repairBoundary(layout.boundary);
  const laid = stripLayout({ ...layout, boundary: repaired });
  return { laid, faults: layoutFaults(laid, repaired) };
};

/** A curve across a place, bent by up to a radius; straight beyond its ends. */
export const bentLine = (
  [x, y]: Point,
  lengthM: number,
  bendM: number,
  waves: number,
  headingRad: number,
): Point[] =>
  Array.from({ length: 25 }, (_, i): Point => {
    const along = (i / 24 - 0.5) * lengthM;
    const across = bendM * Math.sin((i / 24) * Math.PI * waves);
    const [east, north] = [Math.sin(headingRad), Math.cos(headingRad)];
    return [x + along * east + across * north, y + along * north - across * east];
  });
