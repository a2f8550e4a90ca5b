import type { Point } from "../geo/index.ts";
import type { PointFile } from "./join-points.ts";

/** What the reader of a lab table wants of it; a plan wants both P and K and the depth only where lb/ac hang on it. */
export interface LabWants {
  readonly tests?: "both" | "any";
  readonly depth?: "always" | "for-lb-per-ac";
  /** Whether the day of sampling is known from elsewhere, so that dates of the rows do not matter. */
  readonly isDated?: boolean;
  /** The file that `join-points` names, for a table without positions. */
  readonly points?: PointFile;
  /** Whether a place lies near a field that is known, so that nobody need be asked on which side of Greenwich it is. */
  readonly isNearField?: (lonLat: Point) => boolean;
}
