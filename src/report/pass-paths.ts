import { distance, type Point } from "../geo/index.ts";
import type { LaidPasses } from "../plan/index.ts";
import type { WorkedSegment } from "../strips/index.ts";
import { type LineFrame, lineFrame } from "./line-frame.ts";

/** Where the middle of the rig goes on a piece, in the field's plane, metres, the way metres along the pass rise. */
export interface PassPath {
  readonly path: readonly Point[];
  /** Width of the ground the path stands for: the pass, or what the boundary leaves of it. */
  readonly widthM: number;
}

const made = new WeakMap<LaidPasses, readonly PassPath[]>();

/** The path of every piece, in their order; worked out once a layout. */
export function passPaths(passes: LaidPasses): readonly PassPath[] {
  const known = made.get(passes);
  if (known) return known;
  const paths: PassPath[] = [];
  const { along, widthM } = passes;
  if (along.length === 2) {
    const frame = lineFrame([along[0]!, along[1]!]);
    passes.pieces.forEach((piece, k) => {
      if (piece.kind === "interior") paths[k] = straightPath(piece, frame, widthM);
    });
  }
  for (const { segments, forward } of passes.runs) {
    if (paths[segments[0]!] !== undefined) continue;
    const rising = forward ? segments : segments.toReversed();
    rising.forEach((k, i) => {
      paths[k] = bentPath(passes.pieces, rising[i - 1], k, rising[i + 1], widthM);
    });
  }
  made.set(passes, paths);
  return paths;
}

/** In the middle of the pass, or in the middle of a piece that does not reach it. */
function straightPath(piece: WorkedSegment, frame: LineFrame, widthM: number): PassPath {
  const middle = piece.pass * widthM;
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const point of piece.polygon[0]!) {
    const [across] = frame.toLine(point);
    [least, most] = [Math.min(least, across), Math.max(most, across)];
  }
  const isReached = least < middle && middle < most;
  const across = isReached ? middle : (least + most) / 2;
  return {
    path: [frame.toPlane([across, piece.alongStartM]), frame.toPlane([across, piece.alongEndM])],
    widthM: isReached ? widthM : most - least,
  };
}

/** From the middle of the cut that a piece shares with the one before, by its own middle, to the cut shared with the next. */
function bentPath(
  pieces: readonly WorkedSegment[],
  before: number | undefined,
  k: number,
  after: number | undefined,
  widthM: number,
): PassPath {
  const piece = pieces[k]!;
  const middle = middleOf(piece);
  const first = before === undefined ? null : cutBetween(pieces[before]!, piece);
  const last = after === undefined ? null : cutBetween(piece, pieces[after]!);
  const [start, end] = [first && middleOfCut(first), last && middleOfCut(last)];
  const half = Math.max(0, piece.alongEndM - piece.alongStartM) / 2;
  const heading = (piece.headingDeg * Math.PI) / 180;
  const away = (sign: 1 | -1): Point => [
    middle[0] + sign * half * Math.sin(heading),
    middle[1] + sign * half * Math.cos(heading),
  ];
  const opposite = ([x, y]: Point): Point => [2 * middle[0] - x, 2 * middle[1] - y];
  const from = start ?? (end ? opposite(end) : away(-1));
  const to = end ?? (start ? opposite(start) : away(1));
  const turn = (first && last && corner(first, last)) ?? middle;
  const path = [from, turn, to];
  const lengthM = distance(from, turn) + distance(turn, to);
  return { path, widthM: lengthM > 0 ? Math.min(widthM, piece.areaM2 / lengthM) : widthM };
}

type Cut = readonly [Point, Point];

const middleOfCut = ([[ax, ay], [bx, by]]: Cut): Point => [(ax + bx) / 2, (ay + by) / 2];

/** Where the rig would turn between two cuts if it left the one and met the other square; null where they lie alike. */
function corner(first: Cut, last: Cut): Point | null {
  const [[px, py], [qx, qy]] = [middleOfCut(first), middleOfCut(last)];
  const across = ([[ax, ay], [bx, by]]: Cut): Point => [by - ay, ax - bx];
  const [[ux, uy], [vx, vy]] = [across(first), across(last)];
  const sine = ux * vy - uy * vx;
  const most = distance(first[0], first[1]) * distance(last[0], last[1]);
  if (Math.abs(sine) < BENT * most) return null;
  const share = ((qx - px) * vy - (qy - py) * vx) / sine;
  const place: Point = [px + share * ux, py + share * uy];
  const between = distance([px, py], [qx, qy]);
  return distance(place, [px, py]) + distance(place, [qx, qy]) < 2 * between ? place : null;
}

/** Sine of the angle from which two cuts make a corner. */
const BENT = 0.3;

/** The outermost corners that two pieces share; null where they share no two. */
function cutBetween(one: WorkedSegment, other: WorkedSegment): Cut | null {
  const corners = new Set(other.polygon[0]!.map((point) => point.join()));
  const shared = one.polygon[0]!.filter((point) => corners.has(point.join()));
  let best: Cut | null = null;
  let most = 0;
  for (const a of shared) {
    for (const b of shared) {
      if (distance(a, b) <= most) continue;
      most = distance(a, b);
      best = [a, b];
    }
  }
  return best;
}

function middleOf({ polygon }: WorkedSegment): Point {
  const ring = polygon[0]!;
  const [x0, y0] = ring[0]!;
  let [area, x, y] = [0, 0, 0];
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const twice = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
    area += twice;
    x += twice * (ax + bx - 2 * x0);
    y += twice * (ay + by - 2 * y0);
  });
  return area === 0 ? [x0, y0] : [x0 + x / (3 * area), y0 + y / (3 * area)];
}
