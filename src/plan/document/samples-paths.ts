import type { Plan, PlanField } from "./document-types.ts";

/** The sources of a field's samples, the first one first. */
export const samplesPaths = (field: PlanField): string[] => [
  ...(field.samples === undefined ? [] : [field.samples]),
  ...(field.moreSamples ?? []),
];

/** Whether the field's need is read off soil tests; else its rates are typed or the adviser's own. */
export const needsSamples = ({ needFrom }: PlanField): boolean =>
  needFrom === undefined ||
  needFrom.kind === "zones" ||
  (needFrom.kind === "flat" && needFrom.lbPerAc === undefined);

/** Every source a field takes something from. */
export function sourcesOf(plan: Plan, field: PlanField): string[] {
  const zones = field.needFrom !== undefined && "source" in field.needFrom ? [field.needFrom.source] : [];
  return [
    ...field.boundary.map((shape) => shape.source),
    field.guidance.source,
    ...samplesPaths(field),
    ...zones,
    ...(field.yieldZones ? [field.yieldZones.source] : []),
    ...(plan.exclusions ?? []).flatMap(({ source }) => (source === undefined ? [] : [source])),
  ];
}
