import { InputError, type Notice } from "../../errors/index.ts";
import { polygonFinder } from "../../geo/index.ts";
import { type LedgerEntry, placedIn, stripEntries } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import { binProducts, inBinOf } from "../document/field-products.ts";
import type { FieldResult } from "../results/result-types.ts";
import { analysisAsLaid, oxidesInWords } from "../stands/analysis-as-laid.ts";
import { catchUpsToLay } from "../stands/spread-already.ts";
import { appliedProduct } from "./applied-product.ts";
import type { AppliedField, ProductLog, ProductPounds } from "./applied-types.ts";
import { catchUpMaps } from "./catch-up-maps.ts";
import { lackingLogs, logsLacking, requireWholeLogs } from "./lacking-logs.ts";
import { sameLogTwice } from "./log-doubts.ts";
import { logsMissing, missingWork, requireAllLogs } from "./missing-logs.ts";
import { notDrivenAc as acresNotDriven, notEnteredAc, notFinished, skipsStillPlanned } from "./not-driven.ts";
import { coveredPieces, mapsOnGround } from "./on-ground.ts";
import { smallCatchUps } from "./small-catch-ups.ts";

/**
 * Logs against a field's strip maps: cleaned, mapped onto its pieces by swath, held against map and scale, and what is
 * still missing as the next broadcast maps. `pounds`: of products without a log, by scale or typed. `ledger`: work that it has
 * in the field and that is not in the logs is told. Throws `no-strip-map`, `log-elsewhere`, what `reconcileTickets` throws.
 */
export function appliedField(
  plan: Plan,
  field: FieldResult,
  givenLogs: readonly ProductLog[],
  givenPounds: readonly ProductPounds[] = [],
  ledger: readonly LedgerEntry[] = [],
): AppliedField {
  const logs = ofField(plan, field, givenLogs);
  const pounds = ofField(plan, field, givenPounds);
  const products = plan.rig.bins.flatMap(({ id }) => {
    const own = logs.find((one) => one.product === inBinOf(field.laid, id));
    return own === undefined ? [] : [appliedProduct(plan, field, own)];
  });
  const strip = field.prescriptions.filter((map) => map.pass === "strip");
  const byPounds = strip.flatMap((map) => {
    const known = pounds.find((one) => one.product === map.product);
    const isLogged = products.some((one) => one.product === map.product);
    if (known === undefined || isLogged || !(map.totalLb > 0)) return [];
    const { product, lb, from } = known;
    return [{ product, lb, from, stem: map.stem, plannedLb: map.totalLb }];
  });
  const asPlanned = strip
    .filter((map) => [...products, ...byPounds].every((one) => one.product !== map.product))
    .map((map) => map.product);
  const covered = coveredPieces(field, products);
  const onGround = mapsOnGround(field, products, byPounds, covered).map((map) => {
    const entered = stripEntries(ledger, field.field.id).filter(({ product }) => product === map.product);
    return { map, asLaid: analysisAsLaid(map, entered, map.totalLb) };
  });
  const whole = catchUpMaps(
    plan,
    field,
    onGround.map(({ map, asLaid }) => (asLaid === null ? map : { ...map, analysis: asLaid })),
  );
  const spread = catchUpsToLay(field, whole.prescriptions, placedIn(ledger, field.field.id));
  const catchUp = { ...whole, prescriptions: spread.toLay };
  const skipped = products.map((one) => one.skippedShare);
  const leftAc =
    skipped.length > 0 ? acresNotDriven(field.passes, skipped) : notEnteredAc(field, ledger, byPounds);
  const isFinished = field.finished.some(({ pass }) => pass === "strip");
  const left = isFinished ? 0 : leftAc;
  const notices: Notice[] = [
    ...sameLogTwice(logs, field.field.id),
    ...byPounds.flatMap((one) => poundsOff(field, one, leftAc > 0 && skipped.length > 0 ? covered : null)),
    ...pounds.flatMap(({ product, notices: own = [] }) =>
      own.map((notice) => ({ ...notice, message: `${product}: ${notice.message}`, where: field.field.id })),
    ),
  ];
  if (asPlanned.length > 0) {
    const where = leftAc > 0 ? " on the ground that the logs cover" : "";
    const message = `no log of ${asPlanned.join(", ")}: taken as planned${where}`;
    notices.push({ code: "taken-as-planned", message, where: field.field.id });
  }
  for (const { map, asLaid } of onGround) {
    if (asLaid === null) continue;
    const message = `${map.product}: by the ledger it was laid with ${oxidesInWords(asLaid)}, and it has ${oxidesInWords(map.analysis)} in the plan now; what lies there is reckoned as it was laid, in the mean where both were`;
    notices.push({ code: "analysis-changed", message, where: field.field.id });
  }
  const missing = missingWork(field, ledger, logs, { products, byPounds }, covered);
  const doubted = lackingLogs(field, products).filter((one) =>
    missing.every(({ product }) => product !== one.product),
  );
  if (missing.length > 0) notices.unshift(logsMissing(field, missing, ledger));
  else if (left > 0) notices.unshift(notFinished(field, left));
  else if (!isFinished) notices.push(...skipsStillPlanned(field, products));
  notices.unshift(...logsLacking(field, doubted, isFinished, missing.length > 0 ? 0 : left));
  const lacking = isFinished ? [] : doubted;
  const isHeld = isHeldBack({ notDrivenAc: left, missing, lacking });
  return {
    fieldId: field.field.id,
    notDrivenAc: left,
    missing,
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

/**
 * Catch-up maps take the place of the planned ones: they are for a strip pass that is done, and for all its logs. Of a
 * build, whose ledger is a copy that takes no finish, it says where the finish counts. Throws `logs-missing`, `log-lacks-ground`,
 * `strip-not-finished`.
 */
export function requireStripFinished(
  { lacking, notices }: Pick<AppliedField, "lacking" | "notices">,
  isBuild = false,
): void {
  requireAllLogs(notices, "No catch-up map was written.");
  requireWholeLogs({ lacking, notices });
  const notice = notices.find(({ code }) => code === "strip-not-finished");
  if (notice === undefined) return;
  throw new InputError(
    "strip-not-finished",
    notice.message,
    `No catch-up map was written; the balance can be looked at all the same.${isBuild ? ` ${FINISH_OF_A_BUILD}` : ""}`,
  );
}

const FINISH_OF_A_BUILD =
  "PLAN is a build, whose ledger takes no finish: enter it in the plan's own ledger and give the plan's folder as PLAN; where its product was changed since, put the product back in its plan.json, run `applied`, then change it again.";

/** Throws `catch-up-laid` where the ledger has as spread all that is still missing: no map is to be written again. */
export function requireCatchUps(applied: readonly Pick<AppliedField, "catchUp" | "notices">[]): void {
  if (applied.some(({ catchUp }) => catchUp.prescriptions.length > 0)) return;
  const laid = applied.flatMap(({ notices }) => notices.filter(({ code }) => code === "catch-up-laid"));
  if (laid.length === 0) return;
  throw new InputError(
    "catch-up-laid",
    laid.map(({ message }) => message).join("; "),
    "No catch-up map was written.",
  );
}

/**
 * Logs or pounds by the products of a field's strip maps: what is said to be of a blend with several ratios is of the field's own.
 * Throws `no-strip-map` for any other, `product-of-log` where two names are of one.
 */
function ofField<T extends { readonly product: string }>(
  plan: Plan,
  { field, laid }: FieldResult,
  given: readonly T[],
): T[] {
  const inBins = plan.rig.bins.map(({ id, product }) => ({ product, own: inBinOf(laid, id) }));
  const ownOf = (of: string) => inBins.find(({ product, own }) => [product, own].includes(of))?.own;
  return given.map((one) => {
    const own = ownOf(one.product);
    const twice = given.find((other) => other.product !== one.product && ownOf(other.product) === own);
    if (own !== undefined && twice !== undefined)
      throw new InputError(
        "product-of-log",
        `in ${field.name} ${one.product} and ${twice.product} are one product`,
        `Give both as ${own}.`,
      );
    if (own !== undefined) return { ...one, product: own };
    throw new InputError(
      "no-strip-map",
      binProducts(plan).includes(one.product)
        ? `${field.name} gets ${inBins.map(({ own }) => own).join(", ")} in the strip, not ${one.product}`
        : `the plan's rig has no bin with ${one.product}`,
      `Say which product it is: ${[...new Set(inBins.map(({ own }) => own))].join(", ")}.`,
    );
  });
}

/** Whether the catch-up is not to be used yet: part of the strip pass is to come, or is not in what was given. */
export const isHeldBack = ({
  notDrivenAc,
  missing,
  lacking,
}: Pick<AppliedField, "notDrivenAc" | "missing" | "lacking">): boolean =>
  notDrivenAc > 0 || missing.length > 0 || lacking.length > 0;

/** Pounds over the planned by which something else than the meter may be behind it (common practice). */
const MUCH_OFF = 0.2;

/** Times the planned from which pounds are no matter of rates any more (ours). */
const SEVERAL_TIMES = 2;

/** Pounds without a log that are far from the map's: at several times them somebody looks for the slip first. */
function poundsOff(
  { field, prescriptions, passes }: FieldResult,
  { product, lb, stem, plannedLb }: AppliedField["byPounds"][number],
  covered: Float64Array | null,
): Notice[] {
  const where = field.id;
  const { rateLbPerAc } = prescriptions.find((map) => map.stem === stem)!;
  const coveredLb =
    covered === null ? plannedLb : sum(passes.areaAc.map((ac, k) => ac * covered[k]! * rateLbPerAc[k]!));
  const mapLb = coveredLb > 0 ? coveredLb : plannedLb;
  const times = lb / mapLb;
  if (Math.abs(times - 1) <= MUCH_OFF) return [];
  const there = covered === null ? "" : " on the ground that the logs cover";
  const spread =
    covered === null
      ? "without a log they are spread over the whole field in proportion to the map (where the plan was changed after the pass, give the build from before as PLAN)"
      : "without a log of its own it is laid there in proportion to the map";
  if (times < SEVERAL_TIMES) {
    const wrong = covered === null ? ", which is wrong where part of it was not worked" : "";
    const message = `${product}: ${numberText(lb, 0)} lb went out and the map has ${numberText(mapLb, 0)}${there}; ${spread}${wrong}`;
    return [{ code: "pounds-not-as-planned", message, where }];
  }
  const message =
    `${product}: ${numberText(lb, 0)} LB WENT OUT, ${numberText(times, 1)} TIMES THE MAP'S ${numberText(mapLb, 0)} LB${there}; ` +
    `look for a ticket that is mistyped or entered twice, or of other fields; ${spread}`;
  return [{ code: "pounds-beyond-map", message, where }];
}

/** Fields in which readings lie, by the boundary. */
export function fieldsOfLog(fields: readonly FieldResult[], logs: readonly ProductLog[]): FieldResult[] {
  return fields.filter(({ checked }) => {
    const find = polygonFinder(checked.boundary);
    return logs.some(({ log }) => log.points.some((point) => find(checked.frame.toPlane(point.at)) >= 0));
  });
}
