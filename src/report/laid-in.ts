import { laidProducts, type RunResult } from "../plan/index.ts";
import { type Grade, noNutrients } from "../products/index.ts";

/** Products that some map of the result lays, in the plan's order. */
export const laidIn = ({ plan, fields }: RunResult): string[] =>
  laidProducts(plan).filter((product) =>
    fields.some((field) => field.prescriptions.some((map) => map.product === product)),
  );

/** What is in a product that some map lays, percent. */
export const analysisOf = ({ fields }: RunResult, product: string): Grade =>
  fields.flatMap((field) => field.prescriptions).find((map) => map.product === product)?.analysis ??
  noNutrients;
