import { sum } from "../numeric/index.ts";
import type { TestName } from "../plan/index.ts";
import { numberText } from "../units/index.ts";
import { areaByClass, type Classes } from "./classes.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { GapId } from "./gap-rates.ts";
import type { CriticalLevels } from "./guide-levels.ts";
import { areaIn, type UnitSystem } from "./numbers.ts";
import { roundedParts } from "./rounded-parts.ts";

/** Id of a layer: what it shows, and of which test, nutrient or product. */
export type LayerId =
  | `soil/${TestName}`
  | `odds/${"P" | "K"}`
  | "need/P2O5"
  | "need/K2O"
  | "strip/all"
  | `strip/${string}`
  | `broadcast/${string}`
  | GapId;

/** One thing a field's plat can show, cut into classes, with the area of each. */
export interface Layer {
  readonly id: LayerId;
  readonly title: string;
  readonly unit: string;
  readonly system: UnitSystem;
  readonly draws: "steps" | "passes" | "dots";
  /** In `unit`; a cell each, or a piece of the passes or the spreader's cells each. NaN outside. */
  readonly values: Float64Array;
  /** Acres of each value. */
  readonly areaAc: Float64Array;
  readonly classes: Classes;
  /** Of each class, in the system's unit, to a tenth; they add up to the field's shown area. */
  readonly classAreas: readonly number[];
  /** Least, area-weighted mean and most, in `unit`. */
  readonly least: number;
  readonly mean: number;
  readonly most: number;
  /** Pounds of all of it; null for soil tests. */
  readonly lb: number | null;
  readonly critical: CriticalLevels | null;
}

/** How a layer is shown. */
export interface LayerOptions {
  readonly system?: UnitSystem;
  /** Class limits typed by the user, rising, in the unit shown. */
  readonly limits?: readonly number[];
}

/** A layer whole: the area of each class, and least, mean and most. */
export function finishLayer(
  field: DrawnField,
  options: LayerOptions,
  layer: Omit<Layer, "system" | "classAreas" | "least" | "mean" | "most">,
): Layer {
  const { values, areaAc, classes } = layer;
  const system = options.system ?? "us";
  const areas = areaByClass(classes.limits, values, areaAc).map((areaOfClass) => areaIn(areaOfClass, system));
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  values.forEach((value, i) => {
    if (!(areaAc[i]! > 0)) return;
    [least, most] = [Math.min(least, value), Math.max(most, value)];
  });
  const weighted = sum(values.map((value, i) => (areaAc[i]! > 0 ? value * areaAc[i]! : 0)));
  return {
    ...layer,
    classes: nameLoneClass(classes, most),
    system,
    classAreas: roundedParts(areas, 1, areaIn(field.checked.areaAc, system)),
    least,
    mean: weighted / sum(areaAc),
    most,
  };
}

/** A class that stands alone, or alone beside `none`, is called by its greatest value. */
function nameLoneClass(classes: Classes, most: number): Classes {
  const coloured = classes.labels.length - (classes.hasNone ? 1 : 0);
  if (coloured > 1) return classes;
  const label = most > 0 || !classes.hasNone ? numberText(most, most < 10 ? 1 : 0) : "some";
  return { ...classes, labels: classes.hasNone ? ["none", label] : [label] };
}
