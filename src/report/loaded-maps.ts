import type { Plan } from "../plan/index.ts";
import { KG_HA_COLUMN, KG_HA_MARK, type Prescription, RATE_COLUMN } from "../prescription/index.ts";
import { stemOf } from "./map-words.ts";
import type { UnitSystem } from "./numbers.ts";

/** The maps in the form the plan's controller loads: the maps themselves, or the same in kg/ha. */
export interface LoadedMaps {
  readonly system: UnitSystem;
  readonly column: string;
  readonly unit: "lb/ac" | "kg/ha";
  /** What a rate of the column is: `lb of that product per acre of the whole field`. */
  readonly meaning: string;
  /** The name of a map's files, without the letter of a revision. */
  fileOf(map: Prescription): string;
}

/** What the sheets say of column, unit and names. */
export const loadedMaps = ({ controller }: Plan): LoadedMaps =>
  controller?.loads?.includes("kg-ha")
    ? {
        system: "metric",
        column: KG_HA_COLUMN,
        unit: "kg/ha",
        meaning: "kg of that product per hectare of the whole field",
        fileOf: (map) => (map.files.size === 0 ? stemOf(map) : `${stemOf(map)}${KG_HA_MARK}`),
      }
    : {
        system: "us",
        column: RATE_COLUMN,
        unit: "lb/ac",
        meaning: "lb of that product per acre of the whole field",
        fileOf: stemOf,
      };
