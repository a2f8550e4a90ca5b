export * from "./convert.ts";
export * from "./number-text.ts";
export type { Acres, Lb, LbPerAc, Metres, SquareMetres, Tons } from "./quantity.ts";
