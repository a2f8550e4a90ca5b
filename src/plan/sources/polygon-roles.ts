import { containsPoint, innerPoint, type MultiPolygon } from "../../geo/index.ts";
import { counted } from "../../units/index.ts";
import type { AnswerReader } from "../document/answers.ts";
import type { InputFile } from "./input-file.ts";

/** What the polygons of a file can be for a plan. */
export type PolygonRole = "boundary" | "zones" | "rates" | "exclusions";

const ROLES: readonly PolygonRole[] = ["boundary", "zones", "rates", "exclusions"];

/** All polygons of a file; none where a question about reading it is open. */
export const polygonsOf = (file: InputFile): MultiPolygon =>
  file.questions.length > 0
    ? []
    : file.layers.flatMap((layer) =>
        layer.features.flatMap(({ geometry }) => (geometry?.kind === "polygon" ? geometry.polygons : [])),
      );

/**
 * The role of each file of polygons, by path: answered under `role.PATH`; a boundary where nothing else lies on its
 * ground; else asked, since zones, rates and places to keep clear of look just like fields.
 */
export function polygonRoles(
  inputs: readonly InputFile[],
  reader: AnswerReader,
): ReadonlyMap<string, PolygonRole> {
  const files = inputs
    .map((input) => ({ path: input.path, land: polygonsOf(input) }))
    .filter(({ land }) => land.length > 0);
  const answered = new Map(
    files.flatMap(({ path }) => {
      const role = ROLES.find((one) => one === reader.answered(`role.${path}`));
      return role ? [[path, role] as const] : [];
    }),
  );
  return new Map(
    files.map(({ path, land }): [string, PolygonRole] => {
      const known = answered.get(path);
      if (known) return [path, known];
      const others = files.filter((other) => {
        const role = answered.get(other.path);
        return other.path !== path && (role === undefined || role === "boundary");
      });
      const over = others.filter((other) => shareGround(land, other.land)).map((other) => other.path);
      if (over.length > 0) {
        const text = `What are the polygons of ${path}: the fields' boundary, zones sampled as one, an adviser's rates, or places to keep clear of? Zones of yield goals are none of these: leave the file out here and name it in plan.json, as yieldZones of the field.`;
        const seen = `${counted(land.length, "polygon")} on the ground of ${over.join(", ")}`;
        reader.addOpen({ key: `role.${path}`, text, choices: ROLES, seen });
      }
      return [path, "boundary"];
    }),
  );
}

/** Whether the middle of a polygon of one lies in the other. */
export function shareGround(a: MultiPolygon, b: MultiPolygon): boolean {
  const liesIn = (some: MultiPolygon, land: MultiPolygon) =>
    some.some((polygon) => {
      const middle = innerPoint([polygon]);
      return middle !== undefined && containsPoint(land, middle);
    });
  return liesIn(a, b) || liesIn(b, a);
}
