import type { Notice } from "../errors/index.ts";
import type { Ledger } from "../ledger/index.ts";
import { sum } from "../numeric/index.ts";
import { tons } from "../units/index.ts";
import type { Plan } from "./document/document-types.ts";
import { laidProducts, type SettledBlend } from "./document/field-products.ts";
import { priceOf } from "./document/price-of-product.ts";
import type { FieldResult, ProductTotal, RefusedField, RunResult } from "./results/result-types.ts";
import { allStands, ledgerNotices } from "./stands/ledger-of-plan.ts";

/** Add the fields up: per product the strip, the broadcast and both, from the pounds the files place. */
export function totalsOf(
  plan: Plan,
  planSha256: string,
  notices: readonly Notice[],
  fields: readonly FieldResult[],
  refused: readonly RefusedField[],
  wanted: number,
  blends: readonly SettledBlend[],
  ledger: Ledger,
): RunResult {
  const stands = allStands(plan, ledger, fields);
  const maps = fields.flatMap((field) => field.prescriptions);
  const totals = laidProducts(plan).flatMap((product) =>
    (["strip", "broadcast", "all"] as const).map((pass): ProductTotal => {
      const taken = maps.filter((map) => map.product === product && (pass === "all" || map.pass === pass));
      const lb = sum(taken.map((map) => map.totalLb));
      const price = priceOf(plan, product, blends);
      return { product, pass, lb, tons: tons(lb), usd: price === undefined ? null : price * tons(lb) };
    }),
  );
  return {
    plan,
    planSha256,
    fields,
    refused,
    totals,
    blends,
    acres: sum(fields.map((field) => field.checked.areaAc)),
    ledger,
    stands,
    notices: [...notices, ...ledger.notices, ...ledgerNotices(plan, fields, stands)],
    incomplete: fields.length === wanted ? "" : `${fields.length} of ${wanted} fields`,
  };
}
