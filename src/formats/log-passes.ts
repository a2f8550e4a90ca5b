import { distance, fieldFrame, type Point } from "../geo/index.ts";
import { M_PER_FT } from "../units/index.ts";

/** One logged place of an as-applied log. */
export interface AppliedPoint {
  /** Its number in the file. */
  readonly record: number;
  /** Longitude and latitude, degrees. */
  readonly at: Point;
  /** As the file words it; empty without one. */
  readonly time: string;
  /** Null where the log gives none. */
  readonly targetLbPerAc: number | null;
  readonly appliedLbPerAc: number;
  readonly widthFt: number;
  /** Way driven since the point before. */
  readonly distanceFt: number;
  /** Counted from 0, one product after the other; a new one begins where the rig turns, jumps or moves over. */
  readonly pass: number;
  /** As the file calls it; empty where it does not say. */
  readonly product: string;
  /** Which of the files or layers that are read as one log it is of, counted from 0; left out where there is one. */
  readonly part?: number;
}

/** A place before its pass is known; NaN feet where the log gives no way. */
export type LoggedPoint = Omit<AppliedPoint, "pass">;

/** A turn of the way by more than this begins a pass, and a way of so many swaths and more. */
const TURN_DEG = 60;
const JUMP_SWATHS = 3;
/** A turn that is not logged, at a slanted end of a field: a way so much longer than usual, so many swaths to the side (ours). */
const MOVED_WAYS = 1.5;
const MOVED_SWATHS = 0.5;
/** A way shorter than this has no heading. */
const STANDING_M = 0.05;

/** The points of each product in passes of their own, products in the order in which they turn up. */
export function passesByProduct(points: readonly LoggedPoint[]): AppliedPoint[] {
  let before = 0;
  return [...new Set(points.map(({ product }) => product))].flatMap((product) => {
    const first = before;
    const own = inPasses(points.filter((point) => point.product === product));
    before += (own.at(-1)?.pass ?? -1) + 1;
    return own.map((point) => ({ ...point, pass: point.pass + first }));
  });
}

/** Numbers the passes from 0 and measures the ways that the log does not give. */
function inPasses(points: readonly LoggedPoint[]): AppliedPoint[] {
  const first = points[0];
  if (first === undefined) return [];
  const frame = fieldFrame(first.at[0], first.at[1]);
  let pass = 0;
  let heading: number | null = null;
  let before: Point | null = null;
  let lastM = 0;
  return points.map((point) => {
    const at = frame.toPlane(point.at);
    const wayM: number = before === null ? 0 : distance(at, before);
    const [toldM, swathM] = [(point.distanceFt || 0) * M_PER_FT, point.widthFt * M_PER_FT];
    if (before !== null && wayM > STANDING_M) {
      const way = (Math.atan2(at[0] - before[0], at[1] - before[1]) * 180) / Math.PI;
      const turned = heading === null ? 0 : Math.abs(((way - heading + 540) % 360) - 180);
      const sidewaysM = wayM * Math.sin((turned * Math.PI) / 180);
      const isMovedOver = wayM > MOVED_WAYS * (toldM || lastM) && sidewaysM > MOVED_SWATHS * swathM;
      if (turned > TURN_DEG || isMovedOver || wayM > JUMP_SWATHS * Math.max(toldM, swathM)) {
        pass += 1;
        heading = null;
      } else heading = way;
      lastM = wayM;
    }
    before = at;
    const measuredFt = heading === null ? 0 : wayM / M_PER_FT;
    return { ...point, distanceFt: Number.isNaN(point.distanceFt) ? measuredFt : point.distanceFt, pass };
  });
}
