import type { Notice } from "../errors/index.ts";
import type { Prescription } from "../prescription/index.ts";
import type { Answers } from "./answers.ts";
import type { RunResult } from "./result-types.ts";
import { wantedForms } from "./wanted-forms.ts";
import { withMaps } from "./with-maps.ts";
import { zeroRateOf } from "./zero-rate.ts";

/**
 * A run's result with catch-up maps in place of its own, written and read back, with the plain fallback where the plan wants
 * one: no other form, whose task would have the name of the planned one. Where nobody has said what a 0 does it stays in the
 * fallback, as in the map. Throws what `zeroRateOf` throws of an answer that is none.
 */
export async function withCatchUps(
  result: RunResult,
  maps: ReadonlyMap<string, readonly Prescription[]>,
  answers: Answers = {},
  pause?: () => Promise<void>,
): Promise<RunResult> {
  const { plan } = result;
  const { controller } = plan;
  if (!wantedForms(plan).includes("fallback")) return withMaps(result, maps, pause);
  const isTold = controller?.zeroRate !== undefined || answers["zero-rate"] !== undefined;
  const zeroRate = isTold ? zeroRateOf(controller, answers) : { does: "off" as const };
  const loads = controller?.loads?.filter((form) => form === "shapefile" || form === "fallback");
  const alone = {
    ...plan,
    extras: ["fallback" as const],
    ...(controller === undefined || loads === undefined ? {} : { controller: { ...controller, loads } }),
  };
  return { ...(await withMaps({ ...result, plan: alone }, maps, pause, zeroRate)), plan };
}

const OF_FILES = ["controller-limit", "holes-at-zero", "kept-clear-at-zero", "small-rate-beyond-map"];

/** What is to be said of the files of a result: what a controller may refuse of them, and what they lay beyond the maps. */
export const noticesOfFiles = ({ fields }: RunResult): Notice[] =>
  fields.flatMap(({ notices }) => notices.filter(({ code }) => OF_FILES.includes(code)));
