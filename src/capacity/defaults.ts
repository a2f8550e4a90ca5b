/** How far a default can be trusted. `unconfirmed`: no published source was found; the user must look at it. */
export type DefaultStatus = "read" | "unconfirmed";

/** A figure that counts until somebody types their own. */
export interface OperationsDefault {
  readonly key: string;
  readonly value: number;
  /** Blank of a plain number. */
  readonly unit: string;
  readonly status: DefaultStatus;
  /** The publication, or why there is none. */
  readonly source: string;
}

const untimed = "no time study of dry strip-till carts was found; type your own";

/** Starting values for what the user may not know. Every one can be typed over. */
export const operationsDefaults: readonly OperationsDefault[] = [
  {
    key: "turnEfficiency",
    value: 0.8,
    unit: "share",
    status: "read",
    source:
      "Progressive Forage, Farm field equipment: efficiency versus capacity: a machine that is not tended",
  },
  { key: "fixedHoursPerStop", value: 0.1, unit: "h", status: "unconfirmed", source: untimed },
  {
    key: "transferLbPerHour",
    value: 78_000,
    unit: "lb/h",
    status: "unconfirmed",
    source: "1,000 to 2,500 lb a minute is recalled for belt tenders; an auger of 1978 moved 750",
  },
  {
    key: "residualLb",
    value: 300,
    unit: "lb",
    status: "unconfirmed",
    source: "no published figure was found",
  },
  {
    key: "fillFactor",
    value: 1,
    unit: "share",
    status: "unconfirmed",
    source: "no published figure was found",
  },
  { key: "tripHours", value: 2, unit: "h", status: "unconfirmed", source: untimed },
  { key: "hoursPerDay", value: 11, unit: "h", status: "unconfirmed", source: "a matter of the farm" },
  { key: "leaveBelowShare", value: 0.25, unit: "share of a load", status: "unconfirmed", source: "ours" },
  { key: "reserveShare", value: 0.05, unit: "share of a load", status: "unconfirmed", source: "ours" },
  {
    key: "persistence",
    value: 0.5,
    unit: "",
    status: "unconfirmed",
    source: "our inference from the spread of working days in central Illinois 1980-2010; show 0 beside it",
  },
  {
    key: "handlingLossShare",
    value: 0,
    unit: "share",
    status: "unconfirmed",
    source: "no published figure was found",
  },
  {
    key: "overlapShare",
    value: 0.033,
    unit: "share",
    status: "read",
    source: "Iowa State Univ. overlap study 2011, planters without section control, mean over 2,500 ac",
  },
  {
    key: "catchTestTolerance",
    value: 0.05,
    unit: "share of the mean",
    status: "read",
    source: "Sumner, Fertilizer Applicator Calibration, Univ. Georgia",
  },
  {
    key: "coatingPoints",
    value: 0,
    unit: "points of critical humidity",
    status: "unconfirmed",
    source: "no published figure was found",
  },
];

/** One default by its key. A wrong key is our bug. */
export function operationsDefault(key: string): OperationsDefault {
  const found = operationsDefaults.find((entry) => entry.key === key);
  if (found === undefined) throw new Error(`no default "${key}"`);
  return found;
}
