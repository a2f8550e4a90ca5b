import type { NeedLayer } from "../../split/index.ts";
import type { Oxide } from "./document-need-types.ts";
import type { SplitLayer } from "./document-split-types.ts";
import type { PlanSplit } from "./document-types.ts";
import type { FieldProducts } from "./field-products.ts";
import { type OxideRates, ratesOf } from "./oxide-rates.ts";

/** Parts of the need as they stay in the strip unless the plan changes them: this crop's need before later ones, P before K. */
export const SPLIT_LAYERS: readonly SplitLayer[] = [
  "below-critical-P2O5",
  "below-critical-K2O",
  "maintenance-P2O5",
  "maintenance-K2O",
  "build-up-P2O5",
  "build-up-K2O",
];

interface NamedLayer extends NeedLayer {
  readonly nutrient: Oxide;
}

interface LayerSource {
  readonly split: PlanSplit;
  readonly laid: FieldProducts;
  /** What strip and broadcast are to bring, lb oxide/ac. */
  readonly wanted: OxideRates;
  /** 1 on cells below critical. */
  readonly isBelow: Readonly<Record<Oxide, Uint8Array>>;
  /** lb oxide/ac that this crop takes; undefined where no factor is known: all of the need then counts as its own. */
  readonly removal: Readonly<Record<Oxide, number | Float64Array | undefined>>;
  /** lb product/ac of the need, and what of it may lie in the strip, by bin. */
  readonly full: readonly Float64Array[];
  readonly room: readonly Float64Array[];
}

/**
 * The need cut into parts, lb product/ac, in the order in which they stay in the strip: starter, this crop's need below
 * critical, maintenance (this crop's need at or above critical), build-up (what lies beyond this crop's need). What the
 * limits leave no room for is cut off the last parts of a product.
 */
export function splitLayers(source: LayerSource): NamedLayer[] {
  const order = source.split.order ?? SPLIT_LAYERS;
  const parts = { P2O5: sharesOf(source, "P2O5"), K2O: sharesOf(source, "K2O") };
  const left = source.room.map((rates) => Float64Array.from(rates));
  const named = [
    ...(["P2O5", "K2O"] as const).map((nutrient) => ({ part: "starter", nutrient })),
    ...order.map((layer) => {
      const nutrient: Oxide = layer.endsWith("P2O5") ? "P2O5" : "K2O";
      return { part: layer.slice(0, -nutrient.length - 1), nutrient };
    }),
  ];
  return named.flatMap(({ part, nutrient }): NamedLayer[] => {
    const own = parts[nutrient];
    if (own === null) return [];
    const wants = own.shares.get(part)!;
    const lbPerAc = wants.map((share, i) => {
      const placed = Math.min(share * source.full[own.bin]![i]!, left[own.bin]![i]!);
      left[own.bin]![i] = left[own.bin]![i]! - placed;
      return placed;
    });
    return [
      { name: `${part.replace("-critical", " critical")}, ${nutrient}`, nutrient, product: own.bin, lbPerAc },
    ];
  });
}

/** Shares of the need of one oxide by part, a cell each; they add up to 1. Null where no bin brings it. */
function sharesOf(
  { split, laid, wanted, isBelow, removal }: LayerSource,
  nutrient: Oxide,
): { readonly bin: number; readonly shares: ReadonlyMap<string, Float64Array> } | null {
  const bin = laid.bins.findIndex(({ brings }) => brings === nutrient);
  if (bin < 0) return null;
  const rates = ratesOf(wanted, nutrient);
  const starter = split.starterLbPerAc?.[nutrient] ?? 0;
  const cells = rates.length;
  const shares = new Map(
    ["starter", "below-critical", "maintenance", "build-up"].map((part) => [part, new Float64Array(cells)]),
  );
  const taken = removal[nutrient];
  for (let i = 0; i < cells; i++) {
    const rate = rates[i]!;
    if (!(rate > 0)) {
      if (Number.isNaN(rate)) for (const part of shares.values()) part[i] = Number.NaN;
      continue;
    }
    const first = Math.min(rate, starter);
    const crop = typeof taken === "number" ? taken : (taken?.[i] ?? Number.POSITIVE_INFINITY);
    const own = Math.max(0, Math.min(rate, crop) - first);
    const below = isBelow[nutrient][i] === 1;
    shares.get("starter")![i] = first / rate;
    shares.get("below-critical")![i] = below ? own / rate : 0;
    shares.get("maintenance")![i] = below ? 0 : own / rate;
    shares.get("build-up")![i] = (rate - first - own) / rate;
  }
  return { bin, shares };
}
