import type { FileAnswers } from "../../formats/index.ts";
import { boundsOf, type MultiPolygon, type Point } from "../../geo/index.ts";
import type { LabWants } from "../../soil/index.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import { pointFileOf } from "./point-file.ts";

const NEAR_DEG = 2;

/** Whether a place lies within two degrees of a field. */
export function isNearFields(
  fields: readonly { readonly boundary: MultiPolygon }[],
): (lonLat: Point) => boolean {
  const boxes = fields.map((field) => boundsOf(field.boundary));
  return ([lon, lat]) =>
    boxes.some(({ minX, minY, maxX, maxY }) => {
      return lon > minX - NEAR_DEG && lon < maxX + NEAR_DEG && lat > minY - NEAR_DEG && lat < maxY + NEAR_DEG;
    });
}

/** The points of the file `path`, which `join-points` named, when it is among the files. */
export function joinedPoints(
  path: string | undefined,
  files: ReadonlyMap<string, Uint8Array>,
  answers: FileAnswers,
): Pick<LabWants, "points"> {
  const bytes = path === undefined ? undefined : files.get(path);
  if (path === undefined || bytes === undefined) return {};
  return { points: pointFileOf(path, new Map([[path, bytes]]), answersOfFile(path, answers)) };
}
