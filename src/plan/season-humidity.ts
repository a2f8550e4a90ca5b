import { startAfterNight } from "../capacity/index.ts";
import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { criticalHumidity, products } from "../products/index.ts";
import {
  dateOf,
  dayNumber,
  plainBlendFields,
  premiumAcres,
  switchDate,
  type WeatherInput,
  wetHours,
} from "../season/index.ts";
import type { Plan } from "./document-types.ts";
import type { RigFigures } from "./rig-figures.ts";
import type { CoatedRow, HumidityRow, SeasonFieldRow } from "./season-plan-types.ts";

const productsIn = (rig: RigFigures): string[] =>
  [...new Set(rig.bins.map((bin) => bin.product))].filter((id) => products.some((one) => one.id === id));

/** Hours of the working day above the limit of each bin's product, and whether the night is too humid for full bins. */
export function humidityRows(plan: Plan, rig: RigFigures): HumidityRow[] {
  const { humidity = [], workFromHour = 8, workToHour = 20 } = plan.season ?? {};
  return humidity.flatMap(({ from, to, morningPercent, afternoonPercent }) =>
    productsIn(rig).map((product): HumidityRow => {
      const { limitPercent, status } = criticalHumidity([{ id: product, share: 1 }]);
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

/** Products that the coated blend is said to be of and that no bin holds. */
export function coatedNotices(plan: Plan, rig: RigFigures): Notice[] {
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
  rig: RigFigures,
  rows: readonly SeasonFieldRow[],
  weather: WeatherInput | null,
  acPerDay: number,
): CoatedRow | null {
  const { coated, humidity } = plan.season ?? {};
  const held = productsIn(rig).filter((id) => coated?.products?.includes(id) ?? true);
  if (coated === undefined || humidity === undefined || held.length === 0) return null;
  const criticalPercent = Math.min(...held.map((id) => criticalHumidity([{ id, share: 1 }]).limitPercent));
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
