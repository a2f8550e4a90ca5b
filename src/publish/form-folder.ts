import type { Plan } from "../plan/index.ts";
import type { LoadForm } from "../report/index.ts";

/** Keeps plain fallbacks apart from the maps that are loaded first. */
const FALLBACK_FOLDER = "FALLBACK";

const isAlone = (forms: readonly LoadForm[]): boolean =>
  forms.includes("fallback") && !forms.includes("shapefile") && !forms.includes("kg-ha");

/**
 * Folder of the stick that the shapefiles of a form go to: the controller's; fallbacks in FALLBACK in it, but right in a folder that the
 * plan names where no other shapefiles go on the stick.
 */
export function formFolder({ controller }: Plan, form: LoadForm, forms: readonly LoadForm[]): string {
  const folder = controller?.folder ?? "";
  if (form !== "fallback" || (folder !== "" && isAlone(forms))) return folder;
  return folder === "" ? FALLBACK_FOLDER : `${folder}/${FALLBACK_FOLDER}`;
}

/** Whether a shapefile on a stick with these forms is a plain fallback, by its path. */
export const isFallbackPath = (path: string, forms: readonly LoadForm[]): boolean =>
  path.split("/").includes(FALLBACK_FOLDER) || isAlone(forms);
