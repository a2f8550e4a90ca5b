import {
  elementOf,
  type Oxide,
  type Plan,
  type PlanBudget,
  type PlanField,
  type PlanNeed,
  type PlanOwnGuide,
} from "#core";
import { type Change, withField } from "./plan-edits.ts";
import { said, saidUsd } from "./said.ts";

export type DrivenBy = PlanNeed["drivenBy"];

const drivenWords: Readonly<Record<DrivenBy, string>> = {
  "mapped-test": "the need of the mapped test",
  expected: "the expected need",
  weighted: "the weighted need",
};

export function withDrivenBy(plan: Plan, drivenBy: DrivenBy): Change {
  return {
    name: `rates follow ${drivenWords[drivenBy]}`,
    plan: { ...plan, need: { ...plan.need, drivenBy } },
  };
}

type Cost = "usdPerLbMissing" | "usdPerLbExcess";

/** What a pound costs when it is missing or in excess. Without both nothing is weighted: the mapped test drives again. */
export function withCost(plan: Plan, cost: Cost, usd: number | null): Change {
  const { [cost]: before, ...others } = plan.need ?? { drivenBy: "mapped-test" as const };
  const drivenBy = usd === null && others.drivenBy === "weighted" ? "mapped-test" : others.drivenBy;
  const what = cost === "usdPerLbMissing" ? "a missing lb costs" : "an excess lb costs";
  return {
    name: `${what} ${saidUsd(before, "none")} → ${saidUsd(usd, "none")}`,
    plan: { ...plan, need: { ...others, drivenBy, ...(usd === null ? {} : { [cost]: usd }) } },
  };
}

/** The crop by the guide's word for it; answers to the guide's options stay. */
export function withCrop(plan: Plan, field: PlanField, crop: string): Change {
  return { name: `${field.name} crop set to ${crop}`, plan: withField(plan, { ...field, crop }) };
}

export function withGuideOption(plan: Plan, field: PlanField, key: string, value: string): Change {
  return {
    name: `${field.name} ${key} set to ${value}`,
    plan: withField(plan, { ...field, guideOptions: { ...field.guideOptions, [key]: value } }),
  };
}

/** What leads a test to a guide that does not read it as it is: a published conversion, or a critical level typed for it. */
export function withWayThrough(
  plan: Plan,
  field: PlanField,
  nutrient: Oxide,
  way: { readonly conversion: string } | { readonly criticalLevelPpm: number },
): Change {
  const test = elementOf(nutrient);
  const words =
    "conversion" in way ? `by ${way.conversion}` : `critical level ${said(way.criticalLevelPpm)} ppm`;
  const nutrients = { ...field.nutrients, [nutrient]: { ...field.nutrients?.[nutrient], ...way } };
  return { name: `${field.name} soil ${test} ${words}`, plan: withField(plan, { ...field, nutrients }) };
}

export interface Confirmation {
  readonly by: string;
  readonly page: string;
  readonly date: string;
}

/** Somebody compared the guide's figures with the bulletin; null takes that back. */
export function withConfirmed(plan: Plan, guide: string, confirmed: Confirmation | null): Change {
  const checks = plan.guides ?? [];
  const { confirmed: _, ...bare } = checks.find(({ id }) => id === guide) ?? { id: guide };
  const check = confirmed ? { ...bare, confirmed } : bare;
  const others = checks.filter(({ id }) => id !== guide);
  return {
    name: confirmed ? `${guide} confirmed by ${confirmed.by}` : `${guide}: confirmation taken back`,
    plan: { ...plan, guides: confirmed || bare.constants ? [...others, check] : others },
  };
}

/** A figure of the user's in place of a guide's own, wherever the plan reads that guide; null puts the guide's back. */
export function withGuideFigure(
  plan: Plan,
  guide: string,
  figure: { readonly id: string; readonly what: string },
  value: number | null,
): Change {
  const checks = plan.guides ?? [];
  const { constants, ...bare } = checks.find(({ id }) => id === guide) ?? { id: guide };
  const { [figure.id]: _, ...others } = constants ?? {};
  const changed = value === null ? others : { ...others, [figure.id]: value };
  const isBare = Object.keys(changed).length === 0;
  const check = isBare ? bare : { ...bare, constants: changed };
  const rest = checks.filter(({ id }) => id !== guide);
  return {
    name: value === null ? `${guide}: ${figure.what} as in the guide` : `${guide}: ${figure.what} ${value}`,
    plan: { ...plan, guides: isBare && !bare.confirmed ? rest : [...rest, check] },
  };
}

export function withBudget(plan: Plan, budget: PlanBudget | null): Change {
  const { budget: _, ...rest } = plan;
  const text =
    budget === null
      ? "no budget"
      : "usd" in budget
        ? `budget ${saidUsd(budget.usd)}`
        : `budget ${said(budget.lb)} lb of product`;
  return { name: text, plan: budget === null ? rest : { ...rest, budget } };
}

/** A row of the user's own table: at or from `ppm` on; the last class of a class table has none. */
export interface OwnRow {
  readonly ppm: number | null;
  readonly lbPerAc: number;
}

/** Where a table stands in a guide of the user's own. */
export interface OwnPlace {
  readonly guide: string;
  readonly list: "tables" | "lineTables";
  readonly index: number;
}

export function ownRows(guide: PlanOwnGuide, { list, index }: OwnPlace): OwnRow[] {
  if (list === "lineTables") return [...guide.lineTables![index]!.points];
  const { belowPpm, lbPerAc } = guide.tables[index]!;
  return lbPerAc.map((rate, k) => ({ ppm: belowPpm[k] ?? null, lbPerAc: rate }));
}

/** What is wrong with the rows of a table, in words; empty when nothing is. */
export function ownRowsDoubt(rows: readonly OwnRow[]): string {
  const tests = rows.flatMap(({ ppm }) => (ppm === null ? [] : [ppm]));
  if (tests.some((ppm, k) => k > 0 && ppm <= tests[k - 1]!)) return "The tests must rise.";
  if (rows.some(({ ppm }) => ppm !== null && !(ppm > 0))) return "A test is a number above 0.";
  if (rows.some(({ lbPerAc }) => !(lbPerAc >= 0))) return "A rate is a number from 0 up.";
  return rows.length === 0 ? "The table needs a rate." : "";
}

export function withOwnRows(plan: Plan, place: OwnPlace, rows: readonly OwnRow[], what: string): Change {
  const change = (guide: PlanOwnGuide): PlanOwnGuide => {
    const swap = <Table>(tables: readonly Table[], changed: (old: Table) => Table) =>
      tables.map((table, k) => (k === place.index ? changed(table) : table));
    if (place.list === "lineTables") {
      const points = rows.map(({ ppm, lbPerAc }) => ({ ppm: ppm!, lbPerAc }));
      return { ...guide, lineTables: swap(guide.lineTables!, (old) => ({ ...old, points })) };
    }
    const belowPpm = rows.flatMap(({ ppm }) => (ppm === null ? [] : [ppm]));
    const lbPerAc = rows.map((row) => row.lbPerAc);
    return { ...guide, tables: swap(guide.tables, (old) => ({ ...old, belowPpm, lbPerAc })) };
  };
  const guides = plan.ownGuides ?? [];
  const name = guides.find(({ id }) => id === place.guide)?.name ?? place.guide;
  return {
    name: `${name}: ${what}`,
    plan: { ...plan, ownGuides: guides.map((one) => (one.id === place.guide ? change(one) : one)) },
  };
}

/** A guide of the user's own with one class of 0 lb a test, for the field's crop and tests; nothing follows it yet. */
export function withNewOwnGuide(
  plan: Plan,
  field: PlanField,
  methods: { readonly P: string; readonly K: string },
): Change {
  const guides = plan.ownGuides ?? [];
  const free = (k: number): string =>
    guides.some(({ id }) => id === `own-table-${k}`) ? free(k + 1) : `own-table-${k}`;
  const id = free(1);
  const name = `Own table${guides.length > 0 ? ` ${id.split("-").at(-1)}` : ""}`;
  const table = (test: "P" | "K") => ({
    test,
    crop: field.crop,
    method: methods[test],
    belowPpm: [],
    lbPerAc: [0],
  });
  return {
    name: `${name} begun`,
    plan: { ...plan, ownGuides: [...guides, { id, name, tables: [table("P"), table("K")] }] },
  };
}

/** A class that its table only numbers is called so. */
export const bandText = (band: string): string => (/^\d+$/.test(band) ? `class ${band}` : band);
