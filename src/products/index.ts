export type { Figure, FigureRange, FigureStatus, Grade, Product } from "./product.ts";
export { productById, products } from "./product-list.ts";
export { nitrogenAlong, nutrientAlong, productRates, type RatedProduct } from "./product-rates.ts";
