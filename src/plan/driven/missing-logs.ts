import { InputError, type Notice } from "../../errors/index.ts";
import { acresGoneOver, type LedgerEntry, stripEntries } from "../../ledger/index.ts";
import { numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import { bothProducts, byHandInWords } from "../stands/both-products.ts";
import { OR_PUT_BACK } from "../stands/product-put-back.ts";
import type { AppliedField, AppliedProduct, EnteredLine } from "./applied-types.ts";
import { acOf, hasRoomBeside, isWithoutLog, lbOf, SAME_GROUND_SHARE } from "./entered-lines.ts";

/** Pounds beyond so many times what was given are others (ours). */
const MORE_LB = 1.05;

/** Lines of the ledger that what was given does not bear out. */
interface Missing {
  /** Work that is in none of it. */
  readonly missing: readonly EnteredLine[];
  /** Work of the very logs, entered with other pounds than tickets given now make of them, or on other acres. */
  readonly otherPounds: readonly EnteredLine[];
  /** Lines without a log, of ground that one covers, in place of which it counts. */
  readonly byLog: readonly EnteredLine[];
}

/**
 * What the ledger has in a field's strip pass that neither its logs nor the pounds given show: work of other days. Ground of
 * theirs would count as ground that got nothing. A line of which the readings are known must be among them; of another
 * one acres and pounds say whether it can be of the same work. Of a product that no strip map of the field has, laid in
 * place of one, no log is read: its lines are never shown.
 */
export function missingWork(
  field: FieldResult,
  ledger: readonly LedgerEntry[],
  { products, byPounds }: Pick<AppliedField, "products" | "byPounds">,
): Missing {
  const own = stripEntries(ledger, field.field.id);
  const strip = field.prescriptions.filter((map) => map.pass === "strip");
  const instead = own.filter(
    (entry) => entry.p2o5Lb + entry.k2oLb > 0 && strip.every((map) => map.product !== entry.product),
  );
  const nothing: Missing = { missing: [], otherPounds: [], byLog: [] };
  const byMap = strip.map(({ product }): Missing => {
    const entries = own.filter((entry) => entry.product === product);
    const enteredLb = lbOf(entries);
    const applied = products.find((one) => one.product === product);
    if (applied !== undefined) return notShown(field, entries, applied);
    const known = byPounds.find((one) => one.product === product);
    // Without a log and pounds it would be taken as planned, where the ledger has something else.
    const isMissing = known === undefined || enteredLb > MORE_LB * known.lb;
    return isMissing ? { ...nothing, missing: entries } : nothing;
  });
  return {
    missing: [...byMap.flatMap((one) => one.missing), ...instead],
    otherPounds: byMap.flatMap((one) => one.otherPounds),
    byLog: byMap.flatMap((one) => one.byLog),
  };
}

/**
 * Of those lines the ones that tell of ground the logs do not show: of a product that is logged, and all of them where one
 * rig was by the ledger on more acres than the logs have.
 */
export function hiddenGround(
  field: FieldResult,
  missing: readonly EnteredLine[],
  ledger: readonly LedgerEntry[],
  logged: readonly string[],
  coveredAc: number,
): readonly EnteredLine[] {
  const mapped = field.prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  if (acresGoneOver(stripEntries(ledger, field.field.id), mapped) > (1 + SAME_GROUND_SHARE) * coveredAc)
    return missing;
  return missing.filter(({ product }) => logged.includes(product));
}

/** Of a product with a log: lines that it does not show, and those it shows whose pounds are neither its own nor to count. */
function notShown(
  field: FieldResult,
  entries: readonly EnteredLine[],
  { coveredAc, placedLb, shown, entered, tickets }: AppliedProduct,
): Missing {
  const hidden = entries.filter((entry) => !shown.includes(entry) && !entered.includes(entry));
  const isMore = lbOf(entries) > MORE_LB * placedLb;
  const dark = hidden.filter(({ span }) => span === undefined);
  const open = shown.filter((entry) => !entered.includes(entry));
  const [openLb, restLb] = [lbOf(open), placedLb - lbOf(entered)];
  const isSameGround =
    hidden.length === 0 && Math.abs(acOf(shown) - coveredAc) <= SAME_GROUND_SHARE * coveredAc;
  const isLess = isSameGround && restLb > MORE_LB * openLb;
  const isElsewhere = hasRoomBeside(field, coveredAc, dark);
  const missing = hidden.filter(({ span }) => span !== undefined || isMore || isElsewhere);
  return {
    missing,
    byLog: tickets === null ? dark.filter((entry) => !missing.includes(entry)) : [],
    otherPounds: open.length > 0 && (openLb > MORE_LB * restLb || isLess) ? open : [],
  };
}

/** Lines of the ledger in a few words each. */
const entriesInWords = (entries: readonly EnteredLine[]): string =>
  entries
    .map((entry) => {
      const { number, date } = entry;
      return `entry ${number} of ${date}, ${numberText(entry.lb, 0)} lb ${entry.product} on ${numberText(entry.areaAc, 1)} ac`;
    })
    .join("; ");

/** The doubt that stands above all that is worked out of a part of a field's work; `logged`: products of which a log is given. */
export function logsMissing(
  { field, prescriptions, checked }: FieldResult,
  entries: readonly EnteredLine[],
  ledger: readonly LedgerEntry[],
  logged: readonly string[],
): Notice {
  const mapped = prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  const productsOf = (lines: readonly EnteredLine[]): string[] => [
    ...new Set(lines.map(({ product }) => product)),
  ];
  const others = productsOf(entries).filter((product) => !mapped.includes(product));
  const own = entries.filter(({ product }) => mapped.includes(product));
  const isOfLog = (entry: EnteredLine): boolean => !isWithoutLog(entry) || logged.includes(entry.product);
  const ofPounds = productsOf(own.filter((entry) => !isOfLog(entry)));
  const withoutLog = productsOf(own.filter((entry) => isWithoutLog(entry) && logged.includes(entry.product)));
  const wanted = [
    ...(own.some(isOfLog)
      ? ["give all the field's logs together (on the command line each with --log)"]
      : []),
    ...(ofPounds.length === 0
      ? []
      : [
          `give the pounds of ${ofPounds.join(", ")} of all its days together${logged.length > 0 ? " (--tickets), or, with the logs of all those days, none: the ledger's count then" : ""}`,
        ]),
    ...(own.some(({ from, product }) => from === "typed" && logged.includes(product))
      ? [
          "where the pounds typed are those of the logs given, take their lines back first (`ledger --void`), or the work counts twice",
        ]
      : []),
    ...(withoutLog.length === 0
      ? []
      : [
          `where a log of ${withoutLog.join(", ")} is lost, leave its other logs out and give its pounds of all days (--tickets)`,
        ]),
  ];
  const both = bothProducts(stripEntries(ledger, field.id), mapped, checked.areaAc);
  const noCatchUp =
    both === null
      ? `a catch-up is not worked out where it was laid; where the plan's product was changed after the pass, the build from before the change as PLAN reads its log and works it out, ${OR_PUT_BACK}`
      : byHandInWords(both);
  const unread =
    others.length === 0
      ? []
      : [
          `no log of ${others.join(", ")} is read, which no strip map here has: what is left to drive is \`remainder\` by passes (--done-after) or by a line, and ${noCatchUp}`,
        ];
  return {
    code: "logs-missing",
    message: `${field.name}: the ledger has work in its strip pass that is not in what was given: ${entriesInWords(entries)}; ${[...wanted, ...unread].join("; ")}`,
    where: field.id,
  };
}

/** The doubt about logs of which the ledger has other pounds, that do not count: tickets say otherwise, or acres are not theirs. */
export function logsWeighed(
  { field }: FieldResult,
  entries: readonly EnteredLine[],
  products: readonly AppliedProduct[],
): Notice {
  const isWeighed = products.some(
    ({ product, tickets }) => tickets !== null && entries.some((entry) => entry.product === product),
  );
  const [than, wanted] = isWeighed
    ? [
        "pounds of the logs that were given than they have with the tickets",
        "give them without tickets, and the ledger's pounds count, or take these lines back (`ledger --void`) and enter the logs anew with the tickets of all their days",
      ]
    : [
        "pounds or acres of the logs that were given than they have",
        "a file of that work may lack, or it stands there twice: give all its files together, or take back the line that is wrong (`ledger --void`)",
      ];
  return {
    code: "logs-weighed",
    message: `${field.name}: the ledger has other ${than}: ${entriesInWords(entries)}; ${wanted}`,
    where: field.id,
  };
}

/** Told of lines without a log that a log's pounds take the place of, since nothing says which of its readings they are. */
export const countedByLog = ({ field }: FieldResult, entries: readonly EnteredLine[]): Notice => ({
  code: "counted-by-log",
  message: `${field.name}: the ledger has ${entriesInWords(entries)}, entered without a log, of ground that a log covers, and nothing says which of its readings: the log counts there. Where the pounds entered are right, enter the logs of the other days first (--into-ledger), and they count; where the log is, take the line back (\`ledger --void\`)`,
  where: field.id,
});

/** Throws `logs-missing` where the ledger has work of the logged products that the logs do not show. */
export function requireAllLogs(notices: readonly Notice[], nothing: string): void {
  const notice = notices.find(({ code }) => code === "logs-missing");
  if (notice === undefined) return;
  throw new InputError(
    "logs-missing",
    notice.message,
    `${nothing} A line of the ledger that is wrong is taken back with \`ledger --void\`.`,
  );
}

/** Throws `logs-weighed` where the ledger has other pounds of the logs than they show. */
export function requireWeighed(notices: readonly Notice[]): void {
  const notice = notices.find(({ code }) => code === "logs-weighed");
  if (notice === undefined) return;
  throw new InputError(
    "logs-weighed",
    notice.message,
    "No catch-up map was written. A line of the ledger that is wrong is taken back with `ledger --void`.",
  );
}
