import { ClipType, type Paths64 } from "clipper2-ts";
import { type Bounds, boundsOf, boxesMeet } from "./bounds.ts";
import { CLIP_STEPS_PER_METRE, combinePaths, toPaths } from "./clipper-paths.ts";
import { containsPoint } from "./contains-point.ts";
import { EdgeIndex, type Edges, edgesOf } from "./edge-index.ts";
import { type FlatRing, pointsOf } from "./flat-ring.ts";
import { orient } from "./orient.ts";
import type { MultiPolygon } from "./types.ts";

/** Faces that follow one another are clipped against a part of the land cut out for so many of them. */
const FACES_A_WINDOW = 24;
/** The window stands off its faces, so that its own sides do not touch them. */
const WINDOW_MARGIN_M = 1;

/**
 * What each face has in common with land: all of it, nothing, or what the general clipper leaves, to a micrometre; so
 * neighbours agree only to micrometres and are to be welded (`weldTiles`). Faces and results: rings with land on the left.
 * Faces should come with neighbours near each other in the list; that is only for speed.
 */
export const clippedFaces = (faces: readonly (readonly FlatRing[])[], land: MultiPolygon): FlatRing[][] => {
  const rings = orient(land).flat();
  const paths = toPaths(rings);
  const edges = edgesOf(rings);
  const index = new EdgeIndex(edges);
  const bounds = boundsOf(land);
  const result: FlatRing[][] = faces.map(() => []);
  const onBorder: number[] = [];
  faces.forEach((face, number) => {
    const box = boxOf(face);
    if (!boxesMeet(box, bounds)) return;
    if (meetsBorder(box, edges, index)) onBorder.push(number);
    else if (containsPoint(land, [face[0]![0]!, face[0]![1]!])) result[number] = [...face];
  });
  for (let start = 0; start < onBorder.length; start += FACES_A_WINDOW) {
    const group = onBorder.slice(start, start + FACES_A_WINDOW);
    const window = combinePaths(ClipType.Intersection, paths, [
      windowRound(group.map((n) => boxOf(faces[n]!))),
    ]);
    for (const number of group) {
      const cut = combinePaths(ClipType.Intersection, window, toPaths(faces[number]!.map(pointsOf)));
      result[number] = cut.map((path) =>
        path.flatMap(({ x, y }) => [x / CLIP_STEPS_PER_METRE, y / CLIP_STEPS_PER_METRE]),
      );
    }
  }
  return result;
};

const boxOf = (face: readonly FlatRing[]): Bounds => boundsOf([face.map(pointsOf)]);

const meetsBorder = (box: Bounds, { ax, ay, bx, by }: Edges, index: EdgeIndex): boolean => {
  let meets = false;
  const middleY = (box.minY + box.maxY) / 2;
  const pad = (box.maxY - box.minY) / 2 + 1e-3;
  index.visitNear(box.minX, middleY, box.maxX, middleY, pad, (edge) => {
    const own = {
      minX: Math.min(ax[edge]!, bx[edge]!) - 1e-3,
      maxX: Math.max(ax[edge]!, bx[edge]!) + 1e-3,
      minY: Math.min(ay[edge]!, by[edge]!) - 1e-3,
      maxY: Math.max(ay[edge]!, by[edge]!) + 1e-3,
    };
    if (boxesMeet(box, own)) meets = true;
  });
  return meets;
};

const windowRound = (boxes: readonly Bounds[]): Paths64[number] => {
  const west = Math.min(...boxes.map(({ minX }) => minX)) - WINDOW_MARGIN_M;
  const east = Math.max(...boxes.map(({ maxX }) => maxX)) + WINDOW_MARGIN_M;
  const south = Math.min(...boxes.map(({ minY }) => minY)) - WINDOW_MARGIN_M;
  const north = Math.max(...boxes.map(({ maxY }) => maxY)) + WINDOW_MARGIN_M;
  return toPaths([
    [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
    ],
  ])[0]!;
};
