import type { Notice } from "../../errors/index.ts";
import {
  type BlendClass,
  type BlendWeights,
  batchRecipe,
  blendAnalysis,
  blendCompatibility,
  blendCostAt,
  blendGroups,
  blendMisfit,
  blendRatio,
  blendRecipe,
  blendSaltIndex,
  criticalHumidity,
  type Grade,
  type Product,
  productById,
} from "../../products/index.ts";
import { cellClasses } from "../../split/index.ts";
import type { PlanBlend } from "../document/document-split-types.ts";
import type { Plan } from "../document/document-types.ts";
import { type BlendFacts, ownProducts, ratioNames, type SettledBlend } from "../document/field-products.ts";
import type { OxideRates } from "../document/oxide-rates.ts";
import type { FieldGrid } from "../results/result-types.ts";
import { askEveryField, type Work } from "./ask-field.ts";
import { misfitWeights, oxidePrices } from "./full-rates.ts";

/** Classes of need a field; fewer where fields are grouped, which asks for many sums. */
const CLASSES_ONE = 100;
const CLASSES_GROUPED = 20;

/**
 * Blends with their ratios, from what all fields want: a blend is one for the whole plan, or one of several for each field, so
 * every field is asked before any is split. Throws `nitrate-with-urea`, `ratio-outside-products`, `unknown-product`.
 */
export async function settleBlends(work: Work): Promise<SettledBlend[]> {
  const { plan } = work;
  if (plan.blends === undefined) return [];
  const mostClasses = plan.blends.some((blend) => (blend.ratios ?? 1) > 1) ? CLASSES_GROUPED : CLASSES_ONE;
  const classes = plan.blends.some((blend) => blend.fit !== "typed")
    ? await classesOfFields(work, mostClasses)
    : [];
  return blendsOver(plan, classes);
}

/** The plan's blends over classes of need whose fields are known. */
export function blendsOver(plan: Plan, classes: readonly FieldClass[]): SettledBlend[] {
  const own = ownProducts(plan);
  return (plan.blends ?? []).flatMap((blend) => settle(plan, blend, own, classes));
}

/** A class of need of one field. */
interface FieldClass extends BlendClass {
  readonly fieldId: string;
}

async function classesOfFields(work: Work, mostClasses: number): Promise<FieldClass[]> {
  return (await askEveryField(work)).flatMap(({ field, asked }) =>
    fieldClasses(field.id, asked.wanted.value, asked.cells.value, mostClasses),
  );
}

/** What a field wants, in classes. */
export function fieldClasses(
  fieldId: string,
  wanted: OxideRates,
  { areaM2 }: FieldGrid,
  mostClasses: number,
): FieldClass[] {
  const { p2o5LbPerAc, k2oLbPerAc } = wanted;
  const kind = new Uint8Array(areaM2.length);
  const { classes } = cellClasses({ p2o5LbPerAc, k2oLbPerAc, areaM2, kind, mostClasses });
  return classes.map((one, c) => ({ id: `${fieldId} ${c}`, fieldId, ...one }));
}

function settle(
  plan: Plan,
  blend: PlanBlend,
  own: readonly Product[],
  classes: readonly FieldClass[],
): SettledBlend[] {
  const products = blend.of.map((id) => productById(id, own));
  const everyField = plan.fields.map((field) => field.id);
  const prices = oxidePrices(plan, products);
  const facts = (shares: readonly number[]) => factsOf(blend, products, shares, own);
  if (blend.fit === "typed") {
    const made = facts(blend.shares!);
    const figures = {
      k2oPerP2o5: null,
      misfit: null,
      misfitOneRatio: null,
      hasPrices: prices.known,
      proven: true,
    };
    return [settled(blend, blend.id, everyField, products, blend.shares!, { ...made, ...figures })];
  }
  const weights: BlendWeights =
    blend.fit === "cover-both"
      ? {
          overP2o5: prices.P2O5,
          overK2o: prices.K2O,
          underP2o5: Number.POSITIVE_INFINITY,
          underK2o: Number.POSITIVE_INFINITY,
        }
      : misfitWeights(blend, prices);
  const cover = { p2o5PricePerLb: prices.P2O5, k2oPricePerLb: prices.K2O };
  const together =
    blend.fit === "cover-both" ? blendRatio({ classes, ...cover }) : blendMisfit(classes, weights);
  const grouped =
    (blend.ratios ?? 1) > 1
      ? blendGroups({
          classes,
          groups: blend.ratios!,
          ...(blend.fit === "cover-both" ? { cover } : { weights }),
          fieldOf: Object.fromEntries(classes.map((one) => [one.id, one.fieldId])),
        })
      : { groups: [{ k2oPerP2o5: together.k2oPerP2o5, members: everyField }], proven: true };
  const names = ratioNames(blend);
  const placed = new Set(grouped.groups.flatMap((group) => group.members));
  return grouped.groups.map((group, g) => {
    // A field that wants nothing, or was refused, goes with the first ratio.
    const fields =
      g === 0 ? [...group.members, ...everyField.filter((id) => !placed.has(id))] : group.members;
    const { parts } = recipe(blend, group.k2oPerP2o5, products);
    const inGroup = classes.filter(({ fieldId }) => fields.includes(fieldId));
    return settled(blend, names[g]!, fields, products, parts, {
      ...facts(parts),
      k2oPerP2o5: group.k2oPerP2o5,
      misfit: blendCostAt(inGroup, weights, group.k2oPerP2o5),
      misfitOneRatio: blendCostAt(inGroup, weights, together.k2oPerP2o5),
      hasPrices: prices.known,
      proven: grouped.proven,
    });
  });
}

function recipe(blend: PlanBlend, ratio: number, products: readonly Product[]): { readonly parts: number[] } {
  const [first, second] = products as [Product, Product];
  const { parts } = blendRecipe(ratio, first, second);
  return { parts: blend.of.map((id) => parts.find((part) => part.id === id)!.share) };
}

function factsOf(
  blend: PlanBlend,
  products: readonly Product[],
  shares: readonly number[],
  own: readonly Product[],
): Pick<BlendFacts, "batch" | "pairs" | "humidity" | "saltIndex"> {
  const parts = products.map((product, i) => ({ product, share: shares[i]! }));
  const batch =
    blend.batchLb === undefined
      ? null
      : batchRecipe({
          parts: parts.map(({ product, share }) => {
            const bagLb = blend.bagLb?.[product.id];
            return { product, share, ...(bagLb === undefined ? {} : { bagLb }) };
          }),
          batchLb: blend.batchLb,
          stepLb: blend.stepLb ?? DEFAULT_STEP_LB,
        });
  return {
    batch,
    pairs: blendCompatibility(blend.of),
    humidity: criticalHumidity(
      parts.map(({ product, share }) => ({ id: product.id, share })),
      0,
      own,
    ),
    saltIndex: products.every((product) => product.saltIndex !== undefined) ? blendSaltIndex(parts) : null,
  };
}

/** What a blender's scale is commonly read to, lb (ours; unconfirmed). */
const DEFAULT_STEP_LB = 20;

function settled(
  blend: PlanBlend,
  id: string,
  fields: readonly string[],
  products: readonly Product[],
  shares: readonly number[],
  facts: BlendFacts,
): SettledBlend {
  // What is weighed is what lies in the field: the analysis of the rounded pounds goes into the maps.
  const weighed = facts.batch ? facts.batch.parts.map((part) => part.lb / facts.batch!.batchLb) : shares;
  const parts = products.map((product, i) => ({ product, share: weighed[i]! }));
  const grade: Grade = blendAnalysis(
    parts.map(({ product, share }) => ({ grade: product.grade, lb: share })),
  );
  return {
    blend,
    fields,
    parts,
    facts,
    product: {
      id,
      name: `blend of ${blend.of.join(" and ")}`,
      grade,
      gradeSource: "its parts by weight",
      gradeStatus: "arithmetic",
      notes: [],
    },
  };
}

/** What must be said of the blends: pairs in words, humidity, prices that were not known. */
export function blendNotices(blends: readonly SettledBlend[]): Notice[] {
  const notices: Notice[] = [];
  const say = (code: string, message: string, where: string): void => {
    if (!notices.some((one) => one.message === message)) notices.push({ code, message, where });
  };
  for (const { blend, facts, product } of blends) {
    for (const { pair, verdict, words, source, status } of facts.pairs) {
      if (verdict === "compatible") continue;
      const from = source === "" ? status : `${source}; ${status}`;
      say(
        "blend-pair",
        `blend ${blend.id}, ${pair.join(" with ")}: ${verdict}; ${words} (${from})`,
        "blends",
      );
    }
    const { limitPercent, status } = facts.humidity;
    say(
      "blend-humidity",
      `blend ${blend.id} draws water above about ${limitPercent.toFixed(0)} % air humidity (${status}); empty bins on damp nights`,
      "blends",
    );
    if (facts.misfit !== null && !facts.hasPrices)
      say(
        "blend-without-prices",
        `blend ${product.id}: without prices a lb of P2O5 counts as much as one of K2O`,
        "pricesUsdPerTon",
      );
    if (!facts.proven)
      say(
        "blend-groups-searched",
        `blend ${blend.id}: fields were grouped by search, not by trying every way`,
        "blends",
      );
  }
  return notices;
}
