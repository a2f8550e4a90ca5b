import type { GuideStatus } from "../agronomy/index.ts";
import type { GuideShown, PlanField } from "../plan/index.ts";
import { capital, numberText } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import { oxideText } from "./rate-layers.ts";

const statusWords: Readonly<Record<GuideStatus, string>> = {
  own: "own figures",
  unconfirmed: "unconfirmed: some figures are from memory, compare with your bulletin",
  confirmed: "compared with the bulletin",
  read: "figures read in the source",
};

/** `confirmed by A. Grower, page 12, 2026-02-01; 2 figures replaced: ...` */
export function guideStatusWords({ status, confirmed, supersededBy, overridden }: GuideShown): string {
  const replaced = overridden.map(({ what, unit, value, published }) =>
    `${what} ${value} for ${published} ${unit}`.trim(),
  );
  return [
    statusWords[status],
    confirmed ? `by ${confirmed.by}, ${confirmed.page}, ${confirmed.date}` : "",
    supersededBy === null ? "" : `superseded by ${supersededBy}`,
    replaced.length === 0 ? "" : `replaced by the user: ${replaced.join(", ")}`,
  ]
    .filter((words) => words !== "")
    .join("; ");
}

/** `Tri-State 2020; unconfirmed: ...`; a line a nutrient where two guides are followed. */
export function guideInWords({ need }: DrawnField): string {
  const [p, k] = ([need.P2O5.rule, need.K2O.rule] as const).map((rule) =>
    rule === null ? "no guide, typed or adviser's own rates." : oneGuide(rule.guide),
  ) as [string, string];
  return p === k ? p : `P₂O₅ by ${p} K₂O by ${k}`;
}

function oneGuide(guide: GuideShown): string {
  const edition = guide.edition === "" || guide.title.includes(guide.edition) ? "" : ` (${guide.edition})`;
  return `${guide.title}${edition}; ${guideStatusWords(guide)}.`;
}

/**
 * `corn, 190 bu/ac`; `corn, 190 to 230 bu/ac by zone` where zones have yield goals of their own; then crops whose need is
 * met along with it and residue that is taken off.
 */
export function cropInWords({
  field,
  yields,
  cells,
}: Pick<DrawnField, "field" | "yields" | "cells">): string {
  const { secondYieldBuPerAc: second, residueLbPerAc, alsoFor = [] } = field;
  const residue = (lbPerAc: PlanField["residueLbPerAc"]): string => {
    const parts = (["P2O5", "K2O"] as const).flatMap((oxide) =>
      lbPerAc?.[oxide] ? [`${numberText(lbPerAc[oxide], 0)} lb ${oxideText(oxide)}`] : [],
    );
    return parts.length === 0 ? "" : `, residue taken off with ${parts.join(" and ")}/ac`;
  };
  const then = alsoFor.map(
    (later) =>
      `; also for ${later.crop}, ${numberText(later.yieldBuPerAc, 0)} bu/ac${later.nutrients === undefined ? "" : `, ${later.nutrients.map(oxideText).join(" and ")} only`}${residue(later.residueLbPerAc)}`,
  );
  const goal = `${goalInWords(yields, cells.areaM2)} bu/ac${typeof yields === "number" ? "" : " by zone"}`;
  const both = second === undefined ? "" : `, second crop ${numberText(second, 0)} bu/ac`;
  return `${field.crop}, ${goal}${both}${residue(residueLbPerAc)}${then.join("")}`;
}

function goalInWords(yields: number | Float64Array, areaM2: ArrayLike<number>): string {
  if (typeof yields === "number") return numberText(yields, 0);
  const goals = yields.filter((_, cell) => areaM2[cell]! > 0);
  const text = (of: (...values: number[]) => number): string =>
    numberText(
      goals.reduce((a, b) => of(a, b), goals[0]!),
      0,
    );
  const [least, most] = [text(Math.min), text(Math.max)];
  return least === most ? least : `${least} to ${most}`;
}

/** Messages of notices, the same one only once; names of fields, with which they may begin, as they are. */
export const messagesOf = (
  notices: readonly { readonly message: string }[],
  fieldNames: readonly string[],
): string[] => [...new Set(notices.map(({ message }) => sentence(message, fieldNames)))];

/** `grid lab.csv, line 9`: a name with blanks, as messages begin with it. */
const BEGINS_WITH_FILE = /^(?!(?:the|a|an|no|in|of|with) )[^,:;.]*\.[a-z]{2,8}(?=[,:\s]|$)/i;

/**
 * With a full stop last, and a capital first where a plain word stands there: names of files and places, pH and what else
 * holds digits, dots or capitals of its own are left as they are.
 */
function sentence(text: string, fieldNames: readonly string[]): string {
  const isName = BEGINS_WITH_FILE.test(text) || fieldNames.some((name) => text.startsWith(`${name}:`));
  const isPlain = /^\p{Ll}+(-\p{Ll}+)*[,:;]?(\s|$)/u.test(text) && !isName;
  const whole = isPlain ? capital(text) : text;
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
}
