import type { Highs } from "highs";
import { sum } from "../numeric/index.ts";
import { SPLIT_NUTRIENTS } from "./split-optimum-merge.ts";
import { Programme, solveProgramme } from "./split-optimum-solver.ts";
import type { OptimumClass, OptimumInput, SplitNutrient } from "./split-optimum-types.ts";

export interface FieldClasses {
  readonly id: string;
  readonly classes: readonly OptimumClass[];
  readonly areaAc: number;
}

/** What a group of fields is solved under. */
export interface SolveTerms {
  /** Fields that may spread, in the order of the fields. */
  readonly pass: readonly boolean[];
  /** Prices of the target on top of the input's, $/h and $/lb in the strip. */
  readonly extraPerHour: number;
  readonly extraPerLb: number;
  /** Whether the target itself stands in the programme; it then has a dual. */
  readonly target: boolean;
}

export interface SolvedFields {
  /** $ with shortage and extra prices, without pass fees. */
  readonly objective: number;
  readonly strip: readonly (readonly number[])[];
  readonly broadcast: readonly (readonly number[])[];
  readonly short: readonly Readonly<Partial<Record<SplitNutrient, number>>>[];
  readonly floorShort: readonly Readonly<Partial<Record<SplitNutrient, number>>>[];
  /** $ one more hour, or one more lb in the strip, of the target saves; 0 without a target. */
  readonly targetPrice: number;
}

/** Total lb in the strip that the mean rate allows. */
export const stripBudgetLb = (input: OptimumInput, areaAc: number): number =>
  input.meanStripLbPerAcMost === undefined ? Number.POSITIVE_INFINITY : input.meanStripLbPerAcMost * areaAc;

/** Builds and solves the programme of operations-model b.1 for some fields; the classes' results follow each other. */
export function solveFields(
  highs: Highs,
  input: OptimumInput,
  fields: readonly FieldClasses[],
  terms: SolveTerms,
  shortagePrice: number,
): SolvedFields {
  const programme = new Programme();
  const lines =
    input.lines === undefined ? [] : [input.lines.rig, input.lines.tender].filter((line) => line !== null);
  const classes: ClassColumns[] = [];
  const hours: number[] = [];
  fields.forEach((field, f) => {
    const own = field.classes.map((one) =>
      classColumns(programme, input, one, terms, terms.pass[f]!, shortagePrice),
    );
    classes.push(...own);
    if (lines.length === 0) return;
    const hour = programme.column((input.hourValue ?? 0) + terms.extraPerHour, 0, Number.POSITIVE_INFINITY);
    hours.push(hour);
    for (const line of lines) {
      programme.row(field.areaAc * line.hoursPerAc, Number.POSITIVE_INFINITY, [
        [hour, 1],
        ...own.flatMap(({ one, strip }) =>
          strip.map((column): [number, number] => [column, -line.hoursPerLb * one.areaAc]),
        ),
      ]);
    }
  });
  const target = terms.target ? targetRow(programme, input, fields, classes, hours) : null;
  const solved = solveProgramme(highs, programme);
  const read = (columns: readonly number[]): number[] => columns.map((c) => Math.max(0, solved.values[c]!));
  const readSlack = (columns: Slack): Record<string, number> =>
    Object.fromEntries(columns.map(([nutrient, c]) => [nutrient, Math.max(0, solved.values[c]!)]));
  return {
    objective: solved.objective,
    strip: classes.map((one) => read(one.strip)),
    broadcast: classes.map((one) =>
      one.broadcast.length === 0 ? one.strip.map(() => 0) : read(one.broadcast),
    ),
    short: classes.map((one) => readSlack(one.short)),
    floorShort: classes.map((one) => readSlack(one.floorShort)),
    targetPrice: target === null ? 0 : Math.max(0, -solved.rowDuals[target]!),
  };
}

type Slack = readonly (readonly [SplitNutrient, number])[];

interface ClassColumns {
  readonly one: OptimumClass;
  readonly strip: readonly number[];
  readonly broadcast: readonly number[];
  readonly short: Slack;
  readonly floorShort: Slack;
}

const NONE = Number.NEGATIVE_INFINITY;
const ANY = Number.POSITIVE_INFINITY;

function classColumns(
  programme: Programme,
  input: OptimumInput,
  one: OptimumClass,
  terms: SolveTerms,
  pass: boolean,
  shortagePrice: number,
): ClassColumns {
  const { products, meterLeastLbPerAc: least = 0, meterMostLbPerAc: most = ANY } = input;
  const { areaAc, needLbPerAc, floorLbPerAc = {}, mostLbPerAc = {}, valuePerLb = {}, saltCapLbPerAc } = one;
  const counts = (n: SplitNutrient): number => one.stripCounts?.[n] ?? 1;
  const share = (p: number, nutrient: SplitNutrient): number => (products[p]!.grade[nutrient] ?? 0) / 100;
  /** Product that would bring all it can be asked for; bounds what a value of placement could otherwise pile up. */
  const bound = (p: number, asked: (nutrient: SplitNutrient) => number): number =>
    Math.max(0, ...SPLIT_NUTRIENTS.map((n) => (share(p, n) > 0 ? asked(n) / share(p, n) : 0)));
  const strip = products.map((product, p) => {
    const value = sum(SPLIT_NUTRIENTS.map((n) => (valuePerLb[n] ?? 0) * share(p, n)));
    const all = bound(p, (n) => Math.max(needLbPerAc[n] ?? 0, floorLbPerAc[n] ?? 0));
    const held = Math.min(all > 0 ? Math.max(all, least) : 0, product.stripMostLbPerAc ?? ANY);
    const upper = product.where === "broadcast" ? 0 : held;
    return programme.column(areaAc * (product.pricePerLb - value + terms.extraPerLb), 0, upper);
  });
  const broadcast = pass
    ? products.map((product, p) =>
        programme.column(
          areaAc * product.pricePerLb,
          0,
          product.where === "strip"
            ? 0
            : Math.max(
                bound(p, (n) => needLbPerAc[n] ?? 0),
                input.spreaderLeastLbPerAc ?? 0,
              ),
        ),
      )
    : [];
  const brings = (columns: readonly number[], n: SplitNutrient): [number, number][] =>
    columns.map((column, p) => [column, share(p, n)]);
  const short: [SplitNutrient, number][] = [];
  const floorShort: [SplitNutrient, number][] = [];
  for (const n of SPLIT_NUTRIENTS) {
    const need = needLbPerAc[n] ?? 0;
    const floor = floorLbPerAc[n] ?? 0;
    if (need > 0) {
      const missing = programme.column(areaAc * shortagePrice, 0, ANY);
      short.push([n, missing]);
      const counted = brings(strip, n).map(([column, lb]): [number, number] => [column, lb * counts(n)]);
      programme.row(need, ANY, [...counted, ...brings(broadcast, n), [missing, 1]]);
    }
    if (floor > 0) {
      // A cap is harder than a floor: half the price, so that the need itself comes first.
      const missing = programme.column((areaAc * shortagePrice) / 2, 0, ANY);
      floorShort.push([n, missing]);
      programme.row(floor, ANY, [...brings(strip, n), [missing, 1]]);
    }
    const ceiling = mostLbPerAc[n];
    if (ceiling !== undefined) programme.row(NONE, ceiling, [...brings(strip, n), ...brings(broadcast, n)]);
  }
  if (saltCapLbPerAc !== undefined) {
    const salt = (p: number): number => share(p, "n") + share(p, "k2o") + share(p, "s");
    programme.row(
      NONE,
      saltCapLbPerAc,
      strip.map((column, p): [number, number] => [column, salt(p)]),
    );
  }
  rateLimits(programme, strip, least, most);
  if (pass) rateLimits(programme, broadcast, input.spreaderLeastLbPerAc ?? 0, ANY);
  return { one, strip, broadcast, short, floorShort };
}

/** All products of a machine together: at most `most`, and either nothing or at least `least`. */
function rateLimits(programme: Programme, columns: readonly number[], least: number, most: number): void {
  const ones = columns.map((column): [number, number] => [column, 1]);
  if (least > 0) {
    // A semi-continuous column wants a finite upper bound; no spreader or meter does 100,000 lb/ac.
    const total = programme.column(0, least, Math.min(most, 1e5), 2);
    programme.row(0, 0, [...ones, [total, -1]]);
  } else if (most < ANY) programme.row(NONE, most, ones);
}

function targetRow(
  programme: Programme,
  input: OptimumInput,
  fields: readonly FieldClasses[],
  classes: readonly ClassColumns[],
  hours: readonly number[],
): number {
  if (input.hoursMost !== undefined) {
    return programme.row(
      NONE,
      input.hoursMost,
      hours.map((column): [number, number] => [column, 1]),
    );
  }
  const budget = stripBudgetLb(input, sum(fields.map((field) => field.areaAc)));
  return programme.row(
    NONE,
    budget,
    classes.flatMap(({ one, strip }) => strip.map((column): [number, number] => [column, one.areaAc])),
  );
}
