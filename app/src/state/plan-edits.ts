import { guideById, type Plan, type PlanField, rateIn, type UnitSystem, unitWords, zeroRateIn } from "#core";
import { said, saidUsd } from "./said.ts";

/** A changed plan with the edit's name; the plan given stays as it is. */
export interface Change {
  readonly name: string;
  readonly plan: Plan;
}

/** Named in the unit that it was typed in. */
export function withCap(plan: Plan, capLbPerAc: number, before: number, system: UnitSystem = "us"): Change {
  const [was, is] = [before, capLbPerAc].map((lb) =>
    Number(rateIn(lb, system).toFixed(system === "us" ? 2 : 1)),
  );
  return {
    name: `strip cap ${said(was)} → ${said(is)} ${unitWords(system).rate}`,
    plan: { ...plan, split: { ...plan.split, capLbPerAc } },
  };
}

export function withCapBasis(plan: Plan, capBasis: Plan["split"]["capBasis"]): Change {
  const words = capBasis === "field-mean" ? "the field's mean" : "the most in any place";
  return { name: `cap limits ${words}`, plan: { ...plan, split: { ...plan.split, capBasis } } };
}

export function withSharing(plan: Plan, within: Plan["split"]["within"]): Change {
  const words = within === "alike" ? "products cut alike" : "phosphate first in the strip";
  return { name: words, plan: { ...plan, split: { ...plan.split, within } } };
}

export function withYield(plan: Plan, field: PlanField, yieldBuPerAc: number, before: number): Change {
  return {
    name: `${field.name} yield goal ${said(before)} → ${said(yieldBuPerAc)} bu/ac`,
    plan: withField(plan, { ...field, yieldBuPerAc }),
  };
}

/** Answers to the guide before go with it: its options, and the ways its rules took to the tests. */
export function withGuide(plan: Plan, field: PlanField, guide: string): Change {
  const { guideOptions: _, nutrients, ...rest } = field;
  const name = plan.ownGuides?.find((own) => own.id === guide)?.name ?? guideById(guide).title;
  const kept = nutrients === undefined ? {} : { nutrients: withoutWays(nutrients) };
  return { name: `${field.name} guide set to ${name}`, plan: withField(plan, { ...rest, ...kept, guide }) };
}

function withoutWays(nutrients: NonNullable<PlanField["nutrients"]>): NonNullable<PlanField["nutrients"]> {
  const kept = Object.entries(nutrients).map(([nutrient, of]) => {
    const { conversion: _, criticalLevelPpm: __, ...rest } = of;
    return [nutrient, of.guide === undefined ? rest : of] as const;
  });
  return Object.fromEntries(kept);
}

export function withBroadcast(plan: Plan, field: PlanField, broadcast: PlanField["broadcast"]): Change {
  const words = broadcast === "later" ? "rest broadcast later" : "nothing broadcast";
  return { name: `${field.name}: ${words}`, plan: withField(plan, { ...field, broadcast }) };
}

export function withPrice(plan: Plan, product: string, usdPerTon: number | null): Change {
  const { [product]: before, ...others } = plan.pricesUsdPerTon ?? {};
  const prices = usdPerTon === null ? others : { ...others, [product]: usdPerTon };
  return {
    name: `${product} price ${saidUsd(before, "none")} → ${saidUsd(usdPerTon, "none")}`,
    plan: { ...plan, pricesUsdPerTon: prices },
  };
}

/** What a rate 0 does in the controller, as the question's answer says it: `off`, `no-data`, `small:5`; null when it says none. */
export function withZeroRate(plan: Plan, answer: string): Change | null {
  const { zeroRate: _, smallRateLbPerAc: __, ...rest } = plan.controller ?? {};
  const told = zeroRateIn(answer);
  if (told === null) return null;
  const small = told.does === "small" ? { smallRateLbPerAc: told.lbPerAc } : {};
  return {
    name: `A rate 0: ${answer.replace(/^small:(.*)/, "$1 lb/ac instead")}`,
    plan: { ...plan, controller: { ...rest, zeroRate: told.does, ...small } },
  };
}

export function withField(plan: Plan, changed: PlanField): Plan {
  return { ...plan, fields: plan.fields.map((field) => (field.id === changed.id ? changed : field)) };
}
