import type { AppliedField, FieldResult } from "../../plan/index.ts";
import { acresText, lagInWords, lbText, textTable, tonsText } from "../../report/index.ts";
import { numberText } from "../../units/index.ts";
import { ticketWords } from "./applied-words.ts";

/** One field's logs: each product, then the balance with what is still missing. */
export function appliedFieldWords(applied: AppliedField, { field }: FieldResult): string[] {
  const left = applied.notDrivenAc;
  const lines = [
    `${field.name}:${left > 0 ? ` THE STRIP PASS IS NOT FINISHED, ${acresText(left)} ac not driven yet` : ""}`,
  ];
  for (const one of applied.products) {
    // What lies in the field is one figure, with the meter factor or where there is none.
    const insideLb = one.meterFactor === 1 ? one.placedLb : one.insideLb;
    const outsideLb = Math.max(0, Math.round(one.loggedLb) - Math.round(insideLb));
    const off = 100 * (one.placedLb / one.plannedLb - 1);
    lines.push(
      `${one.product}: ${lbText(one.placedLb)} lb placed, ${lbText(one.plannedLb)} lb planned (${off > 0 ? "+" : ""}${numberText(off, 1)} %); ${lbText(one.missingLb)} lb missing in places, ${lbText(one.overLb)} lb over in others`,
      `  log ${lbText(one.loggedLb)} lb = ${lbText(insideLb)} in the field + ${lbText(outsideLb)} outside; meter factor ${numberText(one.meterFactor, 4)} (${{ tickets: "scale tickets", typed: "pounds typed as used", plan: "the plan's meter check", none: one.tickets === null ? "none: the log as it is" : "none: the scale is too far off, the log as it is" }[one.meterFactorFrom]})`,
      `  covered ${acresText(one.coveredAc)} ac, ${left > 0 ? `not driven yet ${acresText(left)}, ` : ""}skipped ${acresText(Math.max(0, one.skippedAc - left), "us", 2)}, twice ${acresText(one.overlappedAc, "us", 2)}; ${lagInWords(one.lag)}`,
      ...(one.tickets === null ? [] : ticketWords(one.tickets).map((line) => `  ${line}`)),
    );
  }
  for (const one of applied.byPounds)
    lines.push(
      `${one.product}: ${lbText(one.lb)} lb went out (${one.from === "tickets" ? "scale tickets" : "typed"}), ${lbText(one.plannedLb)} lb planned; no log: laid in proportion to the map`,
    );
  lines.push(
    ...textTable([
      ["lb of", "need", "in the strip", "catch-up", "credits", "short", "over"],
      ...applied.catchUp.balances.map((one) => [
        one.nutrient,
        ...[one.needLb, one.stripLb, one.broadcastLb, one.creditsLb, one.shortageLb, one.excessLb].map((lb) =>
          lbText(lb),
        ),
      ]),
    ]),
    ...applied.catchUp.prescriptions.map(
      (map) =>
        `Catch-up ${map.stem}: ${lbText(map.totalLb)} lb (${tonsText(map.totalLb, "us", 2)} tons) of ${map.product}`,
    ),
  );
  if (applied.catchUp.voids.length > 0)
    lines.push(
      `Takes the place of ${applied.catchUp.voids.join(", ")}: delete it from stick and display before the catch-up map goes there.`,
    );
  return [...lines, ...applied.notices.map((one) => `Notice: ${one.message}`)];
}
