import { InputError, type Notice, noticeLines, QuestionError } from "../../errors/index.ts";
import { type LedgerEntry, type LedgerEvent, readLedger } from "../../ledger/index.ts";
import {
  elsewhereNotices,
  enteredNotices,
  finishedInPart,
  LEDGER_PATH,
  ownProducts,
  oxideIn,
  oxidesInWords,
  placedNotices,
  type RunResult,
  ratioNames,
  requireField,
} from "../../plan/index.ts";
import { type Product, productById } from "../../products/index.ts";
import { ledgerOf, type TypedEvent, TypedEvents } from "../calculations/ledger.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { realDisk } from "../disk-calls.ts";
import { exit } from "../exit.ts";
import { allInJson } from "../explain.ts";
import { addToLedger, ledgerBytes } from "../ledger-file.ts";
import { numberOption } from "../number-option.ts";
import { planFolder, readPlanAt } from "../open-plan.ts";
import { exitOf, runPlan } from "../run-plan.ts";
import { dayOr, today } from "../today.ts";
import { entryLines, entryWords, standWords } from "../words/ledger-words.ts";

/** `ledger PLAN` or `ledger --input X.json`: what each field received, and where it stands. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "What each field received and where it stands: waiting, on stick, part stripped, stripped, short.",
    "ledger.txt lies beside plan.json and only ever grows; every line carries its check. --add X.json writes events",
    "(a list: docs/operations.md), --finish FIELD freezes a field's strip pass, --void N --why TEXT takes a line",
    "back, which stays in the file. --date is their day. Pounds that stand there are refused without --again.",
    "--input takes the calculation alone.",
  ].join("\n"),
  options: ["input", "answer", "add", "finish", "void", "why", "date", "again"],
  run: ledger,
};

async function ledger(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "ledger");
  if ("input" in given) {
    const fields = ledgerOf(await readCalculation(call, given.input));
    return { exit: exit.done, data: standWords(fields).join("\n"), json: { fields } };
  }
  const typed = await eventsOf(call);
  if (typed.length > 0) return await write(call, given.plan, typed);
  const { result } = await runPlan(call, given.plan);
  const { stands: fields } = result;
  const { entries } = result.ledger;
  const lines = entryLines(entries);
  const notices = doubtsOf(result);
  return {
    exit: exitOf(result),
    data: [
      ...standWords(fields),
      ...(lines.length > 0 ? ["", ...lines] : []),
      ...noticeLines(notices, allInJson),
    ].join("\n"),
    json: { fields, entries, notices },
  };
}

async function write(call: Call, operand: string, typed: readonly TypedEvent[]): Promise<Outcome> {
  const folder = planFolder(operand);
  const { plan } = await readPlanAt(call, folder);
  const names = new Set((plan.blends ?? []).flatMap(ratioNames));
  const products = [...ownProducts(plan), ...(await blendsOf(call, operand, names, typed))];
  const events = typed.map((event) => withOxides(event, names, products));
  for (const event of events) if ("fieldId" in event) requireField(plan, event.fieldId);
  const date = dayOr(call);
  const entries = addToLedger(folder, date, events, realDisk, call.options.again);
  const all = readLedger(ledgerBytes(folder, realDisk), LEDGER_PATH).entries;
  const notices = [
    ...afterToday(date),
    ...enteredNotices(entries, all),
    ...typed.flatMap((event, i) => mixedToday(event, names, products, entries[i]!.number)),
    ...(await againstMaps(call, operand, entries)),
  ];
  return {
    exit: exit.done,
    data: ["Written into ledger.txt:", ...entries.map(entryWords), ...noticeLines(notices, allInJson)].join(
      "\n",
    ),
    json: { written: entries, notices },
  };
}

const doubtsOf = ({ fields, stands }: RunResult): Notice[] => [
  ...elsewhereNotices(stands),
  ...fields.flatMap((field) => {
    const stand = stands.find((one) => one.fieldId === field.field.id);
    return stand === undefined ? [] : placedNotices(field, stand);
  }),
];

/**
 * What was placed, and strip passes that were finished, against acres and maps of their fields; a plan that cannot be worked out
 * now does not keep the lines out.
 */
async function againstMaps(call: Call, operand: string, written: readonly LedgerEntry[]): Promise<Notice[]> {
  const placed = new Set(written.flatMap((entry) => (entry.kind === "placed" ? [entry.fieldId] : [])));
  const finished = written.filter((entry) => entry.kind === "finished" && entry.pass === "strip");
  if (placed.size === 0 && finished.length === 0) return [];
  try {
    const { result } = await runPlan(call, operand);
    return [
      ...doubtsOf(result).filter(({ where }) => placed.has(where)),
      ...finished.flatMap((entry) => finishedInPart(entry, result.stands)),
    ];
  } catch (error) {
    if (!(error instanceof InputError || error instanceof QuestionError)) throw error;
    const message = `acres and pounds were not held against the maps: ${error.message}`;
    return [{ code: "not-held-against-maps", message, where: LEDGER_PATH }];
  }
}

function afterToday(date: string): Notice[] {
  const now = today();
  if (date <= now) return [];
  const message = `${date} is after today, ${now} by this computer's clock; take the line back with --void if the day is mistyped`;
  return [{ code: "date-after-today", message, where: date }];
}

async function eventsOf(call: Call): Promise<TypedEvent[]> {
  const { add, finish, why } = call.options;
  const voids = numberOption(call, "void", { least: 1, whole: true });
  if ((voids === undefined) !== (why === undefined)) {
    throw new InputError(
      "why-missing",
      "--void and --why go together",
      "Give the line's number and why it is taken back.",
    );
  }
  const typed = add === undefined ? [] : (await readCalculation(call, add))(TypedEvents);
  return [
    ...typed,
    ...finish.map((fieldId): TypedEvent => ({ kind: "finished", fieldId, pass: "strip" })),
    ...(voids === undefined ? [] : [{ kind: "void" as const, voids, why: why! }]),
  ];
}

/** Pounds of a blend without their oxides are reckoned by today's mixture. */
function mixedToday(
  event: TypedEvent,
  names: ReadonlySet<string>,
  products: readonly Product[],
  line: number,
): Notice[] {
  if (event.kind !== "placed" || !names.has(event.product) || areTyped(event)) return [];
  const { fieldId, product } = event;
  const { grade } = products.find(({ id }) => id === product)!;
  const message = `${fieldId}: ${product} counts as it is mixed in the plan now, ${oxidesInWords(grade)}; where it was mixed otherwise that day take the line back (\`ledger --void ${line}\`) and type p2o5Lb and k2oLb`;
  return [{ code: "mixed-today", message, where: fieldId }];
}

type TypedPlaced = Extract<TypedEvent, { readonly kind: "placed" }>;

const areTyped = ({ p2o5Lb, k2oLb }: TypedPlaced): boolean => p2o5Lb !== undefined && k2oLb !== undefined;

/**
 * The blends that pounds are typed of without their oxides: a blend's ratio is found as the plan is worked out. Throws what
 * `run` throws.
 */
async function blendsOf(
  call: Call,
  operand: string,
  names: ReadonlySet<string>,
  typed: readonly TypedEvent[],
): Promise<Product[]> {
  const isOpen = (event: TypedEvent): boolean =>
    event.kind === "placed" && names.has(event.product) && !areTyped(event);
  if (!typed.some(isOpen)) return [];
  const { result } = await runPlan(call, operand);
  return result.blends.map(({ product }) => product);
}

/** Pounds of oxide from the product's analysis where they were not typed. Throws `unknown-product`. */
function withOxides(
  event: TypedEvent,
  names: ReadonlySet<string>,
  products: readonly Product[],
): LedgerEvent {
  if (event.kind !== "placed") return event;
  const { lb, product, p2o5Lb = 0, k2oLb = 0 } = event;
  if (names.has(product) && areTyped(event)) return { ...event, p2o5Lb, k2oLb };
  // A ratio that no field has now is none of those that can be named.
  const named = [...names].filter((name) => !names.has(product) || products.some(({ id }) => id === name));
  const { grade } = productById(product, products, named);
  return {
    ...event,
    p2o5Lb: event.p2o5Lb ?? lb * oxideIn(grade, "P2O5"),
    k2oLb: event.k2oLb ?? lb * oxideIn(grade, "K2O"),
  };
}
