import { type Plan, sameBytes } from "#core";
import type { NamedFile } from "../engine/protocol.ts";
import { planFolderOf, type Served } from "./served.ts";

/** A plan as it was kept of a visit: as it was opened, as it stands now, and its files. */
interface KeptPlan {
  readonly begun: Plan;
  readonly plan: Plan;
  readonly files: readonly NamedFile[];
}

/**
 * Whether plan.json in the folder served, or a file that it named then, is another than the visit began with. A plan that was
 * saved and put there is none. False where the folder has no plan, or its files do not come.
 */
export async function isFoldersOther(served: Served, kept: KeptPlan): Promise<boolean> {
  const folder = planFolderOf(served.files);
  if (folder === undefined) return false;
  const files = new Map(await served.read.catch(() => []));
  const bytes = files.get(`${folder}plan.json`);
  if (bytes === undefined) return false;
  const theirs = parsed(bytes);
  if (![kept.begun, kept.plan].some((plan) => isSame(theirs, plan))) return true;
  // Files that the page took in have names of their own.
  const named = kept.begun.sources.map((source) => source.path);
  return kept.files.some(([path, own]) => {
    const theirs = files.get(folder + path);
    return named.includes(path) && theirs !== undefined && !sameBytes(own, theirs);
  });
}

/** Null of what is no JSON: the plan there is another, and opening it says what is wrong with it. */
function parsed(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return null;
  }
}

/** Whether two values of JSON are the same, whatever the order of their keys. */
function isSame(one: unknown, two: unknown): boolean {
  if (typeof one !== "object" || typeof two !== "object" || one === null || two === null) return one === two;
  const [keys, others] = [Object.keys(one), Object.keys(two)];
  return (
    keys.length === others.length &&
    Array.isArray(one) === Array.isArray(two) &&
    keys.every((key) => Object.hasOwn(two, key) && isSame(Reflect.get(one, key), Reflect.get(two, key)))
  );
}
