/** Pounds of oxide or of product (the name says which) per acre of the whole field, never of the strip. */
export type LbPerAc = number & { readonly __unit: "lb/ac" };
/** Avoirdupois pounds. */
export type Lb = number & { readonly __unit: "lb" };
/** Short tons of 2,000 lb. */
export type Tons = number & { readonly __unit: "ton" };
/** International acres, 4,046.8564224 m2. */
export type Acres = number & { readonly __unit: "ac" };
/** A number of metres. */
export type Metres = number & { readonly __unit: "m" };
/** A number of square metres. */
export type SquareMetres = number & { readonly __unit: "m2" };
