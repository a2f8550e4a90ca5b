import { existsSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../errors/index.ts";
import { LEDGER_PATH, type Plan, readPlan } from "../plan/index.ts";
import type { Call } from "./command.ts";
import { type OpenedSource, openSource } from "./open-source.ts";
import { sayNotices } from "./talk.ts";
import { isOfABuild } from "./whole-build.ts";

/** The folder, zip or `-` that an operand names: that of a plan.json is the folder it lies in. */
export const folderOf = (operand: string): string =>
  basename(operand) === "plan.json" ? dirname(operand) : operand;

/** The plan folder an operand names; a ledger lies in it. Throws `no-plan-folder` for a zip, standard input or a build. */
export function planFolder(operand: string): string {
  if (operand === "-" || /\.zip$/i.test(operand)) {
    throw new InputError(
      "no-plan-folder",
      `${operand}: a ledger is written beside plan.json, not into an archive`,
      "Unpack the plan into a folder and give that.",
    );
  }
  const folder = folderOf(operand);
  const isBuilt = !existsSync(join(folder, "plan.json")) && existsSync(join(folder, "plan", "plan.json"));
  if (isBuilt || isInBuild(operand)) {
    throw new InputError(
      "no-plan-folder",
      `${operand} is a build: the ledger in it is a copy, and nobody would read what is written there`,
      "Give the plan's own folder, the one that build was given; its ledger is written beside its plan.json.",
    );
  }
  return folder;
}

/** Whether it names the copy of its plan that a build has in its folder plan. */
export function isInBuild(operand: string): boolean {
  if (operand === "-") return false;
  const folder = resolve(folderOf(operand));
  return (
    basename(folder) === "plan" &&
    ["manifest.json", "result.json"].every((name) => existsSync(join(dirname(folder), name)))
  );
}

/**
 * Reads a plan given as a folder, as the plan.json in it, or as a zip of the folder; what was left out of a zip is told.
 * A zip whose files all stand in one folder is taken from there. `isCopy`: a build's own copy of its plan. Throws `no-plan`
 * when there is no plan.json.
 */
export async function readPlanAt(
  { readStandardInput, talk }: Call,
  operand: string,
): Promise<{ readonly source: OpenedSource; readonly plan: Plan; readonly isCopy: boolean }> {
  const opened = await openSource(folderOf(operand), readStandardInput);
  const source = await atPlan(opened, operand);
  sayNotices(talk, source.notices);
  const isCopy = isOfABuild(await opened.list()) || isInBuild(operand);
  return { source, plan: readPlan(await source.read("plan.json"), "plan.json"), isCopy };
}

/** What a plan was worked out from, by path: plan.json, its sources and its ledger, as far as they are there. */
export async function planFiles(source: OpenedSource, { sources }: Plan): Promise<Map<string, Uint8Array>> {
  const present = new Set(await source.list());
  const wanted = ["plan.json", ...sources.map(({ path }) => path), LEDGER_PATH];
  const files = new Map<string, Uint8Array>();
  for (const path of wanted) if (present.has(path)) files.set(path, await source.read(path));
  return files;
}

async function atPlan(source: OpenedSource, operand: string): Promise<OpenedSource> {
  const paths = await source.list();
  if (paths.includes("plan.json")) return source;
  const inside = paths.find((path) => path.split("/").length === 2 && path.endsWith("/plan.json"));
  if (inside !== undefined) return below(source, inside.slice(0, -"plan.json".length));
  throw new InputError(
    "no-plan",
    `${operand}: there is no plan.json`,
    "Give the folder, plan.json or zip that the command new has made.",
  );
}

function below(source: OpenedSource, prefix: string): OpenedSource {
  return {
    notices: source.notices,
    list: async () =>
      (await source.list())
        .filter((path) => path.startsWith(prefix))
        .map((path) => path.slice(prefix.length)),
    read: (path) => source.read(prefix + path),
  };
}
