import { cautions } from "../agronomy/index.ts";
import { type FieldResult, guideMarks, guidesInUse, type NeedRule, type RunResult } from "../plan/index.ts";
import { counted, numberText } from "../units/index.ts";
import type { GapSide } from "./gap-rates.ts";

/** The guides behind the rates, one line each, with what must stand beside their names. */
export function guideLines(result: RunResult): string[] {
  const lines = guidesInUse(result.fields).map((guide) => {
    const marks = guideMarks(guide);
    const recalled =
      guide.status === "unconfirmed" && guide.fromMemory.length > 0
        ? `; ${guide.fromMemory.length} of the figures used ${guide.fromMemory.length === 1 ? "is" : "are"} from memory: compare with the bulletin (docs/agronomy.md)`
        : "";
    return `Guide ${guide.id}${marks === "" ? "" : ` (${marks})`}${recalled}`;
  });
  const bypassed = result.fields.filter((field) => !field.need.P2O5.rule);
  if (bypassed.length > 0) {
    const names = bypassed.slice(0, 3).map(({ field }) => field.name);
    const more = bypassed.length > 3 ? ` and ${bypassed.length - 3} more` : "";
    lines.push(`No guide read, typed or adviser's own rates: ${names.join(", ")}${more}`);
  }
  return lines;
}

/** What a field's need hangs on: build-up, cover, steps of the guide, the soil test's direction, what comes along. */
export function fieldNeedLines(result: FieldResult): string[] {
  const lines: string[] = [];
  for (const nutrient of ["P2O5", "K2O"] as const) {
    const { rule, cover } = result.need[nutrient];
    const parts = [
      rule?.buildUp ?? "",
      cover.coveredThrough === null ? "" : `covered through ${cover.coveredThrough} by ${cover.by}`,
      rule?.belowCritical ? belowWords(rule.belowCritical) : "",
      (rule?.nearJumps.acres ?? 0) > 0.05
        ? `${numberText(rule!.nearJumps.acres, 1)} ac within 10 % of a step of the guide`
        : "",
    ].filter((part) => part !== "");
    if (parts.length > 0) lines.push(`${nutrient}: ${parts.join("; ")}`);
  }
  for (const { direction, removalLb } of result.sheet.nutrients)
    if (removalLb !== undefined) lines.push(direction);
  for (const { nutrient, wantedLb, alongLb, creditsLb, leftLb, beyondLb } of result.alsoWanted) {
    const brought = `${numberText(alongLb, 0)} lb come along${creditsLb > 0 ? `, ${numberText(creditsLb, 0)} lb by credits` : ""}`;
    const wanted =
      wantedLb === null
        ? ""
        : `, ${numberText(wantedLb, 0)} lb wanted: ${leftLb! > 0 ? `${numberText(leftLb!, 0)} lb still to bring` : `${numberText(beyondLb!, 0)} lb beyond`}`;
    lines.push(`${nutrient}: ${brought}${wanted}`);
  }
  for (const nutrient of ["P2O5", "K2O"] as const) {
    const reasons = result.balanceReasons[nutrient];
    const named = [reasonsInWords(reasons, "over"), reasonsInWords(reasons, "short")].filter((one) => one);
    if (named.length > 0) lines.push(`${nutrient}, of shortage and excess: ${named.join(", ")}`);
  }
  const { pH } = result.shownTests;
  if (pH) {
    lines.push(
      `pH ${numberText(pH.min, 1)} to ${numberText(pH.max, 1)} in ${counted(pH.samples, "sample")}; no lime recommendation is made`,
    );
  }
  return lines;
}

/** In acres by the map; where there is none, in samples. */
function belowWords({ areaAc, samples }: NonNullable<NeedRule["belowCritical"]>): string {
  if (samples === undefined) return `${numberText(areaAc, 1)} ac below critical`;
  const lie = samples.below === 1 ? "lies" : "lie";
  return `${samples.below} of ${samples.of} samples ${lie} below critical, too few for a map of where`;
}

/** One line on the cautions that hold wherever the product goes, and where they stand in full. */
export function cautionLine(result: RunResult): string {
  const setbacks = result.notices.find((notice) => notice.code === "no-setbacks");
  const kept = setbacks ? `; ${setbacks.message}` : "";
  return `Cautions: ${cautions.length} on law, water, wet soil and handling, in full in result.json and docs/cautions.md; nothing here certifies that a place or a day is allowed${kept}`;
}

/** What of shortage or excess was meant, with its pounds; empty where nothing was. */
export function reasonsInWords(reasons: FieldResult["balanceReasons"]["P2O5"], side: GapSide): string {
  const named =
    side === "over"
      ? ([
          ["credits beyond need", reasons.creditsBeyondNeedLb],
          ["raised to the minimum rate", reasons.raisedLb],
        ] as const)
      : ([
          ["over the maximum rate", reasons.overMaximumLb],
          ["below the minimum rate, left out", reasons.leftOutLb],
          ["over the budget", reasons.overBudgetLb],
          ["banded for more below critical", reasons.bandedLb],
          ["kept off by exclusions", reasons.excludedLb],
        ] as const);
  return named
    .filter(([, lb]) => lb > 0.5)
    .map(([what, lb]) => `${what} ${numberText(lb, 0)} lb`)
    .join(", ");
}
