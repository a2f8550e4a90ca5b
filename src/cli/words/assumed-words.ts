import type { AssumedFigure } from "../../plan/index.ts";
import { assumedByKey } from "../../report/index.ts";

/** Figures the plan does not give, each with how far it can be trusted. */
export function assumedWords(assumed: readonly AssumedFigure[]): string[] {
  const unconfirmed = assumed.filter((one) => one.status === "unconfirmed");
  const read = assumed.filter((one) => one.status === "read");
  const text = (list: readonly AssumedFigure[]): string => list.map(assumedByKey).join("; ");
  return [
    ...(read.length > 0 ? [`Published defaults: ${text(read)}`] : []),
    ...(unconfirmed.length > 0 ? [`Unconfirmed defaults, type your own: ${text(unconfirmed)}`] : []),
  ];
}
