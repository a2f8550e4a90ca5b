export { analysisAllowance } from "./blend-allowance.ts";
export { type BlendClass, type BlendedClass, type BlendWeights, blendClass } from "./blend-classes.ts";
export { blendCompatibility, type PairVerdict, pairVerdict } from "./blend-compatibility.ts";
export { blendForRates, type RatedBlend } from "./blend-for-rates.ts";
export { type BlendGroup, type BlendGroups, blendGroups, type GroupsInput } from "./blend-groups.ts";
export {
  type CriticalHumidity,
  criticalHumidity,
  type PairHumidity,
  pairHumidities,
  productRule,
  refuseNitrateWithUrea,
} from "./blend-humidity.ts";
export { blendLeastSquares, type LeastSquaresBlend } from "./blend-least-squares.ts";
export { type ProductsForNeed, productsForNeed } from "./blend-products-for-need.ts";
export {
  type BlendFit,
  blendCostAt,
  blendMisfit,
  blendRatio,
  type CoverInput,
  coverWeights,
} from "./blend-ratio.ts";
export {
  type Batch,
  type BatchPart,
  type BlendPart,
  type BlendRecipe,
  batchRecipe,
  blendAnalysis,
  blendRecipe,
} from "./blend-recipe.ts";
export { type CoatedMicronutrient, type MicronutrientAlong, micronutrientAlong } from "./micronutrient.ts";
export { noNutrients } from "./no-nutrients.ts";
export { type OwnProduct, ownProduct } from "./own-product.ts";
export type { Figure, FigureRange, FigureStatus, Grade, Product } from "./product.ts";
export { productById, products } from "./product-list.ts";
export { nutrientAlong, productRate, productRates, type RatedProduct } from "./product-rates.ts";
export { blendSaltIndex, saltPercent } from "./salt.ts";
