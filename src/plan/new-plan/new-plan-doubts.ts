import type { Notice } from "../../errors/index.ts";
import { M_PER_FT, numberText } from "../../units/index.ts";
import type { Answers } from "../document/answers.ts";
import type { Plan } from "../document/document-types.ts";
import type { NamedField, NamedLine } from "../sources/field-shapes.ts";
import type { InputFile } from "../sources/input-file.ts";
import { lineDistanceM, lineOf } from "./line-of-field.ts";
import type { FileRole } from "./need-files.ts";

/** Shapes of one name are one field in parts; two fields of one name would be, too. */
export const partsOfOneName = (fields: readonly NamedField[]): Notice[] =>
  fields
    .filter(({ shapes }) => shapes.length > 1)
    .map(({ id, name, shapes }) => {
      const records = shapes.map(({ source, record }) => `${source}, record ${record}`).join("; ");
      const message = `${name}: ${shapes.length} shapes of this name are parts of one field (${records}); if they are fields of their own, name them apart`;
      return { code: "parts-of-one-name", message, where: id };
    });

/** Guidance lines that no field drives by. */
export function linesLeft(lines: readonly NamedLine[], { fields }: Plan): Notice[] {
  const isUsed = ({ shape }: NamedLine): boolean =>
    fields.some(({ guidance }) => guidance.source === shape.source && guidance.record === shape.record);
  const left = lines
    .filter((line) => !isUsed(line))
    .map(({ shape }) => `${shape.source}, record ${shape.record}`);
  if (left.length === 0) return [];
  const shown =
    left.length > 6 ? `${left.slice(0, 6).join("; ")} and ${left.length - 6} more` : left.join("; ");
  const message = `guidance lines that no field uses: ${shown}; name lines for their fields in the property “field”`;
  return [{ code: "line-not-used", message, where: "" }];
}

/** Files of which nothing came into the plan, though nobody said that it uses nothing of them. */
export function filesNotUsed(
  inputs: readonly InputFile[],
  roles: ReadonlyMap<string, FileRole>,
  { sources }: Plan,
): Notice[] {
  const left = inputs.filter(
    ({ path }) => roles.get(path) !== "unused" && sources.every((source) => source.path !== path),
  );
  const why = "the plan uses nothing of it: no boundary, guidance line or soil test is in it";
  return left.map(({ path }) => ({
    code: "file-not-used",
    message: `${path}: ${why}; places to keep clear of are read as shapes (GeoJSON, KML, shapefile)`,
    where: path,
  }));
}

/** A line may lie this far outside a field and still be its own, as one driven along the fence (ours). */
const BESIDE_M = 30;

/** Fields that no line touches and that get one all the same: it is another field's, or far off. */
export function linesFromElsewhere(fields: readonly NamedField[], lines: readonly NamedLine[]): Notice[] {
  return fields.flatMap((field): Notice[] => {
    const { shape, points, field: named } = lineOf(field, lines);
    const distanceM = lineDistanceM(field, points);
    if (named !== null || distanceM <= BESIDE_M) return [];
    const home = fields.find((other) => other !== field && lineDistanceM(other, points) <= BESIDE_M);
    const whose = home === undefined ? "" : `, which is of ${home.name}`;
    const far = numberText(distanceM / M_PER_FT, 0);
    const message = `${field.name}: no guidance line lies in it or beside it; it gets ${shape.source}, record ${shape.record}${whose}, ${far} ft away. Add its own line A-B, with its name in the property “field”`;
    return [{ code: "line-from-elsewhere", message, where: field.id }];
  });
}

/** Files with the same bytes under different names, but for those of which somebody said what they are for. */
export function sameContent(inputs: readonly InputFile[], answers: Answers): Notice[] {
  return inputs.flatMap(({ path, sha256 }, i): Notice[] => {
    const first = inputs.slice(0, i).find((other) => other.sha256 === sha256);
    if (first === undefined || answers[`role.${path}`] !== undefined) return [];
    const message = `${path}: holds the same as ${first.path}, byte for byte; was another file meant?`;
    return [{ code: "file-twice", message, where: path }];
  });
}
