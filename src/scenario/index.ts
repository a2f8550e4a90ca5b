export { type Correlation, gaussianField, type Surface } from "./gaussian-field.ts";
export { generate, type Scenario } from "./generate.ts";
export type { Land, LandField } from "./land.ts";
export { type Random, randomStream, xoshiro128 } from "./random.ts";
export { CLEAR_OF_EDGE_M } from "./sampling.ts";
export { readSeed } from "./seed.ts";
export type { SectionsLayout, Seed, SeedSoil, SeedSurface, SeedWork, SingleLayout } from "./seed-types.ts";
export type { SoilAt, Truth } from "./truth.ts";
