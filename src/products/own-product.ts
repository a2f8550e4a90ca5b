import { InputError } from "../errors/index.ts";
import { noNutrients } from "./no-nutrients.ts";
import type { FigureRange, Grade, Product } from "./product.ts";

/** A product as the user types it: analysis in percent, what is known beside it. */
export interface OwnProduct {
  readonly id: string;
  readonly name: string;
  readonly grade: Partial<Grade>;
  readonly bulkLbPerFt3?: { readonly low: number; readonly high: number };
  readonly saltIndex?: number;
  readonly criticalHumidityPercent?: number;
  readonly sizeGuideNumber?: { readonly low: number; readonly high: number };
  readonly pricePerTon?: number;
}

/** The user's own product, checked. Throws `product-not-usable`. */
export function ownProduct(own: OwnProduct): Product {
  const grade = { ...noNutrients, ...own.grade };
  const bad = Object.entries(grade).find(([, percent]) => !(percent >= 0 && percent <= 100));
  if (bad !== undefined) throw unusable(own, `${bad[0]} of ${bad[1]} percent is not from 0 to 100`);
  // Oxides outweigh their elements, so that a true analysis may add up to somewhat more than 100.
  const total = Object.values(grade).reduce((sum, percent) => sum + percent, 0);
  if (total > 130) throw unusable(own, `its analysis adds up to ${total} percent`);
  if (total === 0) throw unusable(own, "it has no nutrient");
  const typed = { source: "typed by the user", status: "typed" } as const;
  const range = (pair: { low: number; high: number } | undefined, what: string): FigureRange | undefined => {
    if (pair === undefined) return undefined;
    if (!(pair.low > 0 && pair.high >= pair.low)) {
      throw unusable(own, `${what} ${pair.low} to ${pair.high} is no range`);
    }
    return { ...pair, ...typed };
  };
  const bulk = range(own.bulkLbPerFt3, "bulk density");
  const size = range(own.sizeGuideNumber, "size guide number");
  const { saltIndex, criticalHumidityPercent: humidity, pricePerTon } = own;
  if (saltIndex !== undefined && !(saltIndex >= 0)) throw unusable(own, `salt index ${saltIndex}`);
  if (humidity !== undefined && !(humidity > 0 && humidity <= 100)) {
    throw unusable(own, `critical humidity ${humidity} percent`);
  }
  if (pricePerTon !== undefined && !(pricePerTon >= 0)) throw unusable(own, `price ${pricePerTon} $ a ton`);
  return {
    id: own.id,
    name: own.name,
    grade,
    gradeSource: typed.source,
    gradeStatus: typed.status,
    ...(bulk === undefined ? {} : { bulkLbPerFt3: bulk }),
    ...(size === undefined ? {} : { sizeGuideNumber: size }),
    ...(saltIndex === undefined ? {} : { saltIndex: { value: saltIndex, ...typed } }),
    ...(humidity === undefined ? {} : { criticalHumidityPercent: { value: humidity, ...typed } }),
    ...(pricePerTon === undefined ? {} : { pricePerTon }),
    notes: [],
  };
}

const unusable = (own: OwnProduct, why: string): InputError =>
  new InputError("product-not-usable", `product ${own.id}: ${why}`, "Correct the product from its label.");
