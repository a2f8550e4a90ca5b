import type { Highs } from "highs";
import { sum } from "../numeric/index.ts";
import {
  type FieldClasses,
  type SolvedFields,
  type SolveTerms,
  solveFields,
  stripBudgetLb,
} from "./split-optimum-field.ts";
import type { OptimumInput } from "./split-optimum-types.ts";

export interface PassChoice {
  readonly pass: readonly boolean[];
  readonly solved: SolvedFields;
  /**
   * $ by field without and with a pass, at the price of the target, of one field under the target itself; null where one was not
   * solved or leaves need without a place.
   */
  readonly without: readonly (number | null)[];
  readonly with: readonly (number | null)[];
  readonly gapDollars: number;
  readonly solves: number;
}

/** lb/ac that are no shortage but the solver's tolerance, added up over the classes. */
export const LEAST_SHORT_LB = 0.01;

/** Up to so many fields every choice of passes is tried under a target. */
const FIELDS_TO_ENUMERATE = 4;

/**
 * Which fields get a broadcast pass. Without a target each field stands alone: two programmes, the cheaper is kept, exact.
 * With a target the fields share one price: all choices are tried for a few fields; for more, price and choice follow each
 * other until they agree, and the gap to the bound that the price gives is told.
 */
export function choosePasses(
  highs: Highs,
  input: OptimumInput,
  fields: readonly FieldClasses[],
  shortagePrice: number,
): PassChoice {
  const fee = input.passFeePerAc ?? 0;
  const allowed = input.broadcastAllowed ?? true;
  const target = input.hoursMost !== undefined || input.meanStripLbPerAcMost !== undefined;
  let solves = 0;
  const solve = (group: readonly FieldClasses[], terms: SolveTerms): SolvedFields => {
    solves++;
    return solveFields(highs, input, group, terms, shortagePrice);
  };
  const feeOf = (pass: readonly boolean[]): number =>
    sum(fields.map((field, f) => (pass[f] ? fee * field.areaAc : 0)));
  const all = fields.map(() => allowed);
  const unknown = fields.map(() => null);
  const weigh = fee > 0 && allowed;

  /** Each field alone at a price of the target. */
  const alone = (
    price: number,
  ): { readonly without: SolvedFields[]; readonly with: SolvedFields[]; cheaper: boolean[] } => {
    const extra =
      input.hoursMost === undefined
        ? { extraPerHour: 0, extraPerLb: price }
        : { extraPerHour: price, extraPerLb: 0 };
    const one = (field: FieldClasses, pass: boolean): SolvedFields =>
      solve([field], { pass: [pass], ...extra, target: false });
    const spread = fields.map((field) => one(field, allowed));
    if (!weigh) return { without: [], with: spread, cheaper: [...all] };
    const bare = fields.map((field) => one(field, false));
    // Equal costs: no pass, the simpler season.
    const cheaper = fields.map(
      (field, f) => spread[f]!.objective + fee * field.areaAc < bare[f]!.objective - 1e-9,
    );
    return { without: bare, with: spread, cheaper };
  };

  if (!target) {
    const each = alone(0);
    const chosen = each.cheaper.map((pass, f) => (pass || !weigh ? each.with[f]! : each.without[f]!));
    return {
      pass: each.cheaper,
      solved: join(chosen),
      without: weigh ? each.without.map((one) => usdOf(one, 0)) : unknown,
      with: weigh ? each.with.map((one, f) => usdOf(one, fee * fields[f]!.areaAc)) : unknown,
      gapDollars: 0,
      solves,
    };
  }

  const together = (pass: readonly boolean[]): SolvedFields =>
    solve(fields, { pass, extraPerHour: 0, extraPerLb: 0, target: true });
  if (!weigh) {
    return { pass: all, solved: together(all), without: unknown, with: unknown, gapDollars: 0, solves };
  }
  const budget = input.hoursMost ?? stripBudgetLb(input, sum(fields.map((field) => field.areaAc)));
  const enumerate = fields.length <= FIELDS_TO_ENUMERATE;
  const tried = new Map<
    string,
    { readonly pass: readonly boolean[]; readonly solved: SolvedFields; readonly cost: number }
  >();
  const attempt = (pass: readonly boolean[]): number => {
    const key = pass.join();
    if (!tried.has(key)) {
      const solved = together(pass);
      tried.set(key, { pass, solved, cost: solved.objective + feeOf(pass) });
    }
    return tried.get(key)!.solved.targetPrice;
  };
  let bound = Number.NEGATIVE_INFINITY;
  if (enumerate) {
    for (let code = 0; code < 2 ** fields.length; code++)
      attempt(fields.map((_, f) => ((code >> f) & 1) === 1));
  } else {
    const prices = new Set<number>();
    let price = attempt(all);
    attempt(fields.map(() => false));
    for (let round = 0; round < 8 && !prices.has(price); round++) {
      prices.add(price);
      const each = alone(price);
      const least = fields.map((field, f) =>
        Math.min(each.with[f]!.objective + fee * field.areaAc, each.without[f]!.objective),
      );
      bound = Math.max(bound, sum(least) - price * budget);
      price = attempt(each.cheaper);
    }
  }
  const best = [...tried.values()].reduce((a, b) => (b.cost < a.cost - 1e-9 ? b : a));
  const each = fields.length === 1 ? null : alone(best.solved.targetPrice);
  // One field has the target to itself: what it costs under it, unless the need finds no place there.
  const own = (pass: boolean): number | null => {
    const { solved } = tried.get(String(pass))!;
    return usdOf(solved, feeOf([pass]));
  };
  return {
    pass: best.pass,
    solved: best.solved,
    without: each === null ? [own(false)] : each.without.map((one) => usdOf(one, 0)),
    with: each === null ? [own(true)] : each.with.map((one, f) => usdOf(one, fee * fields[f]!.areaAc)),
    gapDollars: enumerate ? 0 : Math.max(0, best.cost - bound),
    solves,
  };
}

/** What a way costs with its fee; null where need finds no place on it: the price of a shortage is the solver's own. */
const usdOf = ({ objective, short }: SolvedFields, fee: number): number | null =>
  sum(short.flatMap((one) => Object.values(one))) > LEAST_SHORT_LB ? null : objective + fee;

/** Fields solved one by one as if they had been solved together. */
const join = (parts: readonly SolvedFields[]): SolvedFields => ({
  objective: sum(parts.map((part) => part.objective)),
  strip: parts.flatMap((part) => part.strip),
  broadcast: parts.flatMap((part) => part.broadcast),
  short: parts.flatMap((part) => part.short),
  floorShort: parts.flatMap((part) => part.floorShort),
  targetPrice: 0,
});
