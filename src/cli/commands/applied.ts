import { InputError, type Notice } from "../../errors/index.ts";
import { type LedgerEvent, type LoadedEntry, readLedger, standingEntries } from "../../ledger/index.ts";
import {
  type AppliedField,
  appliedField,
  type FieldResult,
  fieldsCrossed,
  fieldsOfLog,
  givenOfField,
  graveDoubt,
  isHeldBack,
  LEDGER_PATH,
  logDigest,
  logsInField,
  logsNotInField,
  oxideIn,
  type Plan,
  type ProductLog,
  placedNotices,
  type RunResult,
  requireCatchUps,
  requireStripFinished,
  spanOf,
  standsOf,
} from "../../plan/index.ts";
import { loadedAs } from "../../publish/index.ts";
import { counted } from "../../units/index.ts";
import { appliedOf } from "../calculations/applied.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { realDisk } from "../disk-calls.ts";
import { exit } from "../exit.ts";
import { addToLedger, ledgerBytes, refuseEvents } from "../ledger-file.ts";
import { planFolder } from "../open-plan.ts";
import { prepareOut } from "../out-folder.ts";
import { readLogs } from "../read-logs.ts";
import { exitOf, runPlan } from "../run-plan.ts";
import { sayNotices } from "../talk.ts";
import { dayOr } from "../today.ts";
import { appliedFieldWords } from "../words/applied-field-words.ts";
import { appliedWords } from "../words/applied-words.ts";
import { writeMapsFolder } from "../write-maps-folder.ts";

/** `applied PLAN --log FILE` or `applied --input X.json`: what the ground really got. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "What the ground got by the logs (CSV, shapefile points, task data), against map and scale: mass balance, meter",
    "factor, lag, skips and overlaps, and what is still missing. --log 0-0-60=FILE names the product of a log;",
    "--tickets X.json holds scale tickets by product, or its usedLb; enough where there is no log. --out DIR writes",
    "the catch-up maps, which take the place of the planned broadcast maps: those must be deleted from stick and",
    "display, and waits until the strip pass is finished. --into-ledger writes what was placed, finished or not; a",
    "log that stands there already is refused without --again.",
    "--input takes the calculation alone; docs/operations.md shows the shapes.",
  ].join("\n"),
  options: [
    "input",
    "field",
    "answer",
    "log",
    "product",
    "tickets",
    "out",
    "overwrite",
    "into-ledger",
    "again",
    "date",
  ],
  run: applied,
};

async function applied(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "applied");
  if ("input" in given) {
    const result = appliedOf(await readCalculation(call, given.input));
    return { exit: exit.done, data: appliedWords(result).join("\n"), json: result };
  }
  const { out } = call.options;
  if (out !== undefined) await prepareOut(call, out);
  const worked = await runPlan(call, given.plan);
  const { result } = worked;
  const { plan, ledger } = result;
  const { logs, pounds } = await readLogs(call, plan);
  const crossed = fieldsCrossed(result.fields, logs);
  sayNotices(call.talk, crossed.map(notLaid));
  const fields =
    logs.length === 0
      ? result.fields
      : fieldsOfLog(result.fields, logs).filter((field) => !crossed.includes(field));
  if (fields.length === 0) {
    const [only] = call.options.field === undefined ? [] : result.fields;
    throw new InputError(
      "log-elsewhere",
      `no reading of the logs lies in ${only?.field.name ?? "a field of the plan"}`,
      only === undefined
        ? "Choose other logs, or the plan they belong to."
        : "Choose the logs of this field, or the field of these logs.",
    );
  }
  if (pounds.length > 0 && fields.length > 1) {
    throw new InputError(
      "one-field-only",
      `pounds of ${pounds.map((one) => one.product).join(", ")} are given without a log for ${counted(fields.length, "field")}`,
      "Add --field ID, or give the logs.",
    );
  }
  const made = fields.map((field) => {
    const own = logsInField(field, logs);
    const applied = appliedField(plan, field, own, pounds, ledger.entries);
    const notices = [...logsNotInField(field, logs), ...applied.notices];
    return { field, logs: givenOfField(plan, field, own), applied: { ...applied, notices } };
  });
  const refused = out === undefined ? null : refusedOf(made, worked.isCopy);
  // What was laid goes into the ledger whether or not the catch-up has its time.
  if (refused !== null && !call.options["into-ledger"]) throw refused;
  const words = made.flatMap(({ field, applied: one }) => [...appliedFieldWords(plan, one, field), ""]);
  // What the ledger does not take is said before anything is written.
  const addition = call.options["into-ledger"] ? additionOf(call, given.plan, result, made) : null;
  if (out !== undefined && refused === null) {
    // What is laid already is not written again; its planned maps stay ones not to be spread.
    const maps = new Map(
      made.flatMap(({ field, applied: one }) =>
        one.catchUp.prescriptions.length === 0 ? [] : [[field.field.id, one.catchUp.prescriptions]],
      ),
    );
    const voids = made.flatMap(({ applied: one }) => one.catchUp.voids);
    const { count, place } = await writeMapsFolder(call, out, worked, maps, voids);
    const copy =
      place.from === "" ? "" : `, to be copied by hand from ${place.from} onto an empty stick${place.which}`;
    const first =
      voids.length > 0 ? "; delete the planned maps named above from stick and display first" : "";
    words.push(`${counted(count, "catch-up map")} in ${out}${copy}${first}.`, ...place.said);
    // Who is sure of the log has his maps; they are not to be spread unseen.
    for (const { applied: one } of made) {
      const doubt = graveDoubt(one.notices);
      if (doubt !== undefined)
        words.push(
          `DO NOT SPREAD THEM BEFORE THIS IS CLEAR: ${doubt.message}. By a wrong log they lay product twice.`,
        );
    }
  }
  if (addition !== null) {
    const { folder, day, events } = addition;
    const entries = addToLedger(folder, day, events, realDisk, call.options.again);
    words.push(`${counted(entries.length, "line")} written into the plan's ledger.`);
    const now = readLedger(ledgerBytes(folder, realDisk), LEDGER_PATH);
    for (const stand of standsOf(now, fields)) {
      const field = fields.find((one) => one.field.id === stand.fieldId)!;
      sayNotices(call.talk, placedNotices(field, stand));
    }
  }
  if (refused !== null) {
    words.push(`Nothing was written into ${out}: ${refused.message}. What was laid is in the ledger.`);
  }
  return {
    exit: refused === null ? exitOf(result) : exit.partly,
    data: words.join("\n"),
    json: {
      fields: made.map(({ applied: one }) => asJson(one)),
      ...(refused === null ? {} : { catchUpRefused: { code: refused.code, message: refused.message } }),
    },
  };
}

/** A field that the rig crossed on its way to another. */
const notLaid = ({ field }: FieldResult): Notice => ({
  code: "crossed",
  message: `${field.name}: every reading there has rate 0, as where the rig only crosses it; it is left out (--field ${field.id} takes it)`,
  where: field.id,
});

/** Why no catch-up map is to be written of these fields; null where they are. */
function refusedOf(made: readonly { readonly applied: AppliedField }[], isBuild: boolean): InputError | null {
  try {
    for (const { applied: one } of made) requireStripFinished(one, isBuild);
    requireCatchUps(made.map(({ applied: one }) => one));
    return null;
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

interface Addition {
  readonly folder: string;
  readonly day: string;
  readonly events: readonly LedgerEvent[];
}

/** The lines that are to go into the plan's ledger. Throws what it would refuse of them; nothing is written yet. */
function additionOf(
  { options }: Call,
  path: string,
  { plan, ledger: { entries } }: RunResult,
  made: readonly {
    readonly field: FieldResult;
    readonly logs: readonly ProductLog[];
    readonly applied: AppliedField;
  }[],
): Addition {
  for (const { applied: one } of made) refuseDoubtful(one);
  for (const { field, applied: one } of made) refuseEntered(field, one);
  const loaded = standingEntries(entries).filter((entry) => entry.kind === "loaded");
  const events = made.flatMap(({ field, logs, applied: one }) =>
    placedEvents(plan, field, one, loaded, logs),
  );
  const [folder, day] = [planFolder(path), dayOr({ options })];
  refuseEvents(folder, day, events, realDisk, options.again);
  return { folder, day, events };
}

/** The ledger only grows: a log that looks like another product's is not written into it. Throws `doubtful-log`. */
function refuseDoubtful({ notices }: AppliedField): void {
  const doubt = graveDoubt(notices);
  if (doubt === undefined) return;
  throw new InputError(
    "doubtful-log",
    `${doubt.message}; nothing was written into the ledger`,
    "Give each log for the product it is of; where it is right all the same, enter the pounds with `ledger --add`.",
  );
}

/** Pounds without a log, about those of the ledger's lines of a part of the field: of the whole field they would count twice. */
function refuseEntered({ field }: FieldResult, { products, notDrivenAc }: AppliedField): void {
  if (products.length > 0 || notDrivenAc === 0) return;
  throw new InputError(
    "placed-twice",
    `${field.name}: the ledger has a part of its strip pass, and the pounds given, of the whole field, are hardly more: its lines would count twice; nothing was written`,
    "Enter the pounds of other days with their acres (`ledger --add`), or take the lines back first (`ledger --void`) and give the pounds of the whole field.",
  );
}

/** A line a product: pounds on the ground by log, scale or word, acres covered, and the map that was last loaded for it. */
function placedEvents(
  plan: Plan,
  field: FieldResult,
  { fieldId, products, byPounds }: AppliedField,
  loaded: readonly LoadedEntry[],
  logs: readonly ProductLog[],
): LedgerEvent[] {
  const { prescriptions, checked } = field;
  const isOf = loadedAs(plan, field);
  // One rig lays all its products: pounds without a log lie where the other's log says that it was.
  const workedAc =
    products.length === 0 ? checked.areaAc : Math.max(...products.map(({ coveredAc }) => coveredAc));
  const placed = [
    ...products.map((one) => ({
      ...{ product: one.product, stem: one.stem, lb: one.placedLb, areaAc: one.coveredAc },
      from: one.meterFactorFrom === "tickets" ? ("tickets" as const) : ("log" as const),
    })),
    // What the ledger has stands there already.
    ...byPounds.flatMap(({ from, ...one }) =>
      from === "ledger" ? [] : [{ ...one, from, areaAc: workedAc }],
    ),
  ];
  return placed.map(({ product, stem, lb, areaAc, from }): LedgerEvent => {
    const { analysis } = prescriptions.find((map) => map.stem === stem)!;
    const log = logs.find((one) => one.product === product)?.log;
    const last = loaded.findLast((entry) => entry.fieldId === fieldId && isOf(stem, entry.map));
    return {
      ...{ kind: "placed", fieldId, pass: "strip", product, lb, areaAc },
      ...{ map: last?.map ?? stem, revision: last?.revision ?? "" },
      p2o5Lb: lb * oxideIn(analysis, "P2O5"),
      k2oLb: lb * oxideIn(analysis, "K2O"),
      from,
      ...(log === undefined ? {} : { log: logDigest(log), ...spanOf(field, log) }),
    };
  });
}

/** Lists by piece stay out; a segment's figures are in the maps. */
const asJson = ({ catchUp, products, ...field }: AppliedField): unknown => ({
  ...field,
  products: products.map(
    ({ placedLbPerAc: _placed, skippedShare: _skipped, overlappedShare: _over, shown: _shown, ...one }) =>
      one,
  ),
  catchUp: {
    balances: catchUp.balances,
    // None before the pass is finished and all its logs are given.
    voids: isHeldBack(field) ? [] : catchUp.voids,
    prescriptions: (isHeldBack(field) ? [] : catchUp.prescriptions).map(
      ({ product, stem, totalLb, meanLbPerAc, maxLbPerAc }) => ({
        product,
        stem,
        totalLb,
        meanLbPerAc,
        maxLbPerAc,
      }),
    ),
  },
});
