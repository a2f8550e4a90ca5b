import { z } from "zod";
import { reconcileTickets } from "../applied/index.ts";
import { InputError, type Notice, oneWord, QuestionError } from "../errors/index.ts";
import {
  binProducts,
  logOfProduct,
  logsAsOne,
  logsByProduct,
  type Plan,
  type ProductLog,
  type ProductPounds,
  productNamed,
  READ_BY_BUILD_BEFORE,
  readInput,
  readingsByProduct,
  spreadIds,
} from "../plan/index.ts";
import { numberText } from "../units/index.ts";
import { readCalculation } from "./calculations/read-calculation.ts";
import { Ticket } from "./calculations/shapes.ts";
import type { Call } from "./command.ts";
import { realDisk } from "./disk-calls.ts";
import { gatherInput } from "./gather-input.ts";
import { sayNotices } from "./talk.ts";

/** Scale tickets of a product, or the pounds that went out as somebody typed them. */
const Tickets = z.record(
  z.string(),
  z.union([
    // Without a refill start and end weights are enough.
    z.strictObject({
      startLb: z.number().default(0),
      endLb: z.number().default(0),
      tickets: z.array(Ticket).default([]),
      wasteLb: z.number().default(0),
      scaleErrorLb: z.exactOptional(z.number()),
    }),
    z.strictObject({ usedLb: z.number().positive() }),
  ]),
);

interface LogsAndPounds {
  readonly logs: readonly ProductLog[];
  /** Of products without a log. */
  readonly pounds: readonly ProductPounds[];
}

/**
 * The logs of `--log FILE` and `--log PRODUCT=FILE`, one a product; several files of one product are one log, whatever
 * order they are given in. The product
 * is the one named, else the file's own, else `--product`; a file that tells several apart is taken apart. Tickets by
 * product from `--tickets`, which are enough where there is no log. Throws `no-log`, `no-applied-rate`,
 * `product-of-log`, a `QuestionError`, and what the readers throw.
 */
export async function readLogs(call: Call, plan: Plan): Promise<LogsAndPounds> {
  const { log: named, product, tickets: ticketsPath } = call.options;
  const answers = Object.fromEntries(call.options.answer);
  if (named.length === 0 && ticketsPath === undefined) {
    throw new InputError(
      "no-log",
      "no log was given",
      "Add --log FILE, or --log 0-0-60=FILE for each product; without logs --tickets X.json.",
    );
  }
  const known = binProducts(plan);
  const tickets = ticketsPath === undefined ? {} : (await readCalculation(call, ticketsPath))(Tickets);
  const byProduct = new Map<string, ProductLog["log"][]>();
  const unread: UnreadReadings[] = [];
  const add = (of: string, log: ProductLog["log"]): void => {
    byProduct.set(of, [...(byProduct.get(of) ?? []), log]);
  };
  for (const one of named) {
    const prefix = known.find((id) => one.startsWith(`${id}=`));
    const path = prefix === undefined ? one : one.slice(prefix.length + 1);
    if (prefix === undefined) refuseStrangeProduct(one, known, spreadIds(plan));
    const { name: file, files } = await gatherInput(path, call.readStandardInput);
    const reading = readInput(file, files, { as: "applied", answers });
    if (reading.questions.length > 0) throw new QuestionError(reading.questions, reading.notices);
    // Of several logs each is named.
    const said = reading.notices.map((one) =>
      one.message.includes(file) ? one : { ...one, message: `${file}: ${one.message}` },
    );
    sayNotices(call.talk, said);
    const log = reading.taken?.role === "applied" ? reading.taken.log : null;
    if (log === null)
      throw new InputError("no-applied-rate", `${file} holds no log`, "Choose the log of the work done.");
    const several = prefix === undefined ? logsByProduct(log, known, answers) : null;
    if (several !== null) for (const [of, part] of several) add(of, part);
    else {
      const name = productNamed(log, answers);
      const itself = known.find((id) => name === id);
      const of = prefix ?? itself ?? product ?? (known.length === 1 ? known[0] : undefined);
      if (of === undefined || !known.includes(of)) {
        throw new InputError(
          "product-of-log",
          `${file}: which product it is a log of is not known${of === undefined && name === undefined ? "" : ` (“${of ?? name}”)`}`,
          `Write --log ${oneWord(`PRODUCT=${path}`)} with one of: ${known.join(", ")}.${name === undefined ? "" : ` Or answer its name: --answer ${oneWord(`log-product.${name}=${known[0] ?? "PRODUCT"}`)}. ${READ_BY_BUILD_BEFORE}.`}`,
        );
      }
      const own = logOfProduct(log, of, answers);
      add(of, own);
      if (own.points.length < log.points.length)
        unread.push({ path, file, of, byProduct: readingsByProduct(log, answers) });
    }
  }
  sayNotices(call.talk, unreadNotices(unread));
  const pounds = Object.entries(tickets).flatMap(([of, ticket]): ProductPounds[] => {
    if (byProduct.has(of)) return [];
    if ("usedLb" in ticket) return [{ product: of, lb: ticket.usedLb, from: "typed" }];
    // The factor against a log of 1 lb is nobody's, nor what is told of it; what was used is what counts here.
    const { usedLb, notices } = reconcileTickets({ ...ticket, loggedLb: 1 });
    const twice = notices.filter(({ code }) => code === "ticket-twice");
    return [{ product: of, lb: usedLb, from: "tickets", notices: twice }];
  });
  const logs = [...byProduct].map(([of, parts]): ProductLog => {
    const ticket = tickets[of];
    const log = { product: of, log: logsAsOne(parts) };
    if (ticket === undefined) return log;
    if (!("usedLb" in ticket)) return { ...log, tickets: ticket };
    return { ...log, tickets: { startLb: ticket.usedLb, endLb: 0, tickets: [], wasteLb: 0 }, isTyped: true };
  });
  return { logs, pounds };
}

/** A file given for one of several products in it. */
interface UnreadReadings {
  readonly path: string;
  readonly file: string;
  readonly of: string;
  readonly byProduct: ReadonlyMap<string, number>;
}

/** Products of a file whose readings nobody reads, since it was given for another product alone. */
function unreadNotices(unread: readonly UnreadReadings[]): Notice[] {
  return unread.flatMap(({ path, file, byProduct }, i) => {
    const given = unread.filter((one) => one.path === path).map((one) => one.of);
    if (unread.findIndex((one) => one.path === path) < i) return [];
    const left = [...byProduct].filter(([product]) => !given.includes(product));
    if (left.length === 0) return [];
    const what = left
      .map(
        ([product, count]) => `${numberText(count, 0)} of ${product === "" ? "no named product" : product}`,
      )
      .join(" and ");
    const message = `${file} is given for ${[...new Set(given)].join(" and ")}, and its readings of other products are not read: ${what}. Give it without a product, --log ${oneWord(path)}, to have all of it read`;
    return [{ code: "readings-not-read", message, where: file }];
  });
}

/** Throws `product-of-log` for `PRODUCT=FILE` with a product that no bin has, unless that is a file's own name. */
function refuseStrangeProduct(operand: string, known: readonly string[], spread: readonly string[]): void {
  const [, product] = /^([^=/\\]+)=./.exec(operand) ?? [];
  if (product === undefined || realDisk.kind(operand) !== null) return;
  if (spread.includes(product))
    throw new InputError(
      "product-of-log",
      `--log ${operand}: ${product} is spread, and only logs of the strip pass are read`,
      `Enter what was spread with \`ledger --add\`; a log of the strips names one of: ${known.join(", ")}.`,
    );
  throw new InputError(
    "product-of-log",
    `--log ${operand}: “${product}” is none of the plan's products`,
    `Name one of: ${known.join(", ")}. ${READ_BY_BUILD_BEFORE}; a field stripped in part with the one and in part with the other has no catch-up, and \`order\` tells what lacks there. Of a product laid in place of one no log is read: enter its pounds and acres with \`ledger --add\`, under its own name.`,
  );
}
