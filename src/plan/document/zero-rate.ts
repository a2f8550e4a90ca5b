import { type Question, QuestionError } from "../../errors/index.ts";
import type { Answers } from "./answers.ts";
import type { PlanController } from "./document-types.ts";

/** What a controller makes of a rate 0; `small` with the rate to write instead. */
export type ZeroRate =
  | { readonly does: "off" | "no-data" }
  | { readonly does: "small"; readonly lbPerAc: number };

/** Whether the plan or an answer says what the controller makes of a rate 0. */
export const isZeroRateTold = (controller: PlanController | undefined, answers: Answers): boolean =>
  controller?.zeroRate !== undefined || answers["zero-rate"] !== undefined;

/** What the answer `off`, `no-data` or `small:5` says; null of any other. */
export function zeroRateIn(answer: string | undefined): ZeroRate | null {
  if (answer === "off" || answer === "no-data") return { does: answer };
  const lbPerAc = Number(/^small:(\d+(?:\.\d+)?)$/.exec(answer ?? "")?.[1] ?? 0);
  return lbPerAc > 0 ? { does: "small", lbPerAc } : null;
}

/**
 * What is known of the controller's way with a rate 0: from the plan, else from the answer `zero-rate` (`off`, `no-data`,
 * `small:5`). Throws a `QuestionError` when neither says it: some stop, some take 0 for no data and lay their
 * default rate (common practice), and nobody but the user can know.
 */
export function zeroRateOf(controller: PlanController | undefined, answers: Answers): ZeroRate {
  const answer = answers["zero-rate"];
  const answered = zeroRateIn(answer);
  if (answered !== null) return answered;
  if (answer === undefined && controller?.zeroRate !== undefined) {
    const { zeroRate, smallRateLbPerAc } = controller;
    return zeroRate === "small" ? { does: "small", lbPerAc: smallRateLbPerAc! } : { does: zeroRate };
  }
  throw new QuestionError([zeroRateQuestion(answer)]);
}

const zeroRateQuestion = (answer: string | undefined): Question => ({
  key: "zero-rate",
  text:
    "What does the controller do with a rate 0: off (the meter stops), or no-data (it lays its default rate)? " +
    "small:5 writes 5 lb/ac instead of 0 in the plain fallback. Typed in the plan as controller.zeroRate, it is asked no more once the maps are built anew.",
  choices: ["off", "no-data", "small:5"],
  seen: answer === undefined ? "the plan's controller does not say" : `answered “${answer}”`,
});
