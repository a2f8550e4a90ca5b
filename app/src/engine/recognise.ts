import { InputError, LEDGER_PATH, lastOfPath, type PlanSource, readPlan, sha256Hex } from "#core";
import type { NamedFile } from "./drawn-types.ts";
import { saidOfLoose, sortedOut } from "./dropped-files.ts";
import { joined } from "./join-plan.ts";
import { type Dropped, made, type Recognised } from "./made-plan.ts";
import { isPlanFile } from "./plan-file.ts";

export type { Dropped, Recognised } from "./made-plan.ts";

/** A saved plan opens with the files it names; loose files make a new one or join the open one. */
export function recognise(dropped: Dropped): Recognised {
  try {
    return recognised(dropped);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.code, saidOfLoose(error.message, dropped.files), error.remedy);
  }
}

function recognised(dropped: Dropped): Recognised {
  const { leftOut = [] } = dropped;
  const files = sortedOut(dropped.files).filter(([path]) => !leftOut.includes(path));
  const saved = files.find(([path]) => isPlanFile(path));
  if (saved) return openSaved(saved, files, dropped.joins?.files ?? []);
  return dropped.joins ? joined(dropped, dropped.joins, files) : made(dropped, files);
}

function openSaved(
  [planPath, planBytes]: NamedFile,
  files: readonly NamedFile[],
  before: readonly NamedFile[],
): Recognised {
  const plan = readPlan(planBytes, planPath);
  const folder = planPath.slice(0, -"plan.json".length);
  const given = files.filter(([path]) => path !== planPath);
  const hashed = (files: readonly NamedFile[]) => new Map(files.map((file) => [sha256Hex(file[1]), file]));
  const [own, standing] = [hashed(given), hashed(before)];
  const taken: NamedFile[] = [];
  for (const source of uniquePaths(plan.sources)) {
    const named = given.find(([path]) => path === folder + source.path || path === source.path);
    // Of several of one name the bytes tell which the plan means.
    const file =
      own.get(source.sha256) ??
      named ??
      standing.get(source.sha256) ??
      given.find(([path]) => lastOfPath(path) === lastOfPath(source.path));
    if (!file) {
      throw new InputError(
        "source-missing",
        `${planPath} names ${source.path} (${source.as}), which is not among the files.`,
        "Drop it together with the plan.",
      );
    }
    taken.push([source.path, file[1]]);
  }
  const ledger = given.find(([path]) => path === folder + LEDGER_PATH);
  if (ledger) taken.push([LEDGER_PATH, ledger[1]]);
  return { plan, files: taken, notices: [], asSaved: true, change: "" };
}

function uniquePaths(sources: readonly PlanSource[]): PlanSource[] {
  const seen = new Set<string>();
  return sources.filter(({ path }) => !seen.has(path) && seen.add(path));
}
