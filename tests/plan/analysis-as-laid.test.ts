import { beforeAll, describe, expect, test } from "vitest";
import { type LedgerEvent, ledgerAddition, readLedger } from "../../src/ledger/index.ts";
import { appliedField, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { analysisAsLaid } from "../../src/plan/stands/analysis-as-laid.ts";
import { noNutrients } from "../../src/products/index.ts";
import { drivenLog } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const analysis = { ...noNutrients, p2o5: 45.6 };

describe("the analysis of what lies there", () => {
  test("is today's where the ledger has nothing of it or the same", () => {
    expect(analysisAsLaid({ analysis }, [], 4_968)).toBeNull();
    expect(analysisAsLaid({ analysis }, [{ lb: 1_000, p2o5Lb: 456, k2oLb: 0 }], 1_000)).toBeNull();
    // Pounds of oxide rounded as somebody types them.
    expect(analysisAsLaid({ analysis }, [{ lb: 1_000, p2o5Lb: 454, k2oLb: 0 }], 1_000)).toBeNull();
  });

  test("is the ledger's where it has another; of pounds beyond the ledger's today's, in the mean", () => {
    const before = { lb: 2_000, p2o5Lb: 704, k2oLb: 0 };
    expect(analysisAsLaid({ analysis }, [before], 2_000)!.p2o5).toBeCloseTo(35.2, 9);
    // 704 + 2,000 x 0.456 = 1,616 lb in 4,000.
    expect(analysisAsLaid({ analysis }, [before], 4_000)!.p2o5).toBeCloseTo(40.4, 9);
    expect(
      analysisAsLaid({ analysis }, [before, { lb: 2_000, p2o5Lb: 912, k2oLb: 0 }], 4_000)!.p2o5,
    ).toBeCloseTo(40.4, 9);
    // Potash that today's mixture has none of.
    expect(analysisAsLaid({ analysis }, [{ lb: 100, p2o5Lb: 45.6, k2oLb: 10 }], 100)).toMatchObject({
      k2o: 10,
    });
  });
});

describe("a product that was mixed anew after a field was stripped", () => {
  const plan: Plan = seasonPlanDocument();
  let result: RunResult;
  beforeAll(async () => {
    result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
  });

  test("its log is read as what was laid: the catch-up brings what lacks by it, and it is told", () => {
    const field = result.fields[0]!;
    const logs = [drivenLog(result, 0), drivenLog(result, 1)];
    const today = appliedField(plan, field, logs);
    const { placedLb } = today.products[0]!;
    const inStrip = (applied: typeof today): number =>
      applied.catchUp.balances.find(({ nutrient }) => nutrient === "P2O5")!.stripLb;
    expect(inStrip(today)).toBeCloseTo(0.52 * placedLb, 3);
    const p2o5Lb = 0.4 * placedLb;
    const event: LedgerEvent = {
      ...({ kind: "placed", fieldId: field.field.id, pass: "strip", product: "11-52-0" } as const),
      ...{ lb: placedLb, areaAc: field.checked.areaAc, map: "A", revision: "1", from: "log" },
      ...{ p2o5Lb, k2oLb: 0 },
    };
    const bytes = ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-14", event);
    const { entries } = readLedger(bytes, "ledger.txt");
    const asLaid = appliedField(plan, field, logs, [], entries);
    expect(inStrip(asLaid)).toBeCloseTo(p2o5Lb, 3);
    expect(asLaid.notices.map(({ code }) => code)).toContain("analysis-changed");
    const told = asLaid.notices.find(({ code }) => code === "analysis-changed")!.message;
    expect(told).toContain("11-52-0: by the ledger it was laid with 40.0 % P2O5, and it has 52.0 % P2O5");
    expect(today.notices.map(({ code }) => code)).not.toContain("analysis-changed");
  });
});
