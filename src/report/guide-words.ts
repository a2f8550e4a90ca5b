import { type Guide, type GuideStatus, guideStatus } from "../agronomy/index.ts";
import type { Plan } from "../plan/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import { guideOf } from "./guide-levels.ts";
import { numberText } from "./numbers.ts";

const statusWords: Readonly<Record<GuideStatus, string>> = {
  own: "own figures",
  unconfirmed: "unconfirmed: some figures are from memory, compare with your bulletin",
  confirmed: "compared with the bulletin",
  read: "figures read in the source",
};

export const guideStatusWords = (guide: Guide): string => statusWords[guideStatus(guide)];

/** `Tri-State 2020; unconfirmed: ...` */
export function guideInWords(plan: Plan, field: DrawnField): string {
  const guide = guideOf(plan, field);
  const edition = guide.edition === "" || guide.title.includes(guide.edition) ? "" : ` (${guide.edition})`;
  return `${guide.title}${edition}; ${guideStatusWords(guide)}.`;
}

export const cropInWords = (field: DrawnField): string =>
  `${field.field.crop}, ${numberText(field.field.yieldBuPerAc, 0)} bu/ac`;

/** Messages of notices, the same one only once. */
export const messagesOf = (notices: readonly { readonly message: string }[]): string[] => [
  ...new Set(notices.map((notice) => sentence(notice.message))),
];

/** With a capital first and a full stop last. */
function sentence(text: string): string {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
}
