import { numberText } from "../units/index.ts";
import { RAMP_STEPS, type RampName } from "./tokens.ts";

/** How a map's values are cut into classes; the same classes stand on the map, its legend and its charts. */
export interface Classes {
  readonly ramp: RampName;
  /** Rising; class k holds `limits[k - 1] <= value < limits[k]`. One class more than limits. */
  readonly limits: readonly number[];
  /** Limits in words, least class first: `under 10`, `10–14`, `35 and over`. */
  readonly labels: readonly string[];
  /** The guide's names of the classes, in their order; empty where it has none. */
  readonly names: readonly string[];
  /** Ramp step 0 to 6 of each class; -1 where nothing comes. */
  readonly steps: readonly number[];
  /** Class 0 holds nothing but zero. */
  readonly hasNone: boolean;
}

/** Anything above it is something: limit between `none` and the least class. */
export const NEXT_TO_NOTHING = 1e-9;

/** What is wanted of class limits besides even steps. */
export interface ClassWishes {
  /** Classes at most, 7 unless given. */
  readonly most?: number;
  /** A value that should be a limit. */
  readonly through?: number | undefined;
  /** No step below this: rates that come in steps need no finer classes. */
  readonly shortest?: number;
}

/** Part of the area that an outermost class may have and still be joined to its neighbour. */
const SMALL_SHARE = 0.05;

/**
 * Limits at equal, sensible steps (1, 2, 2.5, 3, 4 or 5 times a power of ten) that cut the values into `most` classes
 * at most; small classes at either end are joined for it. With `through` (a critical level) the steps are such
 * that it is a limit, if a step up to twice as long allows it. NaN values and those without weight count nothing;
 * values all alike need no limit.
 */
export function classLimits(
  values: Float64Array,
  weights: Float64Array,
  { most = RAMP_STEPS, through, shortest = 0 }: ClassWishes = {},
): number[] {
  let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  values.forEach((value, i) => {
    if (Number.isNaN(value) || !(weights[i]! > 0)) return;
    least = Math.min(least, value);
    greatest = Math.max(greatest, value);
  });
  if (!(greatest > least)) return [];
  const range = greatest - least;
  const usual = sensibleStep(Math.max(range / most, shortest));
  const isMultiple = (step: number) => Math.abs(through! / step - Math.round(through! / step)) < 1e-9;
  const isWithin = through !== undefined && through > least && through < greatest;
  let first: number[] | undefined;
  // A little finer than needed at first: small classes at the ends may be joined.
  for (let step = sensibleStep(Math.max(range / (most + 2), shortest)); ; step = sensibleStep(step * 1.01)) {
    const limits = joinSmallEnds(stepsWithin(least, greatest, step), values, weights, most, through);
    if (limits.length < most) {
      if (!isWithin || isMultiple(step)) return limits;
      first ??= limits;
    }
    if (first && step > 2 * usual) return first;
  }
}

function stepsWithin(least: number, greatest: number, step: number): number[] {
  const first = Math.floor(least / step + 1e-9) + 1;
  const last = Math.floor(greatest / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, k) =>
    Number(((first + k) * step).toPrecision(12)),
  );
}

/** Takes limits away at the ends while there are too many classes and the outermost are small. */
function joinSmallEnds(
  limits: readonly number[],
  values: Float64Array,
  weights: Float64Array,
  most: number,
  through: number | undefined,
): number[] {
  const kept = [...limits];
  const areas = areaByClass(kept, values, weights);
  const small = SMALL_SHARE * areas.reduce((all, area) => all + area, 0);
  while (kept.length >= most) {
    const atStart = areas[0]! + areas[1]! <= areas.at(-1)! + areas.at(-2)!;
    const outermost = atStart ? areas[0]! : areas.at(-1)!;
    if (outermost > small || (atStart ? kept[0] : kept.at(-1)) === through) break;
    if (atStart) {
      kept.shift();
      areas.splice(0, 2, areas[0]! + areas[1]!);
    } else {
      kept.pop();
      areas.splice(-2, 2, areas.at(-2)! + areas.at(-1)!);
    }
  }
  return kept;
}

/** The least of 1, 2, 2.5, 3, 4, 5 times a power of ten that is not below a value above 0. */
export function sensibleStep(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const factor = [1, 2, 2.5, 3, 4, 5, 10].find((candidate) => candidate * power >= value * (1 - 1e-9))!;
  return Number((factor * power).toPrecision(12));
}

/** Index of a value's class; a value on a limit is in the class above it. */
export function classOf(limits: readonly number[], value: number): number {
  let index = 0;
  while (index < limits.length && value >= limits[index]!) index++;
  return index;
}

/** Area of each class; values that are NaN are in none. */
export function areaByClass(limits: readonly number[], values: Float64Array, area: Float64Array): number[] {
  const areas = new Array<number>(limits.length + 1).fill(0);
  values.forEach((value, i) => {
    if (area[i]! > 0 && !Number.isNaN(value)) areas[classOf(limits, value)]! += area[i]!;
  });
  return areas;
}

/** Classes from their limits; `names` are the guide's. A limit next to nothing makes class 0 `none`. */
export function classesFrom(
  ramp: RampName,
  limits: readonly number[],
  names: readonly string[] = [],
): Classes {
  const hasNone = limits[0] === NEXT_TO_NOTHING;
  const coloured = limits.length + 1 - (hasNone ? 1 : 0);
  const steps = Array.from({ length: coloured }, (_, k) => rampStep(k, coloured));
  return {
    ramp,
    limits,
    labels: labelsOf(hasNone ? limits.slice(1) : limits, hasNone),
    names,
    steps: hasNone ? [-1, ...steps] : steps,
    hasNone,
  };
}

/** Few classes take steps from the whole ramp; a lone class takes its middle. */
const rampStep = (k: number, count: number): number =>
  count === 1 ? (RAMP_STEPS - 1) / 2 : Math.round((k * (RAMP_STEPS - 1)) / (count - 1));

function labelsOf(limits: readonly number[], hasNone: boolean): string[] {
  const decimals = decimalsOfAll(limits);
  const text = (value: number) => numberText(value, decimals);
  const last = limits.at(-1);
  const labels =
    last === undefined
      ? ["all"]
      : [
          `under ${text(limits[0]!)}`,
          ...limits.slice(1).map((limit, k) => {
            const most = text(limit - 10 ** -decimals);
            const least = text(limits[k]!);
            return least === most ? least : `${least}–${most}`;
          }),
          `${text(last)} and over`,
        ];
  return hasNone ? ["none", ...labels] : labels;
}

/** Decimals that a limit somebody chose can have; more come of a conversion. */
const MOST_CHOSEN = 2;
/** Share of the least step between limits that their labels may be off by, where they come of a conversion (ours). */
const LABEL_SHARE = 0.05;

function decimalsOfAll(limits: readonly number[]): number {
  const exact = Math.max(0, ...limits.map(decimalsOf));
  if (exact <= MOST_CHOSEN) return exact;
  const step = Math.min(limits[0]!, ...limits.slice(1).map((limit, k) => limit - limits[k]!));
  const isNear = (decimals: number): boolean => 0.5 * 10 ** -decimals <= LABEL_SHARE * step;
  return [1, 2, 3].find(isNear) ?? exact;
}

function decimalsOf(value: number): number {
  for (let decimals = 0; decimals < 4; decimals++) {
    if (Math.abs(value - Number(value.toFixed(decimals))) < 1e-9 * Math.max(1, Math.abs(value)))
      return decimals;
  }
  return 4;
}
