import type { ExtraForm } from "../../prescription/index.ts";
import type { Plan } from "./document-types.ts";

/** Forms that are written besides the maps: those of the plan's `extras`, and what its controller loads. */
export const wantedForms = ({ extras = [], controller }: Plan): readonly ExtraForm[] => [
  ...new Set([...extras, ...(controller?.loads ?? []).filter((form) => form !== "shapefile")]),
];
