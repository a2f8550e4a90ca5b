import {
  oxideText,
  type Plan,
  type PlanBin,
  type PlanBlend,
  type PlanSeed,
  type PlanSplit,
  type SplitMethod,
  splitMethodInWords,
  spreadIds,
} from "#core";
import { type Patch, patched } from "./patched.ts";
import type { Change } from "./plan-edits.ts";
import { withBin } from "./rig-edits.ts";
import { said } from "./said.ts";

/** Another way to split. What the cap limits stays, for the way back from one that knows a mean only. */
export function withMethod(plan: Plan, method: SplitMethod): Change {
  return {
    name: method === "priority" ? "split by priority" : `split by ${splitMethodInWords(method)}`,
    plan: { ...plan, split: { ...plan.split, method } },
  };
}

/** One figure of `split`, by its name in words; null leaves it out. */
export const withSplit = (plan: Plan, patch: Patch<PlanSplit>, name: string): Change => ({
  name,
  plan: { ...plan, split: patched(plan.split, patch) },
});

export function withStarter(plan: Plan, oxide: "P2O5" | "K2O", lbPerAc: number | null): Change {
  const starter = patched(plan.split.starterLbPerAc ?? {}, { [oxide]: lbPerAc });
  const left = Object.keys(starter).length === 0 ? null : starter;
  return withSplit(plan, { starterLbPerAc: left }, `starter ${oxideText(oxide)} ${said(lbPerAc)} lb/ac`);
}

/** The factor of every guide; or of one alone where the plan has them by guide. Null: no cut. */
export function withBandFactor(plan: Plan, guide: string | null, value: number | null): Change {
  const now = plan.split.bandFactorP2O5;
  const factor = value === 1 ? null : value;
  const name = `${factor === null ? "no cut for banding" : `band factor P₂O₅ ${factor}`}`;
  if (typeof now !== "object" || guide === null) return withSplit(plan, { bandFactorP2O5: factor }, name);
  const left = patched<Readonly<Record<string, number>>>(now, { [guide]: factor });
  const bandFactorP2O5 = Object.keys(left).length === 0 ? null : left;
  return withSplit(plan, { bandFactorP2O5 }, `${name}, ${guide}`);
}

export function withOptimum(
  plan: Plan,
  patch: Patch<NonNullable<PlanSplit["optimum"]>>,
  name: string,
): Change {
  const optimum = patched(plan.split.optimum ?? {}, patch);
  return withSplit(plan, { optimum: Object.keys(optimum).length === 0 ? null : optimum }, name);
}

export function withSeed(plan: Plan, patch: Patch<PlanSeed>, name: string): Change {
  const { seed, ...rest } = plan;
  const next = patched(seed ?? {}, patch);
  return { name, plan: Object.keys(next).length === 0 ? rest : { ...rest, seed: next } };
}

/** Another product in a bin; what was weighed or coated of the old one goes with it. */
export function withProduct(plan: Plan, id: string, product: string): Change {
  const changed = withBin(
    plan,
    id,
    { product, lbPerFt3: null, coated: null, flatLbPerAc: null },
    `bin ${id} holds ${product}`,
  );
  return { ...changed, plan: withoutStrayBlends(changed.plan) };
}

const BLEND = "mix";

/** All bins' products in the first bin at one ratio, the other bins empty; the spreader keeps the products alone. */
export function withOneBlend(plan: Plan): Change {
  const products = spreadIds(plan);
  const [first] = plan.rig.bins;
  const blend: PlanBlend = { id: BLEND, of: products.slice(0, 2), fit: "cover-both", rate: "no-excess" };
  const { lbPerFt3: _, flatLbPerAc: __, ...bin } = first!;
  return {
    name: `one bin, one blend of ${blend.of.join(" and ")}`,
    plan: { ...plan, rig: { ...plan.rig, bins: [{ ...bin, product: BLEND }] }, blends: [blend] },
  };
}

/** The parts of the blend in a bin each. */
export function withBinsAlone(plan: Plan): Change {
  const blend = plan.blends?.[0];
  const [first] = plan.rig.bins;
  const ids = ["L", "R", "A", "B", "C", "D"];
  const { blends: _, ...rest } = plan;
  const bins = (blend?.of ?? []).map(
    (product, i): PlanBin => ({
      ...first!,
      id: i === 0 ? first!.id : ids.find((id) => id !== first!.id && ids.indexOf(id) >= i)!,
      product,
    }),
  );
  return { name: "each product in a bin of its own", plan: { ...rest, rig: { ...plan.rig, bins } } };
}

export function withBlend(plan: Plan, id: string, patch: Patch<PlanBlend>, name: string): Change {
  return {
    name,
    plan: { ...plan, blends: plan.blends!.map((one) => (one.id === id ? patched(one, patch) : one)) },
  };
}

/** Blends that no bin holds any more are no part of the plan. */
function withoutStrayBlends(plan: Plan): Plan {
  const { blends, ...rest } = plan;
  const left = (blends ?? []).filter((blend) => plan.rig.bins.some((bin) => bin.product === blend.id));
  return left.length === 0 ? rest : { ...rest, blends: left };
}
