export { type CoatedMicronutrient, type MicronutrientAlong, micronutrientAlong } from "./micronutrient.ts";
export { noNutrients } from "./no-nutrients.ts";
export { type OwnProduct, ownProduct } from "./own-product.ts";
export type { Figure, FigureRange, FigureStatus, Grade, Product } from "./product.ts";
export { productById, products } from "./product-list.ts";
export { nitrogenAlong, nutrientAlong, productRates, type RatedProduct } from "./product-rates.ts";
export { blendSaltIndex, saltSum } from "./salt.ts";
