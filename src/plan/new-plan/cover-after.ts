import { guideById, guideIds } from "../../agronomy/index.ts";
import type { Notice } from "../../errors/index.ts";
import { type FieldStand, SHORT_SHARE } from "../../ledger/index.ts";
import { coveredThrough } from "../../need/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { Oxide, PlanEarlier } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { seasonOf } from "../document/season-of-date.ts";
import type { FieldResult } from "../results/result-types.ts";

/** What last season's maps were to bring to a field. */
export interface LastField {
  readonly areaAc: number;
  /** lb of oxide in the files of strip and spreader. */
  readonly plannedLb: Readonly<Record<Oxide, number>>;
  /**
   * Whether its season was counted as year 1 of build-up because samples for P or K have no date, and typing that year moves
   * no test that has one.
   */
  readonly isYearAssumed: boolean;
}

/** The fields of a season that is over, by their ids. */
export const lastFields = (
  seasonYear: number,
  fields: readonly Pick<FieldResult, "field" | "checked" | "balances" | "notices">[],
): ReadonlyMap<string, LastField> =>
  new Map(
    fields.map(({ field, checked, balances, notices }) => {
      const planned = (oxide: Oxide): number =>
        sum(balances.map((one) => (one.nutrient === oxide ? one.stripLb + one.broadcastLb : 0)));
      const isYearAssumed =
        notices.some(({ code }) => code === "build-up-year-assumed") &&
        checked.samplings.every(
          ({ date, usedFor }) =>
            date === null || seasonOf(date) >= seasonYear || !usedFor.some((test) => test !== "CEC"),
        );
      const plannedLb = { P2O5: planned("P2O5"), K2O: planned("K2O") };
      return [field.id, { areaAc: checked.areaAc, plannedLb, isYearAssumed }];
    }),
  );

/**
 * Applications of a season that cover later ones too: made for later crops (`alsoFor`), or by a guide's rate for several crop
 * years; each once the ledger has its pounds as placed, strip and broadcast together and no less than makes a strip short, else a notice. None of a nutrient that an
 * earlier application covered already, or that nothing was planned of.
 */
export function coverAfter(
  last: Plan,
  field: PlanField,
  stand: FieldStand | undefined,
  had: LastField | undefined,
): { readonly earlier: readonly PlanEarlier[]; readonly notices: readonly Notice[] } {
  const notices: Notice[] = [];
  const earlier = (["P2O5", "K2O"] as const).flatMap((nutrient): PlanEarlier[] => {
    const yearsCovered = yearsOf(field, nutrient);
    const before = coveredThrough(nutrient, field.earlier ?? []);
    const plannedLb = had?.plannedLb[nutrient] ?? 0;
    if (yearsCovered < 2 || (before ?? 0) >= last.seasonYear || plannedLb <= 0) return [];
    const placedLb = (nutrient === "P2O5" ? stand?.p2o5Lb : stand?.k2oLb) ?? 0;
    if (placedLb >= SHORT_SHARE * plannedLb) return [{ nutrient, seasonYear: last.seasonYear, yearsCovered }];
    const message = `${field.name}: last season's ${nutrient} was to cover ${yearsCovered} crop years with ${numberText(plannedLb, 0)} lb, and the ledger has ${numberText(placedLb, 0)} lb placed: the need counts in full`;
    notices.push({ code: "cover-not-placed", message, where: field.id });
    return [];
  });
  return { earlier, notices };
}

/** Crop years that a field's application of a nutrient is for. */
function yearsOf({ crop, guide, nutrients, alsoFor = [] }: PlanField, nutrient: Oxide): number {
  const own = nutrients?.[nutrient];
  const byGuide = (name: string): number => {
    const id = own?.guide ?? guide;
    if (!guideIds().includes(id)) return 1;
    const rules = guideById(id).rules.filter((rule) => rule.crop === name && rule.nutrient === nutrient);
    return Math.max(1, ...rules.map((rule) => rule.yearsCovered));
  };
  const later = alsoFor.filter((one) => one.nutrients?.includes(nutrient) ?? true);
  return later.reduce((years, one) => years + byGuide(one.crop), byGuide(own?.crop ?? crop));
}
