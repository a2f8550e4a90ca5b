export * from "./convert.ts";
export type { Acres, Lb, LbPerAc, Metres, SquareMetres, Tons } from "./quantity.ts";
