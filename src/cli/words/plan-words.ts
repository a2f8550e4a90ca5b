import type { AssumedFigure, FieldFills, OrderOfPlan, SeasonOfPlan } from "../../plan/index.ts";
import { acresText, hourText, lbText, textTable } from "../../report/index.ts";
import { counted, numberText, UNKNOWN } from "../../units/index.ts";
import { orderWords, signed, usdText } from "./order-words.ts";
import { binsText } from "./refill-words.ts";

/** Figures the plan does not give, each with how far it can be trusted. */
export function assumedWords(assumed: readonly AssumedFigure[]): string[] {
  const unconfirmed = assumed.filter((one) => one.status === "unconfirmed");
  const read = assumed.filter((one) => one.status === "read");
  const text = (list: readonly AssumedFigure[]): string =>
    list.map((one) => `${one.key} ${numberText(one.value, one.value < 1 ? 3 : 1)} ${one.unit}`).join("; ");
  return [
    ...(read.length > 0 ? [`Published defaults: ${text(read)}`] : []),
    ...(unconfirmed.length > 0 ? [`Unconfirmed defaults, type your own: ${text(unconfirmed)}`] : []),
  ];
}

/** A smaller first load moves the stops: the table above is for full bins. */
const asMany = (stops: number): string =>
  stops === 0 ? "" : " for as many stops; less than full bins move them";

/** One field's fills. */
export function fieldFillWords(fills: FieldFills, name: string): string[] {
  const bins = fills.bins.map((bin) => `${bin.id} ${bin.product}`);
  const first = fills.firstEmptyBin === null ? "" : `, ${bins[fills.firstEmptyBin]} is empty first`;
  const acPerFill = fills.acPerFill === null ? UNKNOWN : acresText(fills.acPerFill);
  const loads = fills.usableLb.map((lb, b) => lb + fills.residualLb[b]!);
  const wait = fills.stops.reduce((sum, stop) => sum + (stop.waitMinutes ?? 0), 0);
  const lines = [
    `${name}: ${acPerFill} acres a fill${first}; ${fills.plan.feasible ? counted(fills.stops.length, "stop") : "no plan"}; ${fills.choice}`,
    `Field takes ${binsText(fills.fieldLb, bins)} lb, ${numberText(100 * fills.overlapShare, 1)} % overlap in it; full bins hold ${binsText(loads, bins)} lb, of which ${binsText(fills.residualLb, bins)} lb stay in`,
    ...stopWords(fills, bins),
  ];
  if (fills.plan.feasible && fills.times !== null)
    lines.push(`The rig waits ${numberText(wait, 0)} min for the tender in all.`);
  if (fills.firstLoadLb !== null)
    lines.push(
      `A first load of ${binsText(fills.firstLoadLb, bins)} lb is enough${asMany(fills.stops.length)}.`,
    );
  if ((fills.habitMoreMinutes ?? 0) > 0.5)
    lines.push(`Running until nearly empty would take ${numberText(fills.habitMoreMinutes!, 0)} min more.`);
  const others = fills.choices.filter((one) => one.id !== fills.choice);
  if (others.length > 0) {
    const text = others.map(
      ({ id, minutes, stops }) =>
        `${id} ${minutes === null ? "no plan" : `${counted(stops!, "stop")}, ${numberText(minutes, 0)} min`}`,
    );
    lines.push(`Other ways: ${text.join("; ")}`);
  }
  return [
    ...lines,
    ...fills.notices
      .filter((one) => !fills.plan.feasible || one.code !== "reserve-unconfirmed")
      .map((one) => `Notice: ${one.message}`),
  ];
}

/** Stops as operator and tender read them; bin weights with what cannot be metered out, as a scale shows them. */
function stopWords({ plan, stops, times }: FieldFills, bins: readonly string[]): string[] {
  if (!plan.feasible) return [`No plan: ${plan.message}.`];
  const kept = `kept back in each bin: ${binsText(plan.reserveLb, bins)} lb`;
  if (stops.length === 0) return ["No stop: the bins last to the end.", kept];
  return [
    ...textTable([
      [
        "stop",
        "passes done",
        "after pass",
        "at",
        "scale reads, lb",
        "load, lb",
        "ac since",
        "min since",
        "waits, min",
        "at h:min",
      ],
      ...stops.map((stop) => [
        numberText(stop.number, 0),
        numberText(stop.passesDone, 0),
        numberText(stop.pass, 0),
        stop.at,
        binsText(stop.scaleBeforeLb, bins),
        binsText(stop.loadLb, bins),
        acresText(stop.acres),
        numberText(stop.workMinutes, 0),
        stop.waitMinutes === null ? UNKNOWN : numberText(stop.waitMinutes, 0),
        stop.arriveHour === null ? UNKNOWN : hourText(stop.arriveHour),
      ]),
    ]),
    `${counted(stops.length, "stop")}, ${numberText(plan.minutes, 0)} min without the transfer${times === null ? "" : `; done after ${hourText(times.doneHour)} h`}`,
    kept,
  ];
}

/** The season: first what a manager asks. */
export function seasonOfPlanWords(season: SeasonOfPlan): string[] {
  const [first, plain] = season.finish;
  const { levers } = season;
  const lines = [
    first === undefined
      ? `${acresText(season.acres)} ac left: ${numberText(season.hours, 0)} h, ${counted(season.workableDays, "workable day")}`
      : `Done by ${first.date80 ?? UNKNOWN} in 8 years of 10, by ${first.date50 ?? UNKNOWN} in 5: ${acresText(season.acres)} ac, ${numberText(season.hours, 0)} h, ${counted(season.workableDays, "workable day")} from ${season.start}`,
    ...(plain === undefined
      ? []
      : [`With days independent of each other: ${plain.date80 ?? UNKNOWN} and ${plain.date50 ?? UNKNOWN}`]),
    `Acres a day: ${numberText(season.acPerDayFromFull, 0)} from full, ${numberText(season.acPerDayFromEmpty, 0)} from empty, ${numberText(season.acPerDaySteady, 0)} steady, field changes in it`,
    leverWords(levers),
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
        one.bound,
        numberText(one.waitMinutesPerFill, 0),
        numberText(one.hours, 1),
        numberText(one.workableDays, 0),
        one.date80 ?? UNKNOWN,
        one.date50 ?? UNKNOWN,
      ]),
    ]),
  );
  for (const planter of season.planters) {
    const { chase } = planter;
    const chance =
      planter.leadChance === null
        ? ""
        : `; far enough ahead on ${planter.startsOn} in ${numberText(100 * planter.leadChance, 0)} % of years`;
    const rate =
      chase.highestRateLbPerAc === null
        ? ""
        : `; highest strip rate that still works ${numberText(chase.highestRateLbPerAc, 0)} lb/ac`;
    lines.push(
      `Planter ${planter.id}, ${acresText(planter.acres)} ac from ${planter.startsOn}: ${chase.keepsAhead ? "the strips keep ahead" : `the strips are short on its workable day ${chase.firstShortDay}`}${chance}${rate}`,
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

function leverWords({
  lowerLbPerAc,
  today,
  lowerRate,
  anotherTender,
  tripHoursLikeAnotherTender,
}: SeasonOfPlan["levers"]): string {
  const gain = (point: { acPerDay: number }): string => signed(point.acPerDay - today.acPerDay, 0);
  const tender =
    anotherTender === null
      ? "product is always at hand: another tender changes nothing"
      : `another tender ${gain(anotherTender)} ac a day${tripHoursLikeAnotherTender === null ? "" : ` (as would a trip of ${numberText(60 * tripHoursLikeAnotherTender, 0)} min)`}`;
  return `Levers: ${numberText(lowerLbPerAc, 0)} lb/ac instead ${gain(lowerRate)} ac a day; ${tender}; the ${today.bound} is the limit today`;
}

/** The order of a plan. */
export function orderOfPlanWords(order: OrderOfPlan): string[] {
  const { book, whatIf, fit, ...rest } = order;
  return [
    ...orderWords({ ...rest, ...(book.length > 0 ? { book } : {}) }, order.priced),
    "The range spans the readings of the need (mapped test, mean of what it may be, mean of samples); no confidence interval.",
    ...whatIf.map((one) => `${one.product} at ${usdText(one.usdPerTon)} a ton: ${usdText(one.cost)}`),
    ...order.products.flatMap(({ line, byField }) =>
      byField.length > 12
        ? []
        : byField.map(
            (one) =>
              `  ${line.product}, ${one.fieldId}: strip ${lbText(one.stripLb)} lb, broadcast ${lbText(one.broadcastLb)} lb`,
          ),
    ),
    ...fit.flatMap((one) => [
      `${one.product}, fitted to what is booked and on hand (${lbText(one.boughtLb)} lb): ${lbText(one.cutLb)} lb cut; kept ${one.layers.map(({ layer, keptShare }) => `${layer} ${numberText(100 * keptShare, 0)} %`).join(", ")}`,
      ...(one.byField.length > 12
        ? []
        : one.byField.map(
            (field) => `  ${field.fieldId}: ${lbText(field.keptLb)} of ${lbText(field.lb)} lb`,
          )),
    ]),
    ...order.notices.map((one) => `Notice: ${one.message}`),
  ];
}
