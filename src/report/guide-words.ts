import type { GuideStatus } from "../agronomy/index.ts";
import type { GuideShown } from "../plan/index.ts";
import { capital, numberText } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";

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

/** `corn, 190 bu/ac`; `corn, 190 to 230 bu/ac by zone` where zones have yield goals of their own. */
export function cropInWords({ field, yields, cells }: DrawnField): string {
  const text = (bushels: number): string => numberText(bushels, 0);
  if (typeof yields === "number") return `${field.crop}, ${text(yields)} bu/ac`;
  const goals = yields.filter((_, cell) => cells.areaM2[cell]! > 0);
  const [least, most] = [Math.min, Math.max].map((of) => goals.reduce((a, b) => of(a, b), goals[0]!));
  return `${field.crop}, ${least === most ? text(least!) : `${text(least!)} to ${text(most!)}`} bu/ac by zone`;
}

/** Messages of notices, the same one only once. */
export const messagesOf = (notices: readonly { readonly message: string }[]): string[] => [
  ...new Set(notices.map((notice) => sentence(notice.message))),
];

/**
 * With a full stop last, and a capital first where a plain word stands there: names of files and places, pH and what else
 * holds digits, dots or capitals of its own are left as they are.
 */
function sentence(text: string): string {
  const whole = /^\p{Ll}+(-\p{Ll}+)*[,:;]?(\s|$)/u.test(text) ? capital(text) : text;
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
}
