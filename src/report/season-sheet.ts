import { inWorkingOrder, type RunResult, type SeasonOfPlan, seasonOfPlan } from "../plan/index.ts";
import { counted, numberText, signedText, UNKNOWN } from "../units/index.ts";
import { hasFills, unconfirmedWords } from "./fills-sheet.ts";
import { dayText, finishChart } from "./finish-chart.ts";
import { flagged, heading, htmlDocument, htmlTable, list, number, paragraph, sheetPage } from "./html.ts";
import { acresText, areaIn, rateText, type UnitSystem, unitWords } from "./numbers.ts";
import { aheadInWords } from "./planter-words.ts";
import { noTenderGain } from "./tender-words.ts";

/** Whether the plan tells enough for a season. */
export const hasSeason = (result: RunResult): boolean => hasFills(result) && result.plan.season !== undefined;

/** In place of a finish date where the ledger has all strips. */
export const ALL_DONE = "No acres are left: the strips of all fields are done.";

/** Fields in working order with their dates, acres a day, levers, planters and humidity, as one HTML document. */
export function seasonSheet(result: RunResult): string {
  const season = seasonOfPlan(result.plan, inWorkingOrder(result.plan, result.fields), {
    stands: result.stands,
  });
  const inside = [
    flagged(season.notices.map((one) => one.message)),
    list(seasonInWords(season)),
    season.finish[0] === undefined
      ? ""
      : finishChart(season.finish[0], { width: 700, height: 150, inks: "black" }),
    heading("Fields, next to run first"),
    fieldsTable(season),
    season.planters.length === 0 ? "" : heading("Planters") + plantersTable(season),
    season.humidity.length === 0 ? "" : heading("Humidity") + humidityTable(season),
    list(coatedInWords(season)),
    unconfirmedWords(season.assumed, result.plan.rig.bins),
    paragraph(
      "Dates are chances from the workable days typed, not a forecast. Wet soil stops the rig: strips made wet smear and compact.",
    ),
  ].join("");
  const head = {
    title: result.plan.name,
    under: `season ${result.plan.seasonYear}; ${acresText(season.acres)} ac left`,
    sheet: "Season",
  };
  return htmlDocument(`${result.plan.name}: season`, [sheetPage(result, head, inside)]);
}

/** What a manager asks first. */
export function seasonInWords(season: SeasonOfPlan, system: UnitSystem = "us"): string[] {
  const units = unitWords(system);
  const ac = (area: number): string => acresText(area, system, 0);
  const [first, plain] = season.finish;
  const { levers } = season;
  const gain = (acPerDay: number): string => signedText(areaIn(acPerDay - levers.today.acPerDay, system), 0);
  const isDone = season.fields.every((field) => field.isDone);
  return [
    isDone
      ? ALL_DONE
      : first === undefined
        ? `${hoursText(season.hours)}, ${counted(season.workableDays, "workable day")}.`
        : `Done by ${dayText(first.date80)} in 8 years of 10, by ${dayText(first.date50)} in 5: ${hoursText(season.hours)}, ${counted(season.workableDays, "workable day")} from ${dayText(season.start)}.`,
    ...(plain === undefined || isDone
      ? []
      : [`Were each day independent of the last: ${dayText(plain.date80)} and ${dayText(plain.date50)}.`]),
    `${system === "us" ? "Acres" : "Hectares"} a day, field changes in it: ${ac(season.acPerDayFromFull)} from full, ${ac(season.acPerDayFromEmpty)} from empty (tenders too), ${ac(season.acPerDaySteady)} steady.`,
    `Today the ${levers.today.bound === "tender" ? "tender" : "rig"} is the limit in the farm's mean. ${rateText(levers.lowerLbPerAc, system)} ${units.rate} through the bins, every product alike: ${gain(levers.lowerRate.acPerDay)} ${units.area} a day; ${levers.anotherTender === null ? "product is always at hand, so another tender changes nothing" : (noTenderGain(season) ?? `another tender: ${gain(levers.anotherTender.acPerDay)} ${units.area} a day`)}.`,
    ...(levers.tripHoursLikeAnotherTender === null ||
    levers.anotherTender === null ||
    noTenderGain(season) !== null
      ? []
      : [
          `A trip of ${numberText(60 * levers.tripHoursLikeAnotherTender, 0)} minutes would do what another tender does.`,
        ]),
  ];
}

/** Whole hours in words. */
const hoursText = (hours: number): string => counted(Math.round(hours), "hour");

function fieldsTable(season: SeasonOfPlan): string {
  return htmlTable(
    [
      { title: "field" },
      ...[
        "ac left",
        "lb/ac in bins",
        "ac a fill",
        "ac/h",
        "waits, min a fill",
        "h",
        "workable day",
        "8 in 10",
        "5 in 10",
      ].map(number),
    ],
    season.fields.map((one) => [
      one.name,
      acresText(one.leftAc),
      numberText(one.meanStripLbPerAc, 0),
      one.acPerFill === null ? UNKNOWN : acresText(one.acPerFill),
      numberText(one.acPerHour, 1),
      ...(one.isDone
        ? ["done", UNKNOWN, UNKNOWN]
        : [numberText(one.waitMinutesPerFill, 0), numberText(one.hours, 1), String(one.workableDays)]),
      dayText(one.date80),
      dayText(one.date50),
    ]),
  );
}

function plantersTable(season: SeasonOfPlan): string {
  return htmlTable(
    [
      { title: "planter" },
      ...["ac", "from", "workable days before", "needed, ac a day", "ahead in % of years"].map(number),
      { title: "" },
    ],
    season.planters.map(({ id, acres, startsOn, workableDaysBefore, chase, leadChance }) => [
      id,
      acresText(acres),
      dayText(startsOn),
      String(workableDaysBefore),
      chase.neededAcPerDay === null ? UNKNOWN : numberText(chase.neededAcPerDay, 0),
      leadChance === null ? UNKNOWN : numberText(100 * leadChance, 0),
      aheadInWords({ chase, workableDaysBefore }),
    ]),
  );
}

function humidityTable(season: SeasonOfPlan): string {
  return htmlTable(
    [
      { title: "from" },
      { title: "product" },
      number("limit, %"),
      { title: "known" },
      number("h above it a day"),
      { title: "at night" },
    ],
    season.humidity.map((one) => [
      dayText(one.from),
      one.product,
      numberText(one.limitPercent, 1),
      one.limitStatus,
      numberText(one.hours.wetHours, 1),
      one.emptyAtNight ? "empty bins and tenders" : "may stay in",
    ]),
  );
}

/** The coated blend, where the plan has one. */
export function coatedInWords({ coated }: SeasonOfPlan): string[] {
  if (coated === null) return [];
  const { switch: change, orderAc, plainFields, plainAc } = coated;
  return [
    change.switchAt === null
      ? "The coated blend stays all season."
      : `Change to the plain blend in ${change.switchAt}.`,
    orderAc === null
      ? "The acres to order the coated blend for need workable days in the plan."
      : `Order the coated blend for ${acresText(orderAc, "us", 0)} ac; plain on ${plainFields.join(", ") || "no field"}, ${acresText(plainAc)} ac.`,
  ];
}
