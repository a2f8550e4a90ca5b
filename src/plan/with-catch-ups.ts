import type { Notice } from "../errors/index.ts";
import type { Prescription } from "../prescription/index.ts";
import type { Answers } from "./document/answers.ts";
import { wantedForms } from "./document/wanted-forms.ts";
import { isZeroRateTold, zeroRateOf } from "./document/zero-rate.ts";
import type { RunResult } from "./results/result-types.ts";
import { OF_FILES, withMaps } from "./with-maps.ts";

/** The forms of a catch-up besides the map: no task, which would have the name of the planned one. */
const FORMS = ["kg-ha", "fallback"] as const;

/**
 * A run's result with catch-up maps in place of its own, written and read back, in kg/ha and with the plain fallback where the
 * plan wants them; the fallback also where the controller must not get a 0. Where nobody has said what a 0 does it stays in the
 * fallback, as in the map. What the plan of the result loads is what of these forms its controller may be given, none where it
 * takes tasks alone. Throws what `zeroRateOf` throws of an answer that is none.
 */
export async function withCatchUps(
  result: RunResult,
  maps: ReadonlyMap<string, readonly Prescription[]>,
  answers: Answers = {},
  pause?: () => Promise<void>,
): Promise<RunResult> {
  const { plan } = result;
  const { controller } = plan;
  const zeroRate = isZeroRateTold(controller, answers)
    ? zeroRateOf(controller, answers)
    : { does: "off" as const };
  const isSmall = zeroRate.does === "small";
  const wanted = wantedForms(plan);
  const extras = FORMS.filter((form) => wanted.includes(form) || (form === "fallback" && isSmall));
  const taken = controller?.loads?.filter(
    (form) => form === "shapefile" || FORMS.some((one) => one === form),
  );
  const loads =
    isSmall && taken !== undefined && taken.length > 0
      ? [...new Set([...taken, "fallback" as const])]
      : taken;
  const own = {
    ...plan,
    ...(controller === undefined || loads === undefined ? {} : { controller: { ...controller, loads } }),
  };
  const written = await withMaps({ ...result, plan: { ...own, extras } }, maps, pause, zeroRate);
  return { ...written, plan: own };
}

/** What is to be said of the files of a result: what a controller may refuse of them, and what they lay beyond the maps. */
export const noticesOfFiles = ({ fields }: RunResult): Notice[] =>
  fields.flatMap(({ notices }) => notices.filter(({ code }) => OF_FILES.includes(code)));
