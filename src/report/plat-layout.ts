import { boundsOf, type MultiPolygon, type Point } from "../geo/index.ts";

/** px between the edge of the plat and the field on each side. */
export interface Inset {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** How metres of the field's plane become px of the drawing: north is up, one scale both ways. */
export interface PlatLayout {
  readonly width: number;
  readonly height: number;
  readonly pxPerM: number;
  toPx(plane: Point): Point;
  toPlane(px: Point): Point;
}

/** Room for the neat line, the north arrow at the right and the scale bar below. */
export const usualInset: Inset = { left: 24, top: 24, right: 58, bottom: 52 };

/** The field as large as it goes within the insets, in the middle of what they leave. */
export function platLayout(
  boundary: MultiPolygon,
  size: { readonly width: number; readonly height: number; readonly inset?: Inset },
): PlatLayout {
  const { width, height } = size;
  const inset = size.inset ?? usualInset;
  const { minX, minY, maxX, maxY } = boundsOf(boundary);
  const roomX = width - inset.left - inset.right;
  const roomY = height - inset.top - inset.bottom;
  const pxPerM = Math.min(roomX / (maxX - minX), roomY / (maxY - minY));
  const [middleX, middleY] = [inset.left + roomX / 2, inset.top + roomY / 2];
  const [eastM, northM] = [(minX + maxX) / 2, (minY + maxY) / 2];
  return {
    width,
    height,
    pxPerM,
    toPx: ([x, y]) => [middleX + (x - eastM) * pxPerM, middleY - (y - northM) * pxPerM],
    toPlane: ([x, y]) => [eastM + (x - middleX) / pxPerM, northM - (y - middleY) / pxPerM],
  };
}
