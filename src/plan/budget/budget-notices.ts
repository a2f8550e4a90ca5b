import type { Notice } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { PlanBudget } from "../document/document-need-types.ts";
import type { Plan } from "../document/document-types.ts";
import type { SettledBlend } from "../document/field-products.ts";
import type { FieldResult } from "../results/result-types.ts";
import { costOfField, costsIn } from "./budget-costs.ts";
import type { Spent } from "./spend-over-fields.ts";

/** Share of a budget that steps and widths of the rates may go beyond before it is said. */
const STEPS_SHARE = 0.001;

const amountText = (budget: PlanBudget, amount: number): string =>
  "usd" in budget ? `$${numberText(amount, 0)}` : `${numberText(amount, 0)} lb`;

/** What a budget did to the plan, and where the maps of all products, with what is done, place more than it. */
export function budgetNotices(
  plan: Plan,
  spent: Spent | null,
  blends: readonly SettledBlend[],
  fields: readonly FieldResult[],
  stands: readonly FieldStand[],
): Notice[] {
  const { budget } = plan;
  if (budget === undefined) return [];
  const notices = spent === null ? [] : [spentNotice(budget, spent)];
  const total = "usd" in budget ? budget.usd : budget.lb;
  const costOf = costsIn(plan, budget, blends);
  const placed = sum(
    fields.map(({ field, prescriptions, finished }) =>
      costOfField(prescriptions, stands.find((one) => one.fieldId === field.id)!, finished, costOf),
    ),
  );
  if (placed <= (1 + STEPS_SHARE) * total) return notices;
  const toCome = spent?.toCome ?? 0;
  const isByItself = spent !== null && spent.held - toCome > total;
  const over = amountText(budget, Math.ceil(placed - (isByItself ? toCome : 0) - total));
  const message = isByItself
    ? `flat rates and what the ledger has done come to ${over} more than the budget by themselves, and it cuts neither: lower the flat rates, or raise it`
    : `the maps place ${over} more than the budget, by the steps of their rates and the width each rate goes over${spent !== null && spent.doneCost > 0 ? ", or by what was laid more than the maps in fields that are done" : ""}: lower it by as much`;
  return [...notices, { code: "budget-passed", message, where: "budget" }];
}

function spentNotice(budget: PlanBudget, spent: Spent): Notice {
  const { wanted, doneCost, toCome, isShortBelow, doneCuts, withoutTest } = spent;
  const ends =
    isShortBelow === null
      ? "no ground it is spent on is below critical; where the guide has no critical level the highest rates go first"
      : isShortBelow
        ? "it does not reach all acres below critical"
        : "all acres below critical are paid for, then the lowest tests above";
  const last = withoutTest === "some" ? "; an adviser's or typed rates come last and are cut alike" : "";
  const order =
    withoutTest === "all"
      ? "all rates are cut alike, high and low: they are an adviser's or typed, and no test says which goes first"
      : `lowest tests first; ${ends}${last}`;
  const isSpreadCut = [...doneCuts.values()].some(({ spreadCut }) => spreadCut !== null);
  const ofIt = toCome >= 0.5 ? `, ${amountText(budget, toCome)} of that still to come` : "";
  const done =
    doneCost > 0
      ? `; fields that the ledger has as stripped or finished keep their rates${isSpreadCut ? ", but for what was still to be spread there and is cut to what is left," : ""} and take ${amountText(budget, doneCost)} of it${ofIt}`
      : "";
  const total = amountText(budget, "usd" in budget ? budget.usd : budget.lb);
  return {
    code: "budget-spent",
    message: `the budget of ${total} is less than the ${amountText(budget, wanted)} wanted${done}: ${order}. What the order adds for overlap, loss and whole lots comes on top of it`,
    where: "budget",
  };
}
