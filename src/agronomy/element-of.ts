import type { Nutrient } from "./types.ts";

/** The element that a soil test of an oxide is told in. */
export const elementOf = (nutrient: Nutrient): "P" | "K" => (nutrient === "P2O5" ? "P" : "K");
