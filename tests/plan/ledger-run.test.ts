import { beforeAll, describe, expect, test } from "vitest";
import { type LedgerEvent, ledgerAddition } from "../../src/ledger/index.ts";
import {
  nextSeasonPlan,
  orderOfPlan,
  type Plan,
  type RunResult,
  run,
  seasonOfPlan,
} from "../../src/plan/index.ts";
import { buildFiles, builtMaps, resultJson } from "../../src/publish/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
const id = plan.fields[0]!.id;

function ledgerBytes(...events: readonly LedgerEvent[]): Uint8Array {
  let bytes = new Uint8Array();
  for (const event of events)
    bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", "2027-04-18", event)]);
  return bytes;
}
const worked = (plan: Plan, ledger?: Uint8Array): Promise<RunResult> =>
  run(plan, sourceOf(new Map([...smallFarmFiles(), ...(ledger ? [["ledger.txt", ledger] as const] : [])])));

const placed = (lb: number): LedgerEvent => ({
  ...({ kind: "placed", fieldId: id, pass: "strip", product: "11-52-0", lb, areaAc: 20 } as const),
  ...{ map: "A", revision: "1", p2o5Lb: lb * 0.52, k2oLb: 0, from: "typed" },
});
const finished: LedgerEvent = { kind: "finished", fieldId: id, pass: "strip" };

describe("a run reads the ledger beside its plan", () => {
  let without: RunResult;
  let done: RunResult;
  beforeAll(async () => {
    without = await worked(plan);
    done = await worked(plan, ledgerBytes(placed(900), finished));
  });

  test("no ledger: every field waits, and nothing of one is written", async () => {
    expect(without.stands).toMatchObject([{ fieldId: id, state: "waiting", frozen: false }]);
    expect(JSON.stringify(resultJson(without))).not.toContain('"ledger"');
    const empty = await worked(plan, new Uint8Array());
    const files = (result: RunResult) => [...buildFiles(result, "0", new Map())];
    expect(files(empty)).toEqual(files(without));
  });

  test("a finished strip pass is frozen: rates stand, no strip map is written, whatever the plan says now", async () => {
    const changed = await worked(
      { ...plan, split: { ...plan.split, capLbPerAc: 20 } },
      ledgerBytes(placed(900), finished),
    );
    for (const result of [done, changed]) {
      const [field] = result.fields;
      expect(field!.finished).toEqual([{ pass: "strip", date: "2027-04-18" }]);
      for (const map of field!.prescriptions) expect(map.files.size > 0).toBe(map.pass === "broadcast");
      const paths = [...buildFiles(result, "0", new Map()).keys()];
      expect(paths.filter((path) => path.startsWith("prescriptions/strip/"))).toEqual([]);
      expect(paths.some((path) => path.startsWith("prescriptions/broadcast/"))).toBe(true);
    }
    expect(done.fields[0]!.prescriptions.map((map) => map.totalLb)).toEqual(
      without.fields[0]!.prescriptions.map((map) => map.totalLb),
    );
  });

  test("state, pounds and doubts stand in result.json, the sheets and what goes on a stick", async () => {
    expect(done.stands).toMatchObject([{ state: "short", frozen: true, placed: [{ lb: 900 }] }]);
    const json = JSON.parse(JSON.stringify(resultJson(done)));
    expect(json.fields[0].ledger).toMatchObject({ state: "short", p2o5Lb: 468, lastDate: "2027-04-18" });
    const codes = json.notices.map((notice: { code: string }) => notice.code);
    expect(codes).toContain("pass-finished");
    expect(codes).toContain("placed-not-as-planned");
    const files = buildFiles(done, "0", new Map());
    const text = (path: string) => new TextDecoder().decode(files.get(path));
    expect(text("cab.html")).toContain("finished 2027-04-18, nothing to load");
    expect(text("cab.html")).not.toContain(`id="${id}"`);
    expect(text("fills.html")).not.toContain(`id="${id}"`);
    const maps = await builtMaps({
      list: async () => [...files.keys()],
      read: async (path) => files.get(path)!,
    });
    expect(maps.map((map) => [map.pass, map.product])).toEqual([["broadcast", "0-0-60"]]);
  });

  test("one product over does not make up for another under: told by product, and short when finished", async () => {
    const maps = without.fields[0]!.prescriptions.filter(({ pass }) => pass === "strip");
    const [map, potash] = ["11-52-0", "0-0-60"].map(
      (product) => maps.find((one) => one.product === product)!.totalLb,
    ) as [number, number];
    const laid = (product: string, lb: number, grade: { p2o5Lb: number; k2oLb: number }): LedgerEvent => ({
      ...({ kind: "placed", fieldId: id, pass: "strip", product, lb, areaAc: 20.4 } as const),
      ...{ map: "A", revision: "1", from: "typed", ...grade },
    });
    const moved = 0.1 * potash;
    const over = await worked(
      plan,
      ledgerBytes(
        laid("11-52-0", map + moved, { p2o5Lb: 0.52 * (map + moved), k2oLb: 0 }),
        laid("0-0-60", potash - moved, { p2o5Lb: 0, k2oLb: 0.6 * (potash - moved) }),
        finished,
      ),
    );
    expect(over.stands[0]).toMatchObject({ state: "short", frozen: true });
    const text = (lb: number) => Math.round(lb).toLocaleString("en-US");
    const told = over.notices.find(({ code }) => code === "placed-not-as-planned");
    expect(told!.message).toContain(
      `${text(potash - moved)} lb 0-0-60 (the maps have ${text(potash)}: ${text(moved)} lack, which the order does not hold)`,
    );
    expect(told!.message).toContain(`${text(map + moved)} lb 11-52-0 (the maps have ${text(map)})`);
  });

  test("what a finished strip pass lacks is not told any more once a catch-up brought it; of a part the rest is", async () => {
    const { prescriptions } = without.fields[0]!;
    const [map, potash, spread] = (
      [
        ["strip", "11-52-0"],
        ["strip", "0-0-60"],
        ["broadcast", "0-0-60"],
      ] as const
    ).map(
      ([pass, product]) => prescriptions.find((one) => one.pass === pass && one.product === product)!.totalLb,
    ) as [number, number, number];
    const toldAfter = async (caughtUpLb: number | null): Promise<string> => {
      const laid = (pass: "strip" | "catch-up", product: string, lb: number): LedgerEvent => ({
        ...({ kind: "placed", fieldId: id, pass, product, lb, areaAc: 20.4 } as const),
        ...{ map: "A", revision: "1", from: "typed" },
        ...{ p2o5Lb: product === "11-52-0" ? 0.52 * lb : 0, k2oLb: product === "0-0-60" ? 0.6 * lb : 0 },
      });
      const caughtUp = caughtUpLb === null ? [] : [laid("catch-up", "0-0-60", caughtUpLb)];
      const strips = [laid("strip", "11-52-0", map), laid("strip", "0-0-60", potash - 400)];
      const { notices } = await worked(plan, ledgerBytes(...strips, finished, ...caughtUp));
      return notices.find(({ code }) => code === "placed-not-as-planned")?.message ?? "";
    };
    expect(await toldAfter(null)).toContain(": 400 lack, which the order does not hold)");
    // The planned broadcast alone makes up for nothing; a catch-up brings it and what the strips lack.
    expect(await toldAfter(spread)).toContain(": 400 lack, which the order does not hold)");
    expect(await toldAfter(spread + 250)).toContain(": 150 lack, which the order does not hold)");
    expect(await toldAfter(spread + 400)).toBe("");
  });

  test("whoever orders is told what is finished and what lies there", async () => {
    const nothing = await worked(plan, ledgerBytes(finished));
    const codes = (of: RunResult) =>
      orderOfPlan(plan, of.fields, { stands: of.stands }).notices.map(({ code }) => code);
    expect(codes(nothing)).toEqual(expect.arrayContaining(["pass-finished", "placed-not-as-planned"]));
    expect(codes(without)).not.toContain("pass-finished");
  });

  test("season and order begin from it without being told anew", () => {
    const { stands } = done;
    expect(seasonOfPlan(plan, done.fields, { stands }).acres).toBe(0);
    const byField = (result: RunResult) =>
      orderOfPlan(plan, result.fields, { stands: result.stands }).products.map((one) => one.byField[0]!);
    const totals = (pass: string) =>
      ["11-52-0", "0-0-60"].map(
        (product) =>
          without.fields[0]!.prescriptions.find((map) => map.pass === pass && map.product === product)
            ?.totalLb ?? 0,
      );
    expect(byField(without).map((one) => one.stripLb)).toEqual(totals("strip"));
    expect(byField(done).map((one) => one.stripLb)).toEqual([0, 0]);
    expect(byField(done).map((one) => one.broadcastLb)).toEqual(totals("broadcast"));
  });

  test("taken back, the maps are written again", async () => {
    const back = await worked(plan, ledgerBytes(finished, { kind: "void", voids: 1, why: "wrong field" }));
    expect(back.fields[0]!.finished).toEqual([]);
    expect(back.fields[0]!.prescriptions.every((map) => map.files.size > 0)).toBe(true);
  });

  test("a changed line stops the run", async () => {
    const bytes = ledgerBytes(placed(900), finished);
    bytes[40] = bytes[40]! ^ 1;
    await expect(worked(plan, bytes)).rejects.toThrow(/line 1: it does not read as it was written/);
  });

  test("what lies in a field that the plan no longer has comes off stock and bookings, and is told", async () => {
    const gone: LedgerEvent = {
      ...(placed(900) as Extract<LedgerEvent, { kind: "placed" }>),
      fieldId: "sold",
    };
    const other = await worked(plan, ledgerBytes(gone, placed(100)));
    expect(other.stands[1]).toMatchObject({
      ...{ fieldId: "sold", state: "not in the plan", strippedAc: 20, lastDate: "2027-04-18" },
      placedLines: [1],
    });
    const told =
      "sold: the plan has no such field, and by 1 line of the ledger (1) 900 lb 11-52-0 in its strip";
    const order = orderOfPlan(plan, other.fields, { stands: other.stands });
    for (const { notices } of [other, order])
      expect(notices.find(({ code }) => code === "ledger-field-unknown")!.message).toContain(told);
    // 500 lb were on hand and a ton is bought: 1,000 lb are placed, 1,500 of the ton are left.
    const { line } = order.products[0]!;
    expect([line.placedLb, line.onHandLb, line.boughtLeftLb]).toEqual([1_000, 0, 1_500]);
    const { entries } = other.ledger;
    const acres = new Map([[id, { areaAc: 40, plannedLb: { P2O5: 0, K2O: 0 }, isYearAssumed: false }]]);
    const answers = { crop: "corn", yield: "190" };
    const next = nextSeasonPlan(plan, "next", "2028-01-10", other.stands, entries, acres, answers);
    // Nothing is delivered yet: less than nothing would be on hand.
    expect(next.plan.order?.terms?.[0]?.onHandLb).toBe(0);
    expect(next.notices[0]!.message).toContain(told);
  });

  test("what an earlier season left is said and credited nowhere", async () => {
    const carried = [
      { field: id, seasonYear: 2026, crop: "corn", state: "stripped", placedLbPerAc: { P2O5: 61, K2O: 40 } },
    ].map((one) => ({ ...one, yieldBuPerAc: 201 }));
    const later = await worked({ ...plan, carried });
    const note = later.notices.find((notice) => notice.code === "carried-not-credited");
    expect(note?.message).toMatch(/2026 corn .* 61 lb P2O5 and 40 lb K2O an acre, 201 bu\/ac harvested/);
    expect(later.totals).toEqual(without.totals);
  });
});
