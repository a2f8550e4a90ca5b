import type { Point } from "../geo/index.ts";
import { connectedPieces } from "./connected-pieces.ts";
import { type GuidanceFrame, movePolygons } from "./guidance-frame.ts";
import type { LaidPiece } from "./laid-tile.ts";
import type { Segment } from "./strip-segments.ts";
import { type Run, type WorkPlan, workingOrder } from "./working-order.ts";

/** Connected pieces of one pass, driven without a stop. */
export interface WorkedRun extends Run {
  readonly kind: "interior" | "headland";
  readonly areaM2: number;
  readonly forward: boolean;
  /** Block of the interior it belongs to, in the order worked; -1 on the headland. */
  readonly block: number;
  /** Turn made to get here from the run before and way along the passes, m; 0 on the headland. */
  readonly turnM: number;
  readonly moveM: number;
  /** Numbers of its segments, in the order driven. */
  readonly segments: readonly number[];
}

interface WorkChoice extends WorkPlan {
  readonly headlands: "last" | "first";
}

/** Pieces as laid, gathered into runs, put in working order and brought to the field's plane. */
export const workTiles = (
  pieces: readonly LaidPiece[],
  frame: GuidanceFrame,
  choice: WorkChoice,
): { readonly segments: WorkedSegment[]; readonly runs: WorkedRun[] } => {
  const along = pieces.map(stretchOf);
  const interior: OpenRun[] = [];
  const headland: OpenRun[] = [];
  for (const members of connectedPieces(pieces)) {
    const { kind, pass, track } = pieces[members[0]!]!;
    const run = {
      kind,
      pass,
      track,
      startM: Math.min(...members.map((i) => along[i]![0])),
      endM: Math.max(...members.map((i) => along[i]![1])),
      areaM2: members.reduce((sum, i) => sum + pieces[i]!.areaM2, 0),
      members: members.toSorted((a, b) => along[a]![0] - along[b]![0] || a - b),
    };
    (kind === "interior" ? interior : headland).push(run);
  }
  const driven = workingOrder(interior, choice).map(({ run, ...step }) => drivenRun(interior[run]!, step));
  const around = headland
    .sort((a, b) => a.pass - b.pass || a.track - b.track || a.startM - b.startM)
    .map((run) => drivenRun(run, { forward: true, block: -1, turnM: 0, moveM: 0 }));
  // Worked last the rig leaves by the outermost pass; worked first it begins there.
  const runs =
    choice.headlands === "first"
      ? [...around, ...driven]
      : [...driven, ...around.toSorted((a, b) => b.pass - a.pass)];
  return { segments: worked(pieces, along, runs, frame), runs };
};

interface OpenRun extends Run {
  readonly kind: "interior" | "headland";
  readonly track: number;
  readonly areaM2: number;
  readonly members: readonly number[];
}

const drivenRun = (
  { track: _, members, ...run }: OpenRun,
  step: { forward: boolean; block: number; turnM: number; moveM: number },
): WorkedRun => ({ ...run, ...step, segments: step.forward ? members : members.toReversed() });

const stretchOf = ({ alongM, polygon }: LaidPiece): readonly [number, number] => {
  if (alongM !== undefined) return alongM;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const [, y] of polygon[0]!) {
    least = Math.min(least, y);
    most = Math.max(most, y);
  }
  return [least, most];
};

const worked = (
  pieces: readonly LaidPiece[],
  along: readonly (readonly [number, number])[],
  runs: readonly WorkedRun[],
  { toPlane }: GuidanceFrame,
): WorkedSegment[] => {
  const polygons = movePolygons(
    pieces.map(({ polygon }) => polygon),
    toPlane,
  );
  const origin = toPlane([0, 0]);
  const places = new Map<number, { run: number; order: number; forward: boolean }>();
  runs.forEach(({ segments, forward }, run) => {
    for (const segment of segments) places.set(segment, { run, order: places.size, forward });
  });
  return pieces.map(({ kind, pass, column, areaM2, way, keptOff }, i) => {
    const { run, order, forward } = places.get(i)!;
    const [x, y] = toPlane(way);
    const [alongStartM, alongEndM] = along[i]!;
    const headingDeg = headingOf([x - origin[0], y - origin[1]], forward);
    const polygon = polygons[i]!;
    return {
      kind,
      pass,
      column,
      polygon,
      areaM2,
      alongStartM,
      alongEndM,
      run,
      order,
      headingDeg,
      ...(keptOff ? { keptOff } : {}),
    };
  });
};

/** Degrees clockwise from north, 0 to 360, to a millionth. */
const headingOf = ([east, north]: Point, forward = true): number => {
  const degrees = (Math.atan2(east, north) * 180) / Math.PI + (forward ? 360 : 540);
  return (Math.round((degrees % 360) * 1e6) / 1e6) % 360;
};

/** A segment with its place in the work. */
export interface WorkedSegment extends Segment {
  readonly kind: "interior" | "headland";
  /** Number of its run in `runs`. */
  readonly run: number;
  /** Place in the working order, 0, 1, 2 ... */
  readonly order: number;
  /** Degrees clockwise from north of the field's plane, the way it is driven. */
  readonly headingDeg: number;
}
