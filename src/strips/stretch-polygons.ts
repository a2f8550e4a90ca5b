import { type MultiPolygon, unionOfTiles } from "../geo/index.ts";
import type { Stretch } from "./stretch-rates.ts";
import type { LaidStrips } from "./strip-layout.ts";

/** The land of each stretch, its segments put together; `runs` of stretches are numbers of the layout's runs. */
export const stretchPolygons = (
  { segments, runs }: LaidStrips,
  stretches: readonly Stretch[],
): MultiPolygon[] =>
  stretches.map(({ run, first, end }) =>
    unionOfTiles(runs[run]!.segments.slice(first, end).map((segment) => segments[segment]!.polygon)),
  );
