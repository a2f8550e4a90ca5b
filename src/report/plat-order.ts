import { distance, type Point } from "../geo/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import { passPaths } from "./pass-paths.ts";
import { inCircle } from "./plat-labels.ts";
import type { PlatLayout } from "./plat-layout.ts";
import { element, px } from "./svg.ts";
import { type Inks, inkOf, paperOf } from "./tokens.ts";

/** px between two arrows, from an arrow to the ends of its run, and of an arrow's head. */
const ARROW_ROOM_PX = 22;
const SHORTEST_RUN_PX = 26;
const HEAD_PX = 4;
/** px between two numbers of blocks, and radius of their circles. */
const BLOCK_ROOM_PX = 24;
const BLOCK_PX = 8;

/**
 * The working order: an arrow in the middle of every run that there is room for, the way it is driven; where more than one
 * block is worked, their numbers where each is entered, and where the headland is worked its own number after them.
 */
export function workingMarks(field: DrawnField, layout: PlatLayout, inks: Inks): string {
  const { passes } = field;
  const paths = passPaths(passes);
  const arrowsAt: Point[] = [];
  const blocksAt: Point[] = [];
  let arrows = "";
  let numbers = "";
  let last: string | null = null;
  let count = 0;
  const parts = new Set(passes.runs.map(partOf)).size;
  for (const run of passes.runs) {
    const driven = drivenPath(
      run.segments.map((k) => paths[k]!.path),
      run.forward,
    ).map(layout.toPx);
    const arrow = arrowOn(driven, arrowsAt);
    if (arrow) {
      arrows += arrow.path;
      arrowsAt.push(arrow.at);
    }
    const part = partOf(run);
    if (part === last) continue;
    last = part;
    count++;
    const [x, y] = driven[0]!;
    if (parts < 2 || blocksAt.some((at) => distance(at, [x, y]) < BLOCK_ROOM_PX)) continue;
    blocksAt.push([x, y]);
    numbers += inCircle(x, y, String(count), BLOCK_PX, inks);
  }
  const ink = inkOf(inks);
  const paper = paperOf(inks);
  const common = { d: arrows, "stroke-linejoin": "round", "paint-order": "stroke" };
  return (
    (arrows === "" ? "" : element("path", { ...common, fill: ink, stroke: paper, "stroke-width": 2 })) +
    numbers
  );
}

const partOf = ({ kind, block }: DrawnField["passes"]["runs"][number]): string =>
  kind === "headland" ? "headland" : String(block);

function drivenPath(paths: readonly (readonly Point[])[], forward: boolean): Point[] {
  return paths.flatMap((path) => (forward ? path : path.toReversed()));
}

/** A head at the middle of a way, pointing along it; null where the way is short or another arrow stands near. */
function arrowOn(way: readonly Point[], taken: readonly Point[]): { path: string; at: Point } | null {
  const lengths = way.map((point, i) => (i === 0 ? 0 : distance(point, way[i - 1]!)));
  const whole = lengths.reduce((sum, length) => sum + length, 0);
  if (whole < SHORTEST_RUN_PX) return null;
  let left = whole / 2;
  let i = 1;
  while (i < way.length - 1 && left > lengths[i]!) left -= lengths[i++]!;
  const [[ax, ay], [bx, by]] = [way[i - 1]!, way[i]!];
  const length = lengths[i]!;
  if (length === 0) return null;
  const [wayX, wayY] = [(bx - ax) / length, (by - ay) / length];
  const at: Point = [ax + left * wayX, ay + left * wayY];
  if (taken.some((other) => distance(other, at) < ARROW_ROOM_PX)) return null;
  const corner = (along: number, aside: number): string =>
    `${px(at[0] + along * wayX - aside * wayY)} ${px(at[1] + along * wayY + aside * wayX)}`;
  return {
    path: `M${corner(HEAD_PX, 0)}L${corner(-HEAD_PX, HEAD_PX)}L${corner(-HEAD_PX, -HEAD_PX)}z`,
    at,
  };
}
