import { InputError } from "../../errors/index.ts";
import {
  type batchRecipe,
  type CriticalHumidity,
  type Grade,
  noNutrients,
  ownProduct,
  type PairVerdict,
  type Product,
  productById,
  refuseNitrateWithUrea,
} from "../../products/index.ts";
import type { Oxide } from "./document-need-types.ts";
import type { PlanBlend, PlanProduct } from "./document-split-types.ts";
import type { Plan, PlanBin } from "./document-types.ts";

/** What a product is there to bring; its nitrogen and the rest come along. */
export type Brings = Oxide | "both" | "neither";

/** Which oxides a product brings. */
export function bringsOf({ grade }: Product): Brings {
  if (grade.p2o5 > 0 && grade.k2o > 0) return "both";
  if (grade.p2o5 > 0) return "P2O5";
  return grade.k2o > 0 ? "K2O" : "neither";
}

/** lb of an oxide in a lb of a product. */
export const oxideIn = (grade: Grade, nutrient: Oxide): number =>
  (nutrient === "P2O5" ? grade.p2o5 : grade.k2o) / 100;

/** What is known of a blend beside its parts. */
export interface BlendFacts {
  /** lb K2O a lb P2O5; null for typed shares. */
  readonly k2oPerP2o5: number | null;
  /** $ of what it over- and under-applies on its fields before any split; pounds where prices are not known. */
  readonly misfit: number | null;
  readonly hasPrices: boolean;
  /** The same if every field got one ratio. */
  readonly misfitOneRatio: number | null;
  /** False where fields were grouped by search. */
  readonly proven: boolean;
  /** A batch to weigh; null where the plan names no batch. */
  readonly batch: ReturnType<typeof batchRecipe> | null;
  readonly pairs: readonly PairVerdict[];
  readonly humidity: CriticalHumidity;
  /** Null where a part has none. */
  readonly saltIndex: number | null;
}

/** A blend whose ratio is found: a product with its parts. */
export interface SettledBlend {
  readonly product: Product;
  readonly blend: PlanBlend;
  /** Fields that get it. */
  readonly fields: readonly string[];
  /** Shares as weighed, by weight. */
  readonly parts: readonly { readonly product: Product; readonly share: number }[];
  readonly facts: BlendFacts;
}

/** A bin with what is in it. */
export interface BinProduct {
  readonly bin: PlanBin;
  readonly product: Product;
  readonly brings: Brings;
  readonly blend: SettledBlend | null;
}

/** What is in the bins and in the spreader of one field. */
export interface FieldProducts {
  /** P2O5 first, then K2O, both, neither; else as in the plan. */
  readonly bins: readonly BinProduct[];
  readonly spread: readonly Product[];
}

const ORDER: readonly Brings[] = ["P2O5", "K2O", "both", "neither"];

/** The products of one field. Throws `unknown-product`, `product-not-usable`. */
export function fieldProducts(
  plan: Plan,
  fieldId: string,
  blends: readonly SettledBlend[] = [],
): FieldProducts {
  const own = ownProducts(plan);
  const bins = plan.rig.bins.map((bin): BinProduct => {
    const blend = blends.find((one) => one.blend.id === bin.product && one.fields.includes(fieldId)) ?? null;
    const product = blend?.product ?? productById(bin.product, own);
    return { bin, product, brings: bringsOf(product), blend };
  });
  bins.sort((a, b) => ORDER.indexOf(a.brings) - ORDER.indexOf(b.brings));
  return { bins, spread: spreadIds(plan).map((id) => productById(id, own)) };
}

/** The plan's own products. */
export const ownProducts = (plan: Plan): Product[] => (plan.products ?? []).map(fromPlan);

const KEYS = {
  N: "n",
  P2O5: "p2o5",
  K2O: "k2o",
  S: "s",
  Mg: "mg",
  Zn: "zn",
  B: "b",
  Mn: "mn",
  Cu: "cu",
} as const;

function fromPlan(typed: PlanProduct): Product {
  const { id, name, grade, lbPerFt3, saltIndex, criticalHumidityPercent, sizeGuideNumber } = typed;
  const percent = Object.entries(grade).map(([key, value]) => [KEYS[key as keyof typeof KEYS], value]);
  return ownProduct({
    id,
    name,
    grade: { ...noNutrients, ...Object.fromEntries(percent) },
    ...(lbPerFt3 === undefined ? {} : { bulkLbPerFt3: lbPerFt3 }),
    ...(saltIndex === undefined ? {} : { saltIndex }),
    ...(criticalHumidityPercent === undefined ? {} : { criticalHumidityPercent }),
    ...(sizeGuideNumber === undefined ? {} : { sizeGuideNumber }),
  });
}

/** What logs and pounds of the strips can be said to be of: a bin's product, and of a blend with several ratios each of them. */
export const binProducts = (plan: Plan): string[] => [
  ...new Set(
    plan.rig.bins.flatMap(({ product }) => {
      const blend = blendOf(plan, product);
      return blend === undefined ? [product] : [product, ...ratioNames(blend)];
    }),
  ),
];

/** What a bin has in a field, by its id: of a blend with several ratios the field's own, `alpha2`. */
export const inBinOf = ({ bins }: FieldProducts, id: string): string =>
  bins.find(({ bin }) => bin.id === id)!.product.id;

const blendOf = (plan: Plan, id: string): PlanBlend | undefined => plan.blends?.find((one) => one.id === id);

/** Products of the spreader, oxides first: its own list, or those of the bins, blends by their parts. */
export function spreadIds(plan: Plan): string[] {
  const listed = plan.spreader.products ?? plan.rig.bins.flatMap(({ product }) => partsOf(plan, product));
  const own = ownProducts(plan);
  const rank = (id: string): number => ORDER.indexOf(bringsOf(productById(id, own)));
  return [...new Set(listed)].sort((a, b) => rank(a) - rank(b));
}

/** The parts of a blend, or the product itself. */
export const partsOf = (plan: Plan, product: string): readonly string[] =>
  blendOf(plan, product)?.of ?? [product];

/** Names of a blend's ratios: `a`, or `a1`, `a2` where there may be several. */
export const ratioNames = ({ id, fit, ratios = 1 }: PlanBlend): string[] =>
  ratios === 1 || fit === "typed" ? [id] : Array.from({ length: ratios }, (_, i) => `${id}${i + 1}`);

/** Everything that may be laid, as maps and totals name it: what is in the strip first, P2O5 before K2O. */
export function laidProducts(plan: Plan): string[] {
  const own = ownProducts(plan);
  const rank = (id: string): number =>
    ORDER.indexOf(blendOf(plan, id) ? "both" : bringsOf(productById(id, own)));
  const bins = plan.rig.bins
    .map((bin) => bin.product)
    .toSorted((a, b) => rank(a) - rank(b))
    .flatMap((id) => {
      const blend = blendOf(plan, id);
      return blend ? ratioNames(blend) : [id];
    });
  return [...new Set([...bins, ...spreadIds(plan)])];
}

/** What the plan says of products, checked as a whole. Throws `unknown-product`, `product-not-usable`, `plan-not-valid`. */
export function checkProducts(plan: Plan, name: string): void {
  const own = ownProducts(plan);
  const refuse = (message: string, remedy: string): never => {
    throw new InputError("plan-not-valid", `${name}: ${message}`, remedy);
  };
  for (const blend of plan.blends ?? []) {
    for (const id of blend.of) productById(id, own);
    refuseNitrateWithUrea(blend.of);
    if (!plan.rig.bins.some((bin) => bin.product === blend.id))
      refuse(`no bin holds the blend “${blend.id}”.`, "Name it as a bin's product, or leave it out.");
  }
  for (const { id, product, flatLbPerAc } of plan.rig.bins) {
    if (blendOf(plan, product)) continue;
    const brings = bringsOf(productById(product, own));
    if (flatLbPerAc !== undefined && brings !== "neither") {
      refuse(
        `bin ${id} lays ${product} at a flat rate, and it brings ${brings === "both" ? "P2O5 and K2O" : brings}.`,
        "Leave flatLbPerAc out: its rate follows the need.",
      );
    }
    if (flatLbPerAc === undefined && brings === "neither") {
      refuse(`bin ${id} holds ${product}, which brings neither P2O5 nor K2O.`, "Give its flatLbPerAc.");
    }
  }
  const codes = laidProducts(plan).map(productCode);
  const twice = codes.findIndex((code, i) => codes.indexOf(code) !== i);
  if (twice >= 0) {
    const [a, b] = [codes.indexOf(codes[twice]!), twice].map((i) => laidProducts(plan)[i]);
    refuse(`${a} and ${b} would have files of one name.`, "Give one another id in its first letters.");
  }
}

/** A product's part of a file name, seven letters and digits at most. */
const productCode = (product: string): string =>
  product
    .replace(/-0$/, "")
    .replaceAll(/[^A-Za-z0-9]/g, "")
    .toUpperCase()
    .slice(0, 7);
