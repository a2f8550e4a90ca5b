/// <reference path="../../app/src/globals.d.ts" />
// The page runs what a move runs while nobody waits: nothing of that may be kept, or stand in the way of newer work.
import { expect, it } from "vitest";
import type { Look } from "../../app/src/engine/protocol.ts";
import { Superseded } from "../../app/src/engine/run-part.ts";
import { sourceOf } from "../../app/src/engine/source-of.ts";
import { WarmUp } from "../../app/src/engine/warm-up.ts";
import { createStageCache, run } from "../../src/plan/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const plan = seasonPlanDocument();
const id = plan.fields[0]!.id;
const source = sourceOf(new Map(smallFarmFiles()));
const look: Look = {
  field: id,
  layers: ["need/P2O5"],
  limits: {},
  system: "us",
  passes: true,
  tests: false,
  needs: true,
  split: false,
};
const parallel = { threads: 1, bands: () => Promise.reject(new Error("no field here is long enough")) };

/** A cache that counts what is asked of it and what is put in. */
function counted() {
  const cache = createStageCache();
  const asked = { get: 0, set: 0 };
  return {
    asked,
    cache: {
      get: (key: string) => {
        asked.get++;
        return cache.get(key);
      },
      set: (key: string, value: unknown) => {
        asked.set++;
        cache.set(key, value);
      },
    },
  };
}

async function shownWith(cache: ReturnType<typeof counted>["cache"]) {
  const result = await run(plan, source, { cache, only: [id], files: "later" });
  return { plan: result.plan, field: result.fields[0]! };
}

it("keeps nothing, changes nothing, and has an end", async () => {
  const { cache, asked } = counted();
  const shown = await shownWith(cache);
  const before = JSON.stringify(shown.plan);
  asked.get = asked.set = 0;
  const warmUp = new WarmUp();
  const part = { answers: {}, cache, parallel, isWanted: () => true };
  await warmUp.go(shown, source, look, part, 60_000);
  expect(asked.get).toBeGreaterThan(0);
  expect(asked.set).toBe(0);
  expect(JSON.stringify(shown.plan)).toBe(before);
  const rounds = asked.get;
  await warmUp.go(shown, source, look, part, 60_000);
  expect(asked.get).toBe(rounds);
  const again = await shownWith(cache);
  expect(asked.set).toBe(0);
  const fresh = await shownWith(createStageCache());
  for (const one of [again, fresh]) {
    expect(one.field.need).toEqual(shown.field.need);
    expect(one.field.prescriptions).toEqual(shown.field.prescriptions);
  }
});

it("gives way to newer work, and goes on where it stopped", async () => {
  const { cache, asked } = counted();
  const shown = await shownWith(cache);
  asked.get = 0;
  let leave = 3;
  const warmUp = new WarmUp();
  const part = { answers: {}, cache, parallel };
  const isWanted = () => leave-- > 0;
  await expect(warmUp.go(shown, source, look, { ...part, isWanted }, 60_000)).rejects.toThrow(Superseded);
  const cut = asked.get;
  await warmUp.go(shown, source, look, { ...part, isWanted: () => true }, 60_000);
  expect(asked.get).toBeGreaterThan(cut);
});

it("a plan that cannot be worked out a little aside ends it without a word", async () => {
  const { cache, asked } = counted();
  const shown = await shownWith(cache);
  const broken = {
    ...shown,
    plan: { ...plan, fields: plan.fields.map((field) => ({ ...field, guide: "none-of-that-name" })) },
  };
  const warmUp = new WarmUp();
  const part = { answers: {}, cache, parallel, isWanted: () => true };
  await warmUp.go(broken, source, look, part, 60_000);
  asked.get = 0;
  await warmUp.go(shown, source, look, part, 60_000);
  expect(asked.get).toBe(0);
});
