import type { AssumedFigure } from "../../plan/index.ts";
import { numberText } from "../../units/index.ts";

/** Figures the plan does not give, each with how far it can be trusted. */
export function assumedWords(assumed: readonly AssumedFigure[]): string[] {
  const unconfirmed = assumed.filter((one) => one.status === "unconfirmed");
  const read = assumed.filter((one) => one.status === "read");
  const text = (list: readonly AssumedFigure[]): string =>
    list.map((one) => `${one.key} ${numberText(one.value, one.value < 1 ? 3 : 1)} ${one.unit}`).join("; ");
  return [
    ...(read.length > 0 ? [`Published defaults: ${text(read)}`] : []),
    ...(unconfirmed.length > 0 ? [`Unconfirmed defaults, type your own: ${text(unconfirmed)}`] : []),
  ];
}
