import type { Notice } from "../../errors/index.ts";
import { containsPoint, type MultiPolygon } from "../../geo/index.ts";
import { assignSamples, type LabTable } from "../../soil/index.ts";
import { counted } from "../../units/index.ts";
import type { PlanNeedFrom } from "../document/document-need-types.ts";
import type { PlanField } from "../document/document-types.ts";
import type { NamedField } from "../sources/field-shapes.ts";
import type { InputFile } from "../sources/input-file.ts";

/**
 * A notice where zones, which are meant for one composite each, hold several samples: what differs within a zone is lost.
 * `counts` are the samples with a place in each zone of the file `source`.
 */
export function zoneMeans(
  { id, name }: Pick<PlanField, "id" | "name">,
  source: string,
  counts: readonly number[],
): Notice[] {
  if (counts.every((count) => count < 2)) return [];
  const held = counts.filter((count) => count > 0).length;
  const all = counts.reduce((total, count) => total + count, 0);
  const message = `${name}: ${counted(all, "sample")} lie in ${counted(held, "zone")} of ${source} and count by their mean in each; how they differ within a zone is on no map. Zones are for composites, one sample each; zones of yield goals are yieldZones of the field in plan.json.`;
  return [{ code: "samples-averaged", message, where: id }];
}

/** The same of a new plan's fields: `samplesOf` gives the lab table a field is read from. */
export function zoneMeansOfFields(
  fields: readonly NamedField[],
  inputs: readonly InputFile[],
  labs: ReadonlyMap<string, LabTable>,
  needFrom: ReadonlyMap<string, PlanNeedFrom>,
  samplesOf: (field: NamedField) => string | undefined,
): Notice[] {
  return fields.flatMap((field): Notice[] => {
    const from = needFrom.get(field.id);
    const path = samplesOf(field);
    const lab = labs.get(path ?? "");
    if (from?.kind !== "zones" || path === undefined || lab === undefined) return [];
    const own = assignSamples(path, lab.samples, fields).byField.get(field.id) ?? [];
    const zones = [...groundById(from, inputs).values()];
    const counts = zones.map((ground) => own.filter(({ at }) => containsPoint(ground, at)).length);
    return zoneMeans(field, from.source, counts);
  });
}

/** Polygons of the file of zones by their ids, longitude and latitude. */
function groundById(
  { source, idColumn }: Extract<PlanNeedFrom, { kind: "zones" }>,
  inputs: readonly InputFile[],
): ReadonlyMap<string, MultiPolygon> {
  const byId = new Map<string, MultiPolygon>();
  const layers = inputs.find(({ path }) => path === source)?.layers ?? [];
  for (const { geometry, properties } of layers.flatMap(({ features }) => features)) {
    const id = String(properties[idColumn] ?? "").trim();
    if (geometry?.kind === "polygon") byId.set(id, [...(byId.get(id) ?? []), ...geometry.polygons]);
  }
  return byId;
}
