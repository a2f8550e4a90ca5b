import { lbText, textTable } from "../../report/index.ts";
import { numberText, UNKNOWN } from "../../units/index.ts";
import type { SeasonResult } from "../calculations/season.ts";

const percent = (share: number): string => `${numberText(100 * share, 1)} %`;
const days = (value: number | null, decimals = 2): string =>
  value === null ? UNKNOWN : numberText(value, decimals);

/** The parts of a season calculation, the 80 % date first. */
export function seasonWords(result: SeasonResult): string[] {
  const { finish, lead, planter, fields, fieldOrder, blend, premium, plainFields } = result;
  const lines: string[] = [];
  for (const one of finish ?? []) {
    lines.push(
      `Persistence ${one.persistence}: done by ${one.date80 ?? UNKNOWN} in 8 years of 10, by ${one.date50 ?? UNKNOWN} in 5 (${one.workableDays} workable days)`,
      ...one.doneBy.map(({ date, chance }) => `  done by ${date}: ${percent(chance)}`),
    );
  }
  for (const { persistence, chance } of lead ?? [])
    lines.push(`Persistence ${persistence}: far enough ahead when planting starts: ${percent(chance)}`);
  if (planter) {
    const { neededAcPerDay, keepsAhead, wholeDaysNeeded, highestRateLbPerAc } = planter;
    lines.push(
      keepsAhead
        ? "Keeps ahead of the planter."
        : `Does not keep ahead: short at the end of workable day ${planter.firstShortDay}.`,
      `Needed: ${neededAcPerDay === null ? "no pace is enough" : `${numberText(neededAcPerDay, 1)} ac a day`}; or ${wholeDaysNeeded} workable days before planting`,
      ...(highestRateLbPerAc === null
        ? []
        : [`Highest strip rate that still works: ${numberText(highestRateLbPerAc, 1)} lb/ac`]),
    );
  }
  if (fields) {
    lines.push(
      `${numberText(fields.acres, 1)} ac in ${numberText(fields.hours, 1)} h, ${numberText(fields.acPerDay, 1)} ac a day; done by ${fields.date80 ?? UNKNOWN} in 8 years of 10, ${fields.date50 ?? UNKNOWN} in 5`,
      ...textTable([
        ["field", "ac left", "h", "limit", "workable days", "8 in 10", "5 in 10"],
        ...fields.fields.map((one) => [
          one.id,
          numberText(one.leftAc, 1),
          numberText(one.hours, 1),
          one.bound,
          numberText(one.workableDays, 0),
          one.date80 ?? UNKNOWN,
          one.date50 ?? UNKNOWN,
        ]),
      ]),
    );
  }
  if (fieldOrder) {
    lines.push(
      ...textTable([
        ["field", "stripped, day", "may be planted", "planter", "planted", "waits, days"],
        ...fieldOrder.map((one) => [
          one.fieldId,
          days(one.strippedAtDay),
          days(one.readyAtDay),
          one.planterId ?? UNKNOWN,
          days(one.plantingStartsAtDay),
          days(one.waitDays),
        ]),
      ]),
    );
  }
  if (blend) {
    lines.push(
      `Takes up water above ${numberText(blend.limitPercent, 1)} % humidity (${blend.status}); pure salts ${days(blend.tablePercent, 1)} %${blend.estimated ? ", estimated" : ""}, commercial grades about ${blend.commercialPercent} %, unconfirmed`,
      ...blend.notices.map((notice) => `Notice: ${notice.message}`),
    );
  }
  if (result.wetHours) {
    const { wetHours, wetShare, dryFromHour, dryToHour } = result.wetHours;
    const span =
      dryFromHour === null
        ? "never dry"
        : `dry from ${numberText(dryFromHour, 2)} to ${numberText(dryToHour!, 2)} h`;
    lines.push(
      `${numberText(wetHours, 2)} h of the working time above the limit (${percent(wetShare)}); ${span}; open air, an index`,
    );
  }
  if (result.switch) {
    const { switchAt, thresholdChance, periods } = result.switch;
    lines.push(
      switchAt === null ? "No switch: the blend stays." : `Switch to the plain blend in ${switchAt}.`,
      `Chance of trouble a day above which plain is better: ${percent(thresholdChance)}`,
      ...periods.map(
        (one) => `  ${one.name}: ${percent(one.troubleChance)}, $${numberText(one.costPerDay, 0)} a day`,
      ),
    );
  }
  if (premium) {
    lines.push(
      `Order the premium blend for ${numberText(premium.orderAc, 0)} ac (expected before the switch: ${numberText(premium.expectedAc, 0)} ac)`,
    );
  }
  if (plainFields) {
    lines.push(
      `Plain blend on ${plainFields.fields.join(", ") || "no field"}: ${numberText(plainFields.areaAc, 1)} ac, $${lbText(plainFields.lostBenefit)} of benefit given up`,
    );
  }
  return lines;
}
