import type { RunResult } from "../plan/index.ts";
import { mapFiles } from "./map-files.ts";
import { extraPath } from "./paths.ts";

/** Files of a result's other forms, path to bytes. */
export const extraFiles = ({ fields }: RunResult): Map<string, Uint8Array> =>
  new Map(
    fields.flatMap(({ extras }) =>
      extras.flatMap((extra) =>
        [...extra.files].map(([name, bytes]) => [extraPath(extra, name), bytes] as const),
      ),
    ),
  );

/**
 * The set of catch-up maps: the maps with their other forms, what they were made from, no sheets. `takesPlaceOf`: the planned maps
 * whose place they take, by stem, which result.json then lists.
 */
export const catchUpFiles = (
  result: RunResult,
  toolVersion: string,
  planFiles: ReadonlyMap<string, Uint8Array>,
  takesPlaceOf: readonly string[],
): Map<string, Uint8Array> =>
  mapFiles(result, toolVersion, planFiles, { more: extraFiles(result), also: { takesPlaceOf } });
