import { startAfterNight } from "../../capacity/index.ts";
import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import { type CriticalHumidity, criticalHumidity, products } from "../../products/index.ts";
import {
  dateOf,
  dayNumber,
  plainBlendFields,
  premiumAcres,
  switchDate,
  type WeatherInput,
  wetHours,
} from "../../season/index.ts";
import type { Plan } from "../document/document-types.ts";
import { type FieldProducts, ownProducts } from "../document/field-products.ts";
import type { RigFigures } from "../rig/rig-figures.ts";
import type { CoatedRow, HumidityRow, SeasonFieldRow } from "./season-plan-types.ts";

/** A product of the bins, with the humidity above which it draws water; null where none is known of it. */
export interface HeldProduct {
  readonly product: string;
  readonly humidity: CriticalHumidity | null;
}

/** The bins' products with their limits: of a blend that of its parts, the lowest where fields get several ratios. */
export function heldProducts(plan: Plan, rig: RigFigures, laid: readonly FieldProducts[]): HeldProduct[] {
  const own = ownProducts(plan);
  return [...new Set(rig.bins.map((bin) => bin.product))].map((product): HeldProduct => {
    const blends = laid.flatMap(({ bins }) =>
      bins.flatMap(({ blend }) => (blend?.blend.id === product ? [blend.facts.humidity] : [])),
    );
    const typed = own.find((one) => one.id === product);
    const isKnown =
      typed === undefined
        ? products.some((one) => one.id === product)
        : typed.criticalHumidityPercent !== undefined;
    const single = isKnown ? [criticalHumidity([{ id: product, share: 1 }], 0, own)] : [];
    const [lowest] = [...blends, ...single].sort((a, b) => a.limitPercent - b.limitPercent);
    return { product, humidity: lowest ?? null };
  });
}

const hasLimit = (one: HeldProduct): one is { product: string; humidity: CriticalHumidity } =>
  one.humidity !== null;

/** Products of the bins that typed humidity and the coated blend are not reckoned for, as nothing is known of theirs. */
export function unknownHumidityNotices(plan: Plan, held: readonly HeldProduct[]): Notice[] {
  const { humidity = [], coated } = plan.season ?? {};
  if (humidity.length === 0) return [];
  return held
    .filter((one) => !hasLimit(one))
    .map(({ product }): Notice => {
      const isCoated = coated !== undefined && (coated.products?.includes(product) ?? true);
      const what = isCoated ? "season.humidity and season.coated are" : "season.humidity is";
      const message = `${what} not used for ${product}: above what humidity it draws water is not known; type criticalHumidityPercent of it among the plan's products`;
      return { code: "product-humidity-unknown", message, where: "season.humidity" };
    });
}

/** Hours of the working day above the limit of each bin's product, and whether the night is too humid for full bins. */
export function humidityRows(plan: Plan, held: readonly HeldProduct[]): HumidityRow[] {
  const { humidity = [], workFromHour = 8, workToHour = 20 } = plan.season ?? {};
  return humidity.flatMap(({ from, to, morningPercent, afternoonPercent }) =>
    held.filter(hasLimit).map(({ product, humidity: { limitPercent, status } }): HumidityRow => {
      const hours = wetHours({ morningPercent, afternoonPercent, limitPercent, workFromHour, workToHour });
      return {
        from,
        to,
        product,
        limitPercent,
        limitStatus: status,
        hours,
        emptyAtNight: startAfterNight(morningPercent, limitPercent) === "bin-empty",
      };
    }),
  );
}

/** A coated blend without the air's humidity, which is of no use, and products that it is said to be of and that no bin holds. */
export function coatedNotices(plan: Plan, rig: RigFigures): Notice[] {
  return [...coatedWithoutHumidity(plan), ...coatedNotInBins(plan, rig)];
}

function coatedWithoutHumidity({ season }: Plan): Notice[] {
  if (season?.coated === undefined || (season.humidity ?? []).length > 0) return [];
  const message =
    "season.coated is not used: when the air gets too damp for the coated blend is told by season.humidity, which the plan has not; type it by period of the season";
  return [{ code: "coated-without-humidity", message, where: "season.coated" }];
}

function coatedNotInBins(plan: Plan, rig: RigFigures): Notice[] {
  const held = rig.bins.map((bin) => bin.product);
  const strange = (plan.season?.coated?.products ?? []).filter((id) => !held.includes(id));
  if (strange.length === 0) return [];
  const one = strange.length === 1;
  const message = `season.coated.products names ${strange.join(", ")}, which no bin holds (they hold ${held.join(", ")}): ${one ? "it counts" : "they count"} nowhere`;
  return [{ code: "coated-not-in-bins", message, where: "season.coated.products" }];
}

/** When to change to the plain blend, how many acres of the coated one to order, which fields get the plain one. */
export function coatedBlend(
  plan: Plan,
  heldProducts: readonly HeldProduct[],
  rows: readonly SeasonFieldRow[],
  weather: WeatherInput | null,
  acPerDay: number,
): CoatedRow | null {
  const { coated, humidity } = plan.season ?? {};
  const held = heldProducts
    .filter(hasLimit)
    .filter(({ product }) => coated?.products?.includes(product) ?? true);
  if (coated === undefined || humidity === undefined || held.length === 0) return null;
  const criticalPercent = Math.min(...held.map(({ humidity: { limitPercent } }) => limitPercent));
  const periods = humidity.toSorted((a, b) => (a.from < b.from ? -1 : 1));
  const name = ({ from, to }: (typeof periods)[number]): string => `${from} to ${to}`;
  const change = switchDate({
    criticalPercent,
    coatingPoints: coated.coatingPoints,
    sdPoints: coated.sdPoints,
    periods: periods.map((period) => ({ name: name(period), afternoonPercent: period.afternoonPercent })),
    hoursLost: coated.hoursLost,
    valuePerHour: coated.usdPerHour,
    benefitPerAc: coated.benefitUsdPerAc,
    acPerDay,
  });
  const acres = sum(rows.map((row) => row.leftAc));
  const at = periods.find((period) => name(period) === change.switchAt);
  if (at === undefined || acres === 0)
    return { switch: change, orderAc: acres, expectedAc: acres, plainFields: [], plainAc: 0 };
  if (weather === null)
    return { switch: change, orderAc: null, expectedAc: null, plainFields: [], plainAc: 0 };
  const order =
    at.from <= weather.start
      ? { orderAc: 0, expectedAc: 0 }
      : premiumAcres({
          ...weather,
          acres,
          acPerDay,
          lastDay: dateOf(dayNumber(at.from) - 1),
          tooLittlePerAc: coated.benefitUsdPerAc,
          tooMuchPerAc: coated.leftOverUsdPerAc,
        });
  const plain = plainBlendFields({
    fields: rows.map((row) => ({
      id: row.fieldId,
      areaAc: row.leftAc,
      benefitPerAc: coated.benefitUsdPerAc,
    })),
    // The knapsack counts fields in tenths of an acre, rounded down.
    atLeastAc: Math.min(
      Math.max(0, acres - order.orderAc),
      sum(rows.map((row) => Math.floor(row.leftAc * 10))) / 10,
    ),
  });
  return {
    switch: change,
    orderAc: order.orderAc,
    expectedAc: order.expectedAc,
    plainFields: plain.fields,
    plainAc: plain.areaAc,
  };
}
