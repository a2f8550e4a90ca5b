import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { type Plan, type RunResult, readPlan, run } from "../../src/plan/index.ts";

const samples = resolve(import.meta.dirname, "../../sample-data");

/** Work out some fields of a shipped scenario, made up by this project (`npm run scenario`). */
export function runSample(
  name: string,
  only: readonly string[] = [],
  change: (plan: Plan) => Plan = (plan) => plan,
): Promise<RunResult> {
  const folder = join(samples, name);
  const plan = readPlan(new Uint8Array(readFileSync(join(folder, "plan.json"))), "plan.json");
  const source = {
    list: async () => readdirSync(folder).sort(),
    read: async (path: string) => new Uint8Array(readFileSync(join(folder, path))),
  };
  return run(change(plan), source, { only });
}
