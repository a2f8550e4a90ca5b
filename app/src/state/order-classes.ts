import { computed, type ReadonlySignal } from "@preact/signals";
import { areaByClass, classesFrom, classLimits, classOf, numberText, rateIn } from "#core";
import type { FieldLine } from "../engine/protocol.ts";
import { farmLines } from "./figures.ts";
import { settings } from "./settings.ts";

interface OrderClasses {
  readonly labels: readonly string[];
  readonly steps: readonly number[];
  readonly acres: readonly number[];
  stepOf(lbPerAc: number): number;
}

/** Pounds of all products a field takes, strip and broadcast, per acre. */
export const productLbPerAc = (line: FieldLine): number =>
  line.maps.reduce((lb, map) => lb + map.totalLb, 0) / line.areaAc;

/** Fields by pounds of product an acre, in equal steps. */
export const orderClasses: ReadonlySignal<OrderClasses> = computed(() => {
  const { system } = settings.value;
  const lines = farmLines.value;
  const values = Float64Array.from(lines, (line) => rateIn(productLbPerAc(line), system));
  const acres = Float64Array.from(lines, (line) => line.areaAc);
  const limits = classLimits(values, acres);
  const classes = classesFrom("rate", limits);
  return {
    labels: limits.length > 0 ? classes.labels : [...values.slice(0, 1)].map((value) => numberText(value, 0)),
    steps: classes.steps,
    acres: areaByClass(limits, values, acres),
    stepOf: (lbPerAc) => classes.steps[classOf(limits, rateIn(lbPerAc, system))]!,
  };
});
