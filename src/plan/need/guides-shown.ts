import { counted } from "../../units/index.ts";
import type { GuideShown } from "../results/need-result-types.ts";
import type { FieldResult } from "../results/result-types.ts";

/** A guide with the fields that follow it, and all of its figures that were used in any of them. */
export interface GuideInUse extends GuideShown {
  readonly fields: readonly string[];
}

/** The guides behind the rates of some fields, in the order met; fields without a guide name none. */
export function guidesInUse(fields: readonly FieldResult[]): GuideInUse[] {
  const byId = new Map<string, GuideInUse>();
  for (const { field, need } of fields) {
    for (const rule of [need.P2O5.rule, need.K2O.rule]) {
      if (rule === null) continue;
      const { guide } = rule;
      const before = byId.get(guide.id);
      byId.set(guide.id, {
        ...guide,
        fields: [...new Set([...(before?.fields ?? []), field.id])],
        used: [...new Set([...(before?.used ?? []), ...guide.used])],
        fromMemory: [...new Set([...(before?.fromMemory ?? []), ...guide.fromMemory])],
        overridden: [
          ...(before?.overridden ?? []),
          ...guide.overridden.filter((one) => !before?.overridden.some((other) => other.id === one.id)),
        ],
      });
    }
  }
  return [...byId.values()];
}

/** `unconfirmed`, `superseded by ...`, `2 figures replaced`: what must stand beside a guide's name; empty when nothing. */
export function guideMarks(guide: GuideShown): string {
  return [
    guide.status === "unconfirmed" ? "unconfirmed" : "",
    guide.status === "confirmed" && guide.confirmed
      ? `confirmed by ${guide.confirmed.by}, ${guide.confirmed.page}, ${guide.confirmed.date}`
      : "",
    guide.supersededBy === null ? "" : "superseded",
    guide.overridden.length === 0 ? "" : `${counted(guide.overridden.length, "figure")} replaced by the user`,
  ]
    .filter((mark) => mark !== "")
    .join(", ");
}
