import { InputError } from "../errors/index.ts";
import type { Nutrient, Status, TestMethod } from "./types.ts";

/** A published straight line from one extractant to another, elemental ppm; used only when asked for by name. */
export interface Conversion {
  readonly id: string;
  readonly nutrient: Nutrient;
  readonly from: readonly TestMethod[];
  readonly to: TestMethod;
  readonly slope: number;
  readonly interceptPpm: number;
  readonly region: string;
  /** Guides of that region. */
  readonly guides: readonly string[];
  readonly source: string;
  readonly status: Status;
}

const ohio = "Ohio State Univ. Ext., agbmps.osu.edu, Understanding Soil Test Reports for Phosphorus Values";
const anr75 = "Ohio State Univ. Ext. fact sheet ANR-75";
const triStateGuides = ["tri-state-1995", "tri-state-2020"];
const triState = { region: "Indiana, Michigan, Ohio", guides: triStateGuides };
const nebraska = {
  region: "Nebraska",
  guides: ["nebraska"],
  source: "Nebraska cross-test figures, recalled; they agree with the critical levels read",
  status: "from memory",
} as const;

/** Not offered: Bray P1 to Mehlich-3 by colour, ICP to colour, dried to moist K (separate classes exist). */
export const conversions: readonly Conversion[] = [
  {
    id: "ohio-icp-to-bray-line",
    nutrient: "P2O5",
    from: ["mehlich-3-icp"],
    to: "bray-p1",
    slope: 0.832,
    interceptPpm: -8.08,
    region: "Ohio",
    guides: triStateGuides,
    source: ohio,
    status: "read",
  },
  {
    id: "tri-state-mehlich-3-to-bray-ratio",
    nutrient: "P2O5",
    from: ["mehlich-3", "mehlich-3-icp"],
    to: "bray-p1",
    slope: 1 / 1.35,
    interceptPpm: 0,
    ...triState,
    source: `${anr75}, turned round`,
    status: "arithmetic",
  },
  {
    id: "tri-state-bray-to-mehlich-3-ratio",
    nutrient: "P2O5",
    from: ["bray-p1"],
    to: "mehlich-3",
    slope: 1.35,
    interceptPpm: 0,
    ...triState,
    source: anr75,
    status: "read",
  },
  {
    id: "tri-state-acetate-to-mehlich-3-ratio",
    nutrient: "K2O",
    from: ["ammonium-acetate"],
    to: "mehlich-3",
    slope: 1.14,
    interceptPpm: 0,
    ...triState,
    source: anr75,
    status: "read",
  },
  {
    id: "tri-state-mehlich-3-to-acetate-ratio",
    nutrient: "K2O",
    from: ["mehlich-3"],
    to: "ammonium-acetate",
    slope: 1 / 1.14,
    interceptPpm: 0,
    ...triState,
    source: `${anr75}, turned round`,
    status: "arithmetic",
  },
  {
    id: "nebraska-mehlich-3-to-bray",
    nutrient: "P2O5",
    from: ["mehlich-3", "mehlich-3-icp", "mehlich-3-colorimetric"],
    to: "bray-p1",
    slope: 0.85,
    interceptPpm: 0,
    ...nebraska,
  },
  {
    id: "nebraska-olsen-to-bray",
    nutrient: "P2O5",
    from: ["olsen"],
    to: "bray-p1",
    slope: 1.5,
    interceptPpm: 0,
    ...nebraska,
  },
];

/** The test by the other extractant, ppm; a line that falls below zero stops there. */
export const convertTest = (conversion: Conversion, ppm: number): number =>
  Math.max(0, conversion.interceptPpm + conversion.slope * ppm);

/** Throws `unknown-conversion` with the known ids. */
export function conversionById(id: string): Conversion {
  const found = conversions.find((entry) => entry.id === id);
  if (found !== undefined) return found;
  throw new InputError(
    "unknown-conversion",
    `there is no conversion "${id}"`,
    `Name one of ${conversions.map((entry) => entry.id).join(", ")}.`,
  );
}

/** Conversions from one method to another, in the order of the list. */
export const conversionsBetween = (from: string, to: readonly TestMethod[]): Conversion[] =>
  conversions.filter((entry) => entry.from.some((method) => method === from) && to.includes(entry.to));
