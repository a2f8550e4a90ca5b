import { InputError } from "../errors/index.ts";
import { numberText } from "../units/index.ts";
import type { LedgerEntry, LedgerEvent, PlacedEntry } from "./ledger-entry.ts";
import { isSameWork, reachesBeyond } from "./log-span.ts";

/** Pounds that print alike. */
const SAME_LB = 0.5;
const SAME_AC = 0.005;
/** Pounds and acres of one log in two units or forms differ by no more (ours). */
const SAME_SHARE = 0.01;

/**
 * Throws `placed-twice` for pounds that stand in the ledger already: the same readings of a log in the same field, pass and
 * product, whatever day they are entered on and whatever unit or form they are in; a log of the same hours and ground; without readings
 * to compare the same pounds on the same day, and of logs and tickets the same pounds and acres on any day.
 * `standing`: entries that count.
 */
export function refusePlacedTwice(standing: readonly LedgerEntry[], date: string, event: LedgerEvent): void {
  if (event.kind !== "placed") return;
  const before = standing.find(
    (entry): entry is LedgerEntry & PlacedEntry =>
      entry.kind === "placed" && isSame(entry, entry.date === date, event),
  );
  if (before === undefined) return;
  const { fieldId, product, pass, lb } = event;
  const entry = `entry ${before.number} of ${before.date}`;
  const what = `${fieldId}: ${numberText(lb, 0)} lb ${product} ${pass}`;
  if (isMore(before, event)) {
    throw new InputError(
      "placed-twice",
      `${what} hold work that stands in the ledger already, ${numberText(before.lb, 0)} lb in ${entry}; it would count twice`,
      `Give what is not in it alone, or take the entry back first (\`ledger --void ${before.number} --why TEXT\`) and enter the logs of all days together; add --again only where they went out besides, as when the same was driven once more or a second rig was there in the same hours.`,
    );
  }
  const name = before.product === product ? "" : ` ${before.product}`;
  const isAsMuch = name === "" && Math.abs(lb - before.lb) < SAME_LB;
  const other = isAsMuch ? "" : `as ${numberText(before.lb, 0)} lb${name} in `;
  throw new InputError(
    "placed-twice",
    `${what} stand in the ledger already, ${other}${entry}; they would count twice`,
    "Leave them out; add --again only where they went out besides, as when the same was driven once more or a second rig was there in the same hours.",
  );
}

/** Whether pounds of which a part stands there have others besides: leaving them out would lose those. */
function isMore(one: PlacedEntry, two: PlacedEntry): boolean {
  if (two.log !== undefined && two.log === one.log) return false;
  if (two.lb > (1 + SAME_SHARE) * one.lb + SAME_LB) return true;
  return one.span !== undefined && two.span !== undefined && reachesBeyond(one.span, two.span);
}

function isSame(one: PlacedEntry, isSameDay: boolean, two: PlacedEntry): boolean {
  if (one.fieldId !== two.fieldId || one.pass !== two.pass) return false;
  // The same readings are one work, whatever a blend mixed anew is called since.
  if (one.log !== undefined && one.log === two.log) return true;
  if (one.product !== two.product) return false;
  if (one.log !== undefined && two.log !== undefined) {
    if (one.span !== undefined && two.span !== undefined) return isSameWork(one.span, two.span);
    return isWithin(one.lb, two.lb) && isWithin(one.areaAc, two.areaAc);
  }
  if (Math.abs(one.lb - two.lb) >= SAME_LB) return false;
  const isWeighed = one.from !== "typed" && two.from !== "typed";
  return isSameDay || (isWeighed && Math.abs(one.areaAc - two.areaAc) < SAME_AC);
}

const isWithin = (one: number, two: number): boolean =>
  Math.abs(one - two) <= SAME_SHARE * Math.max(one, two);
