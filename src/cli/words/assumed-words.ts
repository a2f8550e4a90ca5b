import type { AssumedFigure } from "../../plan/index.ts";
import { assumedByKey, unconfirmedInWords } from "../../report/index.ts";

/** Figures the plan does not give, each with how far it can be trusted. */
export function assumedWords(assumed: readonly AssumedFigure[]): string[] {
  const read = assumed.filter((one) => one.status === "read");
  const unconfirmed = unconfirmedInWords(assumed, assumedByKey);
  return [
    ...(read.length > 0 ? [`Published defaults: ${read.map(assumedByKey).join("; ")}`] : []),
    ...(unconfirmed === "" ? [] : [unconfirmed]),
  ];
}
