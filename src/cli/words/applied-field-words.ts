import { type AppliedField, type FieldResult, graveDoubt, type Plan, waitsFor } from "../../plan/index.ts";
import { toDelete } from "../../publish/index.ts";
import {
  acresText,
  lagInWords,
  lbText,
  noCatchUpInWords,
  nothingLaidInWords,
  offInWords,
  textTable,
  tonsText,
} from "../../report/index.ts";
import { numberText } from "../../units/index.ts";
import { ticketWords } from "./applied-words.ts";

/** One field's logs: each product, then the balance with what is still missing. */
export function appliedFieldWords(plan: Plan, applied: AppliedField, made: FieldResult): string[] {
  const { field } = made;
  const { notDrivenAc: left, missing, otherPounds, lacking } = applied;
  const doubt = graveDoubt(applied.notices);
  const open = `${acresText(left)} ac not ${missing.length > 0 ? "in these logs" : "driven yet"}`;
  const state =
    missing.length > 0
      ? ` NOT ALL THAT WAS LAID IS IN THESE LOGS${left > 0 ? `, ${open}` : ""}`
      : otherPounds.length > 0
        ? " THE LEDGER HAS OTHER POUNDS OF THESE LOGS"
        : left > 0
          ? ` THE STRIP PASS IS NOT FINISHED, ${open}`
          : lacking.length > 0
            ? ` THE LOG OF ${lacking.map(({ product }) => product).join(" AND OF ")} LACKS GROUND THAT ANOTHER COVERS`
            : doubt !== undefined
              ? " A LOG IS IN GRAVE DOUBT, BELOW"
              : "";
  const lines = [`${field.name}:${state}`];
  for (const one of applied.products) {
    // What lies in the field is one figure, with the meter factor or where there is none.
    const insideLb = one.meterFactor === 1 ? one.placedLb : one.insideLb;
    const outsideLb = Math.max(0, Math.round(one.loggedLb) - Math.round(insideLb));
    lines.push(
      `${one.product}: ${lbText(one.placedLb)} lb placed, ${lbText(one.plannedLb)} lb planned${offInWords(one)}; ${lbText(one.missingLb)} lb missing in places, ${lbText(one.overLb)} lb over in others`,
      `  log ${lbText(one.loggedLb)} lb = ${lbText(insideLb)} in the field + ${lbText(outsideLb)} outside; meter factor ${numberText(one.meterFactor, 4)} (${{ tickets: "scale tickets", typed: "pounds typed as used", plan: "the plan's meter check", ledger: "in the mean, by the pounds in the ledger", none: one.tickets === null ? "none: the log as it is" : "none: the scale is too far off, the log as it is" }[one.meterFactorFrom]})`,
      `  covered ${acresText(one.coveredAc)} ac${nothingLaidInWords(one)}, ${left > 0 ? `${missing.length > 0 ? "not in these logs" : "not driven yet"} ${acresText(left)}, ` : ""}skipped ${acresText(Math.max(0, one.skippedAc - left), "us", 2)}, twice ${acresText(one.overlappedAc, "us", 2)}; ${lagInWords(one.lag)}`,
      ...(one.tickets === null ? [] : ticketWords(one.tickets).map((line) => `  ${line}`)),
    );
  }
  for (const one of applied.byPounds)
    lines.push(
      `${one.product}: ${lbText(one.lb)} lb went out (${{ tickets: "scale tickets", typed: "typed", ledger: "by the ledger" }[one.from]}), ${lbText(one.plannedLb)} lb planned; no log: laid in proportion to the map`,
    );
  lines.push(...balanceWords(applied, () => toDelete(plan, made, "broadcast")));
  const notices = applied.notices.toSorted((a, b) => Number(b === doubt) - Number(a === doubt));
  return [...lines, ...notices.map((one) => `Notice: ${one.message}`)];
}

/** The balance, with the catch-up where that is of the whole strip pass: before, nobody is to reckon with it. */
function balanceWords(applied: AppliedField, planned: () => ReturnType<typeof toDelete>): string[] {
  const { balances, prescriptions, voids } = applied.catchUp;
  const until = waitsFor(applied);
  const head = ["lb of", "need", "in the strip", "credits"];
  const table = (
    more: readonly string[],
    of: (one: (typeof balances)[number]) => readonly number[],
  ): string[] =>
    textTable([
      [...head, ...more],
      ...balances.map((one) => [
        one.nutrient,
        ...[one.needLb, one.stripLb, one.creditsLb, ...of(one)].map((lb) => lbText(lb)),
      ]),
    ]);
  if (until !== null) return [...table([], () => []), noCatchUpInWords(until, voids)];
  const { what, onStick } = voids.length === 0 ? { what: "", onStick: "" } : planned();
  return [
    ...table(["catch-up", "short", "over"], (one) => [one.broadcastLb, one.shortageLb, one.excessLb]),
    ...prescriptions.map(
      (map) =>
        `Catch-up ${map.stem}: ${lbText(map.totalLb)} lb (${tonsText(map.totalLb, "us", 2)} tons) of ${map.product}`,
    ),
    ...(voids.length === 0
      ? []
      : prescriptions.length === 0
        ? [
            `${voids.join(", ")} ${voids.length === 1 ? "is" : "are"} not to be spread any more: delete ${what} from stick and display${onStick}.`,
          ]
        : [
            `Takes the place of ${voids.join(", ")}: delete ${what} from stick and display before the catch-up map goes there${onStick}.`,
          ]),
  ];
}
