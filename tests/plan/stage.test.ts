import { describe, expect, it } from "vitest";
import { createStageCache, type Plan, run } from "../../src/plan/index.ts";
import { smallFarmFiles, smallPlan, sourceOf } from "../support/small-farm.ts";

/** A cache that tells which stages put something into it. */
function watchedCache() {
  const cache = createStageCache();
  let fresh = 0;
  return {
    get: (key: string) => cache.get(key),
    set: (key: string, value: unknown) => {
      fresh++;
      cache.set(key, value);
    },
    freshSince: () => {
      const count = fresh;
      fresh = 0;
      return count;
    },
  };
}

function deepFreeze<T>(value: T): T {
  if (typeof value === "object" && value !== null && !ArrayBuffer.isView(value)) {
    for (const inner of Object.values(value)) deepFreeze(inner);
    Object.freeze(value);
  }
  return value;
}

const capped = (plan: Plan, capLbPerAc: number): Plan => ({ ...plan, split: { ...plan.split, capLbPerAc } });

describe("stages", () => {
  it("are taken from the cache when nothing they read has changed", async () => {
    const cache = watchedCache();
    const source = sourceOf(smallFarmFiles());
    const plan = smallPlan();
    const first = await run(plan, source, { cache });
    expect(cache.freshSince()).toBeGreaterThan(10);
    const again = await run(structuredClone(plan), source, { cache });
    expect(cache.freshSince()).toBe(0);
    expect(again.totals).toEqual(first.totals);
    await run(capped(plan, 120), source, { cache, files: "later" });
    cache.freshSince();
    const lower = await run(capped(plan, 100), source, { cache, files: "later" });
    // split, strip rates, broadcast rates: neither maps nor geometry
    expect(cache.freshSince()).toBe(3);
    expect(lower.totals[0]!.lb).toBeLessThan(first.totals[0]!.lb);
    expect(lower.fields[0]!.maps).toBe(first.fields[0]!.maps);
  });

  it("give the same figures whether files are written now or later", async () => {
    const source = sourceOf(smallFarmFiles());
    const now = await run(smallPlan(), source);
    const later = await run(smallPlan(), source, { files: "later" });
    expect(later.totals).toEqual(now.totals);
    expect(later.fields[0]!.balances).toEqual(now.fields[0]!.balances);
    expect(later.fields[0]!.prescriptions.map((map) => map.files.size)).toEqual([0, 0, 0]);
    expect(now.fields[0]!.prescriptions.map((map) => map.files.size)).toEqual([6, 6, 6]);
  });

  it("mark a plan by what it says, whatever the order of its keys", async () => {
    const plan = smallPlan();
    const turned = Object.fromEntries(Object.entries(plan).reverse()) as unknown as Plan;
    const marks = [plan, turned, capped(plan, plan.split.capLbPerAc + 1)].map(
      async (one) => (await run(one, sourceOf(smallFarmFiles()), { files: "later" })).planSha256,
    );
    const [one, same, another] = await Promise.all(marks);
    expect(same).toBe(one);
    expect(another).not.toBe(one);
  });

  it("leave the plan they were given as it was", async () => {
    const plan = deepFreeze(smallPlan());
    await expect(run(plan, sourceOf(smallFarmFiles()))).resolves.toBeDefined();
  });

  it("end at the next border when somebody stops them", async () => {
    const stop = new AbortController();
    const seen: string[] = [];
    const stopped = run(smallPlan(), sourceOf(smallFarmFiles()), {
      signal: stop.signal,
      onProgress: ({ stage }) => {
        seen.push(stage);
        if (stage === "need") stop.abort(new Error("stopped by hand"));
      },
    });
    await expect(stopped).rejects.toThrow("stopped by hand");
    expect(seen.at(-1)).toBe("need");
  });
});
