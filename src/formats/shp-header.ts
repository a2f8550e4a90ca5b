import { InputError } from "../errors/index.ts";

/** Shape types of a .shp by their number without Z (+10) and M (+20). */
const SHAPE_KINDS: Readonly<Record<number, "none" | "point" | "line" | "polygon" | "multipoint">> = {
  0: "none",
  1: "point",
  3: "line",
  5: "polygon",
  8: "multipoint",
};

export interface ShpHeader {
  /** The number as in the file: 15 is a polygon with Z. */
  readonly type: number;
  readonly kind: "none" | "point" | "line" | "polygon" | "multipoint";
}

/**
 * The 100-byte header of a .shp or .shx, checked against the bytes at hand.
 * Throws `not-a-shapefile`, `file-cut-short`, `shape-type-not-read`.
 */
export function readShpHeader(view: DataView, path: string): ShpHeader {
  if (view.byteLength < 100 || view.getInt32(0) !== 9994 || view.getInt32(28, true) !== 1000) {
    throw new InputError("not-a-shapefile", `${path} is not a shapefile part`, "Choose the shapefile again.");
  }
  const stated = view.getInt32(24) * 2;
  if (stated !== view.byteLength) {
    throw new InputError(
      "file-cut-short",
      `${path} says it has ${stated} bytes and has ${view.byteLength}`,
      "Copy or export the shapefile again.",
    );
  }
  const type = view.getInt32(32, true);
  const kind = SHAPE_KINDS[type % 10];
  if (kind === undefined || type < 0 || type > 28 || (type % 10 === 0 && type !== 0)) {
    throw new InputError(
      "shape-type-not-read",
      `${path} holds shapes of type ${type}, which is not read`,
      "Export points, lines or polygons.",
    );
  }
  return { type, kind };
}
