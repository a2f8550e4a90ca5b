import { inOneLine } from "../errors/index.ts";
import type { RunResult } from "../plan/index.ts";
import { numberText, tons } from "../units/index.ts";
import { laidIn } from "./laid-in.ts";
import { cautionLine, fieldNeedLines, guideLines } from "./need-lines.ts";
import { shownBalance, sumOfBalances } from "./rounded-parts.ts";
import { blendLines, careLines, type SplitLine, splitLines } from "./split-lines.ts";
import { textTable } from "./text-table.ts";

/**
 * What a build placed and where, as plain text a manager can read: acres, pounds and tons by product and pass,
 * lowest, mean and highest rate, the balance of each oxide, the guides with what is unconfirmed, cautions, fields that
 * failed.
 */
export function summary(result: RunResult): string {
  const lines = [`${result.plan.name}, season ${result.plan.seasonYear}: ${numberText(result.acres, 1)} ac`];
  if (result.incomplete !== "")
    lines.push(`incomplete: ${result.incomplete}; the totals leave the others out`);
  lines.push("", ...textTable(productRows(result)), "");
  if (result.fields.length === 1) {
    const [field] = result.fields;
    lines.push(...balanceLines(result), "", ...fieldNeedLines(field!), "");
    lines.push(...[...splitLines(result.plan, field!.split), ...careLines(field!.care)].map(asLine), "");
  } else lines.push(...balanceLines(result), "", ...textTable(fieldRows(result)), "");
  if (result.blends.length > 0) lines.push(...result.blends.flatMap(blendLines).map(asLine), "");
  lines.push(...guideLines(result), cautionLine(result));
  for (const refused of result.refused) {
    lines.push(`Not worked out: ${refused.field}. ${inOneLine(refused)}`);
  }
  return lines.join("\n").trimEnd();
}

const asLine = ({ label, text }: SplitLine): string => `${label}: ${text}`;

function productRows(result: RunResult): string[][] {
  const rows = [["product", "pass", "acres", "lb", "tons", "lb/ac low", "mean", "high"]];
  const laid = laidIn(result);
  for (const total of result.totals) {
    if (!laid.includes(total.product)) continue;
    const maps = result.fields
      .flatMap((field) => field.prescriptions)
      .filter((map) => map.product === total.product && (total.pass === "all" || map.pass === total.pass));
    // What the spreader brings nothing of has no row.
    if (maps.length === 0) continue;
    const acres = total.pass === "all" ? result.acres : maps.reduce((sum, map) => sum + map.areaAc, 0);
    const least = Math.min(...maps.map((map) => map.minLbPerAc));
    const most = Math.max(...maps.map((map) => map.maxLbPerAc));
    const pass = total.pass === "all" ? "both" : total.pass;
    const rates = total.pass === "all" ? ["", ""] : [numberText(least, 0), numberText(most, 0)];
    rows.push([
      total.product,
      pass,
      numberText(acres, 1),
      numberText(total.lb, 0),
      numberText(total.tons, 2),
      rates[0]!,
      acres > 0 ? numberText(total.lb / acres, 1) : "",
      rates[1]!,
    ]);
  }
  return rows;
}

function fieldRows(result: RunResult): string[][] {
  const products = laidIn(result);
  const heading = products.flatMap((product) => [`${product} strip, tons`, "broadcast, tons"]);
  const rows = [["field", "crop", "acres", ...heading]];
  for (const { field, checked, prescriptions } of result.fields) {
    const lb = (product: string, pass: string) =>
      prescriptions
        .filter((map) => map.product === product && map.pass === pass)
        .reduce((sum, map) => sum + map.totalLb, 0);
    const amounts = products.flatMap((product) =>
      ["strip", "broadcast"].map((pass) => numberText(tons(lb(product, pass)), 2)),
    );
    rows.push([field.name, field.crop, numberText(checked.areaAc, 1), ...amounts]);
  }
  return rows;
}

const PARTS = ["need", "strip", "broadcast", "credits", "shortage", "excess", "rounding"] as const;

/** The balance of each oxide over all fields; it adds up as shown. */
function balanceLines({ fields }: RunResult): string[] {
  const all = fields.flatMap(({ balances }) => balances);
  const nutrients = [...new Set(all.map(({ nutrient }) => nutrient))];
  const rows = nutrients.map((nutrient) => {
    const shown = shownBalance(sumOfBalances(nutrient, all));
    return [nutrient, ...PARTS.map((part) => numberText(shown[part], 0))];
  });
  return textTable([["lb of", ...PARTS], ...rows]);
}
