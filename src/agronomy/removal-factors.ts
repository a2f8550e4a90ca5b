import type { Nutrient, Status } from "./types.ts";

/** lb oxide in a bushel of grain. Grain content varies widely and does not follow yield: a range, no debit. */
export interface RemovalFactor {
  readonly id: string;
  readonly crop: string;
  readonly nutrient: Nutrient;
  readonly lbPerBu: number;
  readonly source: string;
  readonly status: Status;
}

const msu = "Michigan State Univ. Ext., Nutrient removal rates by grain crops, 2017";
const villamil =
  "Villamil, Nafziger, Behnke 2019, Crop Forage Turfgrass Manage. 180090 (75th percentile of Illinois samples)";
const gelderman = "Gelderman, Dakota Farmer, 23 March 2014";
const kaiser = "Kaiser, Univ. Minnesota Ext. 2019 potassium guideline, agfax.com, 22 October 2019";
const ipni = "Plant Nutrition Today, Fall 2008 no. 4 (north-central table)";

const factor = (
  id: string,
  crop: string,
  nutrient: Nutrient,
  lbPerBu: number,
  source: string,
  status: Status,
): RemovalFactor => ({ id, crop, nutrient, lbPerBu, source, status });

/** Published factors to choose from where a guide has none of its own. None is preselected. */
export const removalFactors: readonly RemovalFactor[] = [
  factor("michigan", "corn", "P2O5", 0.37, msu, "second-hand"),
  factor("michigan", "corn", "K2O", 0.27, msu, "second-hand"),
  factor("michigan", "soybean", "P2O5", 0.8, msu, "second-hand"),
  factor("michigan", "soybean", "K2O", 1.4, msu, "second-hand"),
  factor("illinois-2019", "corn", "P2O5", 0.37, villamil, "read"),
  factor("illinois-2019", "corn", "K2O", 0.23, villamil, "read"),
  factor("illinois-2019", "soybean", "P2O5", 0.75, villamil, "read"),
  factor("illinois-2019", "soybean", "K2O", 1.18, villamil, "read"),
  factor("illinois-2019", "wheat", "P2O5", 0.46, villamil, "read"),
  factor("illinois-2019", "wheat", "K2O", 0.28, villamil, "read"),
  factor("south-dakota-2014", "corn", "P2O5", 0.27, gelderman, "read"),
  factor("south-dakota-2014", "soybean", "P2O5", 0.61, gelderman, "read"),
  factor("minnesota-2019", "corn", "K2O", 0.19, kaiser, "read"),
  factor("minnesota-2019", "soybean", "K2O", 1.1, kaiser, "read"),
  factor("north-central-2008", "corn", "K2O", 0.27, ipni, "read"),
];

/** Of one source, or undefined where that source has no figure for the crop. */
export const removalFactor = (id: string, crop: string, nutrient: Nutrient): RemovalFactor | undefined =>
  removalFactors.find((entry) => entry.id === id && entry.crop === crop && entry.nutrient === nutrient);
