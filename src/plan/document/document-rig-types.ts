/** Keys of a hopper beside its id and product; only the ones that are known. */
export interface PlanBinSize {
  /** Struck volume, cubic feet. */
  readonly volumeFt3?: number;
  /** Most lb the hopper itself may hold. */
  readonly mostLb?: number;
  /** Weighed loose density, lb/ft3; the middle of the product's published range when absent, unconfirmed. */
  readonly lbPerFt3?: number;
  /** Share of the struck volume that is filled; heaped may be above 1. */
  readonly filledShare?: number;
  /** lb that cannot be metered out. */
  readonly residualLb?: number;
  /** lb a minute the meter can do. */
  readonly meterMinLbPerMin?: number;
  readonly meterMaxLbPerMin?: number;
}

/** The rig at work and at a stop; what is absent but `mph` has a default that is shown as unconfirmed. */
export interface PlanRigWork {
  readonly mph: number;
  /** Share of the theoretical rate left after turns and small stops, filling not in it. */
  readonly turnEfficiency?: number;
  /** Working hours a day less daily service. */
  readonly hoursPerDay?: number;
  /** Drive to the tender, position and return, without the transfer. */
  readonly minutesPerStop?: number;
  /** From tender to bin. */
  readonly fillLbPerMin?: number;
  /** Share of a load kept back against a meter that delivers more than it logs. */
  readonly reserveShare?: number;
}

/** Keys of `rig` that tell how much it holds and how fast it works. */
export interface PlanRigHold {
  readonly work?: PlanRigWork;
  /** Most lb all hoppers may hold together. */
  readonly carriesLb?: number;
  /** The hoppers are one box with a wall that can be moved: their volumes add up. */
  readonly movableWall?: boolean;
}

/** What brings product to the field; tenders that are alike. Absent: product is always at hand. */
export interface PlanTender {
  readonly count: number;
  /** lb one brings on a trip. */
  readonly lb: number;
  /** Minutes one is away to reload. */
  readonly tripMin?: number;
  /** At which ends of the passes it can be reached; stops only at headlands then. Absent: anywhere. */
  readonly reachedAt?: "both-ends" | "one-end";
}
