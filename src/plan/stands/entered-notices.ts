import type { Notice } from "../../errors/index.ts";
import { type FieldStand, isStripped, type LedgerEntry, standingEntries } from "../../ledger/index.ts";
import { numberText } from "../../units/index.ts";

/** Pounds and acres of one day that differ by so little may be one work, by log and by scale (ours). */
const ALIKE_SHARE = 0.05;

/** What lines just written into the ledger leave open by themselves: finished with nothing placed, placed as another line of the day. `all`: the whole ledger, they with it. */
export const enteredNotices = (written: readonly LedgerEntry[], all: readonly LedgerEntry[]): Notice[] => [
  ...nothingPlaced(written, all),
  ...placedAlike(written, all),
];

/** A pass that is finished with nothing placed in it: its pounds leave order and season all the same. */
function nothingPlaced(written: readonly LedgerEntry[], all: readonly LedgerEntry[]): Notice[] {
  const standing = standingEntries(all);
  return written.flatMap((entry): Notice[] => {
    if (entry.kind !== "finished") return [];
    const { fieldId, pass } = entry;
    // A catch-up takes the place of the planned broadcast.
    const isOfPass = (of: typeof pass): boolean => (of === "strip") === (pass === "strip");
    if (standing.some((one) => one.kind === "placed" && one.fieldId === fieldId && isOfPass(one.pass)))
      return [];
    const message = `${fieldId}: nothing is in the ledger as placed in its ${pass} pass; it counts as finished with 0 lb, and order and season leave it out: take line ${entry.number} back, or add what was placed first`;
    return [{ code: "finished-without-pounds", message, where: fieldId }];
  });
}

/** What was placed of a product on a day that has about as much of it on about as many acres already: it may be the same work. */
function placedAlike(written: readonly LedgerEntry[], all: readonly LedgerEntry[]): Notice[] {
  const isAlike = (one: number, two: number): boolean =>
    Math.abs(one - two) <= ALIKE_SHARE * Math.max(one, two);
  const standing = standingEntries(all);
  return written.flatMap((entry): Notice[] => {
    if (entry.kind !== "placed") return [];
    const before = standing.find(
      (one) =>
        one.kind === "placed" &&
        one.number < entry.number &&
        (one.from === "log") !== (entry.from === "log") &&
        [one.date, one.fieldId, one.product, one.pass].join() ===
          [entry.date, entry.fieldId, entry.product, entry.pass].join() &&
        isAlike(one.lb, entry.lb) &&
        isAlike(one.areaAc, entry.areaAc),
    );
    if (before?.kind !== "placed") return [];
    const { fieldId, product, lb, areaAc, number } = entry;
    const of = (ofLb: number, ac: number): string => `${numberText(ofLb, 0)} lb on ${numberText(ac, 1)} ac`;
    const message = `${fieldId}: ${of(lb, areaAc)} of ${product} stand beside ${of(before.lb, before.areaAc)} of the same day, line ${before.number}; where they are one work, as by log and by scale, it counts twice: take one back (\`ledger --void ${number} --why TEXT\`)`;
    return [{ code: "placed-alike", message, where: fieldId }];
  });
}

/** A strip pass that is finished while acres of it are not driven: nothing is ordered for them and no remainder is made. */
export function finishedInPart(entry: LedgerEntry, stands: readonly FieldStand[]): Notice[] {
  const stand = stands.find((one) => "fieldId" in entry && one.fieldId === entry.fieldId);
  if (stand === undefined || stand.strippedAc === 0 || isStripped(stand)) return [];
  const { fieldId, strippedAc, toStripAc } = stand;
  const [done, all] = [strippedAc, toStripAc].map((ac) => numberText(ac, 1));
  const message = `${fieldId}: finished with ${done} of ${all} ac stripped; order, season and remainder leave the rest of its strip pass out. Where it is still to be driven, take line ${entry.number} back (\`ledger --void ${entry.number} --why TEXT\`); else \`applied\` works out a catch-up from the logs`;
  return [{ code: "finished-in-part", message, where: fieldId }];
}
