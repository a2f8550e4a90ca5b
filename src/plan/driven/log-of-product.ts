import { InputError, oneWord } from "../../errors/index.ts";
import { type AppliedLog, sha256Hex } from "../../formats/index.ts";
import type { Answers } from "../document/answers.ts";
import { READ_BY_BUILD_BEFORE } from "../stands/product-put-back.ts";

/** What a log calls its products; a log of one product need not say. */
const named = ({ points }: AppliedLog): string[] =>
  [...new Set(points.map(({ product }) => product))].filter((product) => product !== "");

/** A name in a log as the plan calls it: by the answer `log-product.NAME`, else as it stands. */
const inPlan = (name: string, answers: Answers): string => answers[`log-product.${name}`] ?? name;

/**
 * A log of several products, taken apart; null for a log of one. Names that are none of the plan's products are answered by
 * `log-product.NAME`. Throws `product-of-log`.
 */
export function logsByProduct(
  log: AppliedLog,
  known: readonly string[],
  answers: Answers = {},
): ReadonlyMap<string, AppliedLog> | null {
  const names = named(log);
  if (names.length < 2) return null;
  const parts = new Map<string, AppliedLog>();
  for (const name of names) {
    const product = inPlan(name, answers);
    if (!known.includes(product)) {
      throw new InputError(
        "product-of-log",
        `the log holds ${names.join(", ")}; “${product}” is none of the plan's products`,
        `Say which it is with --answer ${oneWord(`log-product.${name}=${known[0] ?? "PRODUCT"}`)}, of: ${known.join(", ")}. ${READ_BY_BUILD_BEFORE}; a field stripped in part with the one and in part with the other has no catch-up, and \`order\` tells what lacks there.`,
      );
    }
    const points = log.points.filter((point) => point.product === name);
    const before = parts.get(product)?.points ?? [];
    const shift = (before.at(-1)?.pass ?? -1) + 1;
    parts.set(product, {
      ...log,
      products: [product],
      points: [...before, ...points.map((point) => ({ ...point, product, pass: point.pass + shift }))],
    });
  }
  return parts;
}

/** The product of a log that names one, as the plan calls it; undefined where it names none or several. */
export function productNamed(log: AppliedLog, answers: Answers = {}): string | undefined {
  const [name, ...more] = named(log);
  return name === undefined || more.length > 0 ? undefined : inPlan(name, answers);
}

/** The readings of one product, where a log holds several; the one name of a log as it was answered. Throws `product-of-log` where it holds none of it. */
export function logOfProduct(log: AppliedLog, product: string, answers: Answers = {}): AppliedLog {
  const names = named(log);
  if (names.length < 2) {
    const answer = answers[`log-product.${names[0]}`];
    if (answer === undefined) return log;
    return { ...log, products: [answer], points: log.points.map((point) => ({ ...point, product: answer })) };
  }
  const points = log.points.filter((point) => inPlan(point.product, answers) === product);
  if (points.length > 0) return { ...log, products: [product], points };
  throw new InputError(
    "product-of-log",
    `the log holds ${names.join(", ")} and no ${product}`,
    `Say which it is with --answer ${oneWord(`log-product.${names[0]}=${product}`)}, or choose another log.`,
  );
}

/** Readings of a log by the products it names, as the plan calls them. */
export function readingsByProduct(
  { points }: AppliedLog,
  answers: Answers = {},
): ReadonlyMap<string, number> {
  const count = new Map<string, number>();
  for (const { product: name } of points) {
    const product = inPlan(name, answers);
    count.set(product, (count.get(product) ?? 0) + 1);
  }
  return count;
}

/** Digits that tell a log from another. */
const DIGITS = 16;

/** Digits of a SHA-256 of a log's readings: the same readings have the same, whatever their file is called. */
export const logDigest = ({ points }: AppliedLog): string => {
  const text = points.map(({ at, time, widthFt, appliedLbPerAc }) =>
    [...at, time, widthFt, appliedLbPerAc].join(),
  );
  return sha256Hex(new TextEncoder().encode(text.join("\n"))).slice(0, DIGITS);
};
