/** Limits of the ladder; every one can be typed over. Sums of N + K2O + S in lb per acre of field. */
export interface SaltThresholds {
  /** lb per acre x inches of row, medium and fine soil, with the seed. */
  readonly inFurrowLbIn: number;
  /** With the seed, whatever the row spacing: the other published figure; the lower of the two counts. */
  readonly inFurrowSandyLbPerAc: number;
  readonly inFurrowOtherLbPerAc: number;
  /** Two inches beside and two below the seed. */
  readonly besideSandyLbPerAc: number;
  readonly besideOtherLbPerAc: number;
  /** Below this distance the seed counts as in the furrow; up to `besideIn` as 2 x 2. */
  readonly furrowIn: number;
  readonly besideIn: number;
  /** Single caps in a 2 x 2 band. */
  readonly cornNLbPerAc: number;
  readonly cornP2o5LbPerAc: number;
  readonly cornK2oLbPerAc: number;
  readonly soybeanP2o5LbPerAc: number;
  readonly soybeanK2oLbPerAc: number;
}

/** The limits that count until somebody types their own; their sources are `saltThresholdSources`. */
export const saltThresholds: SaltThresholds = {
  inFurrowLbIn: 240,
  inFurrowSandyLbPerAc: 5,
  inFurrowOtherLbPerAc: 8,
  besideSandyLbPerAc: 30,
  besideOtherLbPerAc: 60,
  furrowIn: 2,
  besideIn: 3,
  cornNLbPerAc: 40,
  cornP2o5LbPerAc: 100,
  cornK2oLbPerAc: 100,
  soybeanP2o5LbPerAc: 100,
  soybeanK2oLbPerAc: 80,
};

/** Source and status of the default limits. The steps of distance are ours; nothing is published for bands. */
export const saltThresholdSources: Readonly<Record<keyof SaltThresholds, string>> = {
  inFurrowLbIn:
    "K-State starter fertilizer table, read in a No-Till Farmer reprint: 40 in. 6, 30 in. 8, 20 in. 12 lb",
  inFurrowSandyLbPerAc: "Purdue guideline in a soil-laboratory note, second-hand",
  inFurrowOtherLbPerAc: "Purdue guideline in a soil-laboratory note, second-hand",
  besideSandyLbPerAc: "Purdue guideline, second-hand; Ohio and Michigan allow more: the lower counts",
  besideOtherLbPerAc:
    "Purdue guideline, second-hand; Ohio and Michigan allow 100 (140 on clay): the lower counts",
  furrowIn: "ours; 2 in. usually prevents injury at normal rates (Purdue, second-hand)",
  besideIn: "ours; unconfirmed",
  cornNLbPerAc: "MSU Extension 2009",
  cornP2o5LbPerAc: "MSU Extension 2009",
  cornK2oLbPerAc: "MSU Extension 2009",
  soybeanP2o5LbPerAc: "MSU Extension 2009",
  soybeanK2oLbPerAc: "MSU Extension 2009",
};

/** Sandy soil with the seed: 20 in. 8, 30 in. 6, 40 in. 4 lb (the same K-State table); 8 below, the same lb a foot above. */
export const sandyInFurrow = (rowSpacingIn: number): number => {
  if (rowSpacingIn > 40) return 160 / rowSpacingIn;
  return Math.min(8, 12 - rowSpacingIn / 5);
};
