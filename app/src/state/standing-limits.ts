import type { Layer, LayerId } from "#core";

/** Class limits by layer, in the unit shown. */
export type LimitsOfLayers = Readonly<Partial<Record<LayerId, readonly number[]>>>;

/**
 * Limits that stand while a field is open, with those of layers not met before. Soil tests have the guide's classes; what is
 * cut from nothing, or not at all as it is one rate all over, would make one class of all that comes later: it does not stand.
 */
export const withStanding = (standing: LimitsOfLayers, layers: readonly Layer[]): LimitsOfLayers => ({
  ...Object.fromEntries(
    layers
      .filter(({ id, classes, most }) => !id.startsWith("soil/") && most > 0 && classes.limits.length > 0)
      .map(({ id, classes }) => [id, classes.limits]),
  ),
  ...standing,
});
