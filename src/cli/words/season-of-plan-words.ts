import type { SeasonOfPlan } from "../../plan/index.ts";
import { ALL_DONE, acresText, aheadInWords, noTenderGain, textTable } from "../../report/index.ts";
import { counted, numberText, signedText, UNKNOWN } from "../../units/index.ts";
import { assumedWords } from "./assumed-words.ts";

/** Times the fields' rates above which a highest rate limits nothing (ours). */
const TIMES_TODAYS = 10;

/** The season: first what a manager asks. */
export function seasonOfPlanWords(season: SeasonOfPlan): string[] {
  const [first, plain] = season.finish;
  const isDone = season.fields.every((field) => field.isDone);
  const lines = [
    isDone
      ? ALL_DONE
      : first === undefined
        ? `${acresText(season.acres)} ac left: ${numberText(season.hours, 0)} h, ${counted(season.workableDays, "workable day")}`
        : `Done by ${first.date80 ?? UNKNOWN} in 8 years of 10, by ${first.date50 ?? UNKNOWN} in 5: ${acresText(season.acres)} ac, ${numberText(season.hours, 0)} h, ${counted(season.workableDays, "workable day")} from ${season.start}`,
    ...(plain === undefined || isDone
      ? []
      : [`With days independent of each other: ${plain.date80 ?? UNKNOWN} and ${plain.date50 ?? UNKNOWN}`]),
    `Acres a day: ${numberText(season.acPerDayFromFull, 0)} from full, ${numberText(season.acPerDayFromEmpty, 0)} from empty (tenders too), ${numberText(season.acPerDaySteady, 0)} steady, field changes in it`,
    leverWords(season),
  ];
  lines.push(
    ...textTable([
      [
        "field",
        "ac left",
        "lb/ac in bins",
        "ac a fill",
        "ac/h",
        "limit",
        "waits, min/fill",
        "h",
        "days",
        "8 in 10",
        "5 in 10",
      ],
      ...season.fields.map((one) => [
        one.fieldId,
        acresText(one.leftAc),
        numberText(one.meanStripLbPerAc, 0),
        one.acPerFill === null ? UNKNOWN : acresText(one.acPerFill),
        numberText(one.acPerHour, 1),
        ...(one.isDone
          ? ["done", UNKNOWN, UNKNOWN, UNKNOWN]
          : [
              one.bound,
              numberText(one.waitMinutesPerFill, 0),
              numberText(one.hours, 1),
              numberText(one.workableDays, 0),
            ]),
        one.date80 ?? UNKNOWN,
        one.date50 ?? UNKNOWN,
      ]),
    ]),
  );
  const beyondAll = TIMES_TODAYS * Math.max(...season.fields.map((one) => one.meanStripLbPerAc));
  for (const planter of season.planters) {
    const { chase } = planter;
    const chance =
      planter.leadChance === null
        ? ""
        : `; far enough ahead on ${planter.startsOn} in ${numberText(100 * planter.leadChance, 0)} % of years`;
    const { highestRateLbPerAc: highest } = chase;
    const rate =
      highest === null
        ? ""
        : highest > beyondAll
          ? "; no strip rate is too high for it"
          : `; highest strip rate that still works ${numberText(highest, 0)} lb/ac`;
    lines.push(
      `Planter ${planter.id}, ${acresText(planter.acres)} ac from ${planter.startsOn}: ${aheadInWords(planter)}${chance}${rate}`,
    );
  }
  if (season.humidity.length > 0) {
    lines.push(
      ...textTable([
        ["from", "product", "limit, % humidity", "h above it", "at night"],
        ...season.humidity.map((one) => [
          one.from,
          one.product,
          `${numberText(one.limitPercent, 1)} (${one.limitStatus})`,
          numberText(one.hours.wetHours, 1),
          one.emptyAtNight ? "empty bins and tenders" : "may stay in",
        ]),
      ]),
      "Open air, an index, no forecast: a closed bin is drier, an open tender or a night in the field is not.",
    );
  }
  if (season.coated !== null) {
    const { switch: change, orderAc, plainFields, plainAc } = season.coated;
    lines.push(
      change.switchAt === null
        ? "The coated blend stays all season."
        : `Change to the plain blend in ${change.switchAt}`,
      orderAc === null
        ? "Acres to order it for need workable days in the plan."
        : `Order the coated blend for ${acresText(orderAc, "us", 0)} ac; plain on ${plainFields.join(", ") || "no field"} (${acresText(plainAc)} ac)`,
    );
  }
  return [
    ...lines,
    ...season.notices.map((one) => `Notice: ${one.message}`),
    ...assumedWords(season.assumed),
  ];
}

function leverWords(season: SeasonOfPlan): string {
  const { lowerLbPerAc, today, lowerRate, anotherTender, tripHoursLikeAnotherTender } = season.levers;
  const gain = (point: { acPerDay: number }): string => signedText(point.acPerDay - today.acPerDay, 0);
  const tender =
    anotherTender === null
      ? "product is always at hand: another tender changes nothing"
      : (noTenderGain(season) ??
        `another tender ${gain(anotherTender)} ac a day${tripHoursLikeAnotherTender === null ? "" : ` (as would a trip of ${numberText(60 * tripHoursLikeAnotherTender, 0)} min)`}`);
  return `Levers: ${numberText(lowerLbPerAc, 0)} lb/ac through the bins, every product alike: ${gain(lowerRate)} ac a day; ${tender}; the ${today.bound} is the limit today in the farm's mean`;
}
