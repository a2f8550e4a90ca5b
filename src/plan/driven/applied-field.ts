import type { Notice } from "../../errors/index.ts";
import { type LedgerEntry, placedIn, stripEntries } from "../../ledger/index.ts";
import type { Plan } from "../document/document-types.ts";
import { inBinOf } from "../document/field-products.ts";
import type { FieldResult } from "../results/result-types.ts";
import { catchUpsToLay } from "../stands/spread-already.ts";
import { appliedProduct } from "./applied-product.ts";
import type { AppliedField, ProductLog, ProductPounds } from "./applied-types.ts";
import { catchUpMaps } from "./catch-up-maps.ts";
import { givenOfField } from "./given-of-field.ts";
import { isHeldBack } from "./held-back.ts";
import { lackingLogs, logsLacking } from "./lacking-logs.ts";
import { sameLogTwice } from "./log-doubts.ts";
import { mapsAsLaid } from "./maps-as-laid.ts";
import { countedByLog, logsMissing, logsWeighed, missingWork } from "./missing-logs.ts";
import { notDrivenAc as acresNotDriven, notEnteredAc, notFinished, skipsStillPlanned } from "./not-driven.ts";
import { coveredPieces, mapsOnGround } from "./on-ground.ts";
import { poundsAsEntered } from "./pounds-as-entered.ts";
import { poundsOff } from "./pounds-off.ts";
import { smallCatchUps } from "./small-catch-ups.ts";

/**
 * Logs against a field's strip maps: cleaned, mapped onto its pieces by swath, held against map and scale, and what is
 * still missing as the next broadcast maps. `pounds`: of products without a log, by scale or typed. `ledger`: what it has of the
 * very work that is given, without tickets or pounds, counts as it stands there; work that it has in the field and that is not
 * given is told. Throws `no-strip-map`, `product-of-log`, what `appliedProduct` throws.
 */
export function appliedField(
  plan: Plan,
  field: FieldResult,
  givenLogs: readonly ProductLog[],
  givenPounds: readonly ProductPounds[] = [],
  ledger: readonly LedgerEntry[] = [],
): AppliedField {
  const logs = givenOfField(plan, field, givenLogs, givenPounds);
  const pounds = givenOfField(plan, field, givenPounds);
  const lines = stripEntries(ledger, field.field.id);
  const linesOf = (product: string) => lines.filter((line) => line.product === product);
  const products = plan.rig.bins.flatMap(({ id }) => {
    const own = logs.find((one) => one.product === inBinOf(field.laid, id));
    return own === undefined ? [] : [appliedProduct(plan, field, own, linesOf(own.product))];
  });
  const covered = coveredPieces(field, products);
  const known = [...pounds, ...poundsAsEntered(field, lines, [...products, ...pounds], covered)];
  const strip = field.prescriptions.filter((map) => map.pass === "strip");
  const byPounds = strip.flatMap((map) => {
    const own = known.find((one) => one.product === map.product);
    const isLogged = products.some((one) => one.product === map.product);
    if (own === undefined || isLogged || !(map.totalLb > 0)) return [];
    const { product, lb, from } = own;
    return [{ product, lb, from, stem: map.stem, plannedLb: map.totalLb }];
  });
  const asPlanned = strip
    .filter((map) => [...products, ...byPounds].every((one) => one.product !== map.product))
    .map((map) => map.product);
  const onGround = mapsAsLaid(field, mapsOnGround(field, products, byPounds, covered), ledger);
  const whole = catchUpMaps(plan, field, onGround.maps);
  const spread = catchUpsToLay(field, whole.prescriptions, placedIn(ledger, field.field.id));
  const catchUp = { ...whole, prescriptions: spread.toLay };
  const skipped = products.map((one) => one.skippedShare);
  const areLogged = skipped.length > 0;
  const leftAc = areLogged ? acresNotDriven(field.passes, skipped) : notEnteredAc(field, ledger, byPounds);
  const isFinished = field.finished.some(({ pass }) => pass === "strip");
  const left = isFinished ? 0 : leftAc;
  const notices: Notice[] = [
    ...sameLogTwice(logs, field.field.id),
    ...byPounds.flatMap((one) => poundsOff(field, one, leftAc > 0 && areLogged ? covered : null)),
    ...pounds.flatMap(({ product, notices: own = [] }) =>
      own.map((notice) => ({ ...notice, message: `${product}: ${notice.message}`, where: field.field.id })),
    ),
  ];
  if (asPlanned.length > 0) {
    const where = leftAc > 0 && areLogged ? " on the ground that the logs cover" : "";
    const message = `no log of ${asPlanned.join(", ")}: taken as planned${where}`;
    notices.push({ code: "taken-as-planned", message, where: field.field.id });
  }
  notices.push(...onGround.notices);
  const { missing, otherPounds, byLog } = missingWork(field, ledger, { products, byPounds });
  const doubted = lackingLogs(field, products).filter((one) =>
    missing.every(({ product }) => product !== one.product),
  );
  if (byLog.length > 0) notices.unshift(countedByLog(field, byLog));
  if (otherPounds.length > 0) notices.unshift(logsWeighed(field, otherPounds, products));
  if (missing.length > 0) {
    const logged = products.map(({ product }) => product);
    notices.unshift(logsMissing(field, missing, ledger, logged));
  } else if (left > 0) notices.unshift(notFinished(field, left));
  else if (!isFinished) notices.push(...skipsStillPlanned(field, products));
  notices.unshift(...logsLacking(field, doubted, isFinished, missing.length > 0 ? 0 : left));
  const lacking = isFinished ? [] : doubted;
  const isHeld = isHeldBack({ notDrivenAc: left, missing, otherPounds, lacking });
  return {
    fieldId: field.field.id,
    notDrivenAc: left,
    missing,
    otherPounds,
    lacking,
    products,
    byPounds,
    asPlanned,
    catchUp,
    notices: [
      ...notices,
      ...products.flatMap((one) => one.notices),
      ...(isHeld ? [] : [...spread.notices, ...smallCatchUps(strip, catchUp.prescriptions, field.field.id)]),
    ],
  };
}
