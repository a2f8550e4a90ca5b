import { InputError, type Notice } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { checkDegrees } from "./check-degrees.ts";
import { type CoordinateSystemFrom, type Feature, visitPoints } from "./feature.ts";
import { isWgs84Degrees, readWkt, wktName } from "./read-prj.ts";
import { readText } from "./read-text.ts";
import type { ShapefileParts } from "./shapefile-parts.ts";

/**
 * How the coordinate system of a shapefile is known; it is WGS84 degrees or the file is refused.
 * Without a .prj, numbers that could be degrees are taken as such with a notice.
 * Throws `coordinate-system`, `swap-lon-lat`, `not-read-yet`.
 */
export function checkShapefileSystem(
  parts: ShapefileParts,
  features: readonly Feature[],
  path: string,
  notices: Notice[],
): CoordinateSystemFrom {
  const prjPath = `${parts.path.slice(0, -3)}prj`;
  if (parts.prj === undefined) {
    const far = firstBeyond(features, 180);
    if (far !== undefined) {
      throw new InputError(
        "coordinate-system",
        `${path}: metres without ${prjPath}; numbers such as ${far.join(", ")} are no degrees, and nothing says what they are`,
        `Add ${prjPath}, or export in WGS84 longitude and latitude.`,
      );
    }
    checkDegrees(features, path, "record");
    const message = `no ${prjPath}; the numbers look like degrees and are read as WGS84 (EPSG:4326)`;
    notices.push({ code: "coordinate-system", message, where: path });
    return "assumed";
  }
  const text = readText(parts.prj).text.trim();
  const root = readWkt(text);
  if (root === undefined || !isWgs84Degrees(root)) {
    const system = root === undefined ? JSON.stringify(text.slice(0, 60)) : wktName(root);
    throw new InputError(
      "not-read-yet",
      `${path}: the coordinate system ${system} is not read yet`,
      "Export the file in WGS84 longitude and latitude.",
    );
  }
  checkDegrees(features, path, "record");
  return ".prj";
}

function firstBeyond(features: readonly Feature[], limit: number): Point | undefined {
  let found: Point | undefined;
  for (const { geometry } of features) {
    if (geometry === null || found !== undefined) continue;
    visitPoints(geometry, (point) => {
      if (Math.abs(point[0]) > limit || Math.abs(point[1]) > limit) found ??= point;
    });
  }
  return found;
}
