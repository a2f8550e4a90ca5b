import {
  buildFiles,
  checkFiles,
  counted,
  InputError,
  LEDGER_PATH,
  lastOfPath,
  manifestPath,
  type Plan,
  type RunResult,
  readManifest,
  readZip,
  sheetFiles,
  writePlan,
  writeZip,
} from "#core";
import type { TakeAway } from "./protocol.ts";
import { missingFile } from "./source-of.ts";

interface Taken {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** What was held against what, in words. */
  readonly checked: readonly string[];
}

/** A zip of everything a build writes, read back and held against its manifest; or one sheet. */
export async function carryOff(
  result: RunResult,
  what: TakeAway,
  sources: ReadonlyMap<string, Uint8Array>,
): Promise<Taken> {
  if (what.kind === "sheet") return sheet(result, what.path);
  const files = builtFiles(result, sources);
  const name = nameOf(result.plan);
  const bytes = writeZip(files, result.plan.date);
  const read = new Map(readZip(bytes, `${name}.zip`, { nested: "keep", maxEntries: 65_000 }).files);
  const manifest = readManifest(read.get(manifestPath)!, manifestPath);
  const problems = await checkFiles(manifest, {
    list: async () => [...read.keys()].sort(),
    read: async (path) => read.get(path)!,
  });
  if (problems.length > 0) {
    throw new Error(
      `the zip does not read back as written: ${problems.map((one) => one.message).join("; ")}`,
    );
  }
  return {
    name: `${name}.zip`,
    bytes,
    checked: [`${counted(files.size, "file")}, read back, same as written`],
  };
}

/** Everything a build writes, by path. */
export const builtFiles = (
  result: RunResult,
  sources: ReadonlyMap<string, Uint8Array>,
): ReadonlyMap<string, Uint8Array> => buildFiles(result, __TOOL_VERSION__, planFiles(result.plan, sources));

/** plan.json with the files it names, as one zip that the page and the command line open again. */
export const planFolder = (plan: Plan, files: ReadonlyMap<string, Uint8Array>): Taken => ({
  name: `${nameOf(plan)}-plan.zip`,
  bytes: writeZip(planFiles(plan, files), plan.date),
  checked: [],
});

/** plan.json, the files it names and the ledger where there is one. */
export function planFiles(plan: Plan, files: ReadonlyMap<string, Uint8Array>): Map<string, Uint8Array> {
  const inside = new Map<string, Uint8Array>([["plan.json", writePlan(plan)]]);
  for (const { path } of plan.sources) {
    const bytes = files.get(path);
    if (!bytes) throw missingFile(path);
    inside.set(path, bytes);
  }
  const ledger = files.get(LEDGER_PATH);
  if (ledger) inside.set(LEDGER_PATH, ledger);
  return inside;
}

const nameOf = (plan: Plan): string =>
  `${plan.name} ${plan.seasonYear}`.replaceAll(/[^\p{L}\p{N}]+/gu, "-").toLowerCase();

function sheet(result: RunResult, path: string): Taken {
  const text = sheetFiles(result).get(path);
  if (text === undefined) {
    throw new InputError("no-such-sheet", `There is no sheet ${path}.`, "Work the field out first.");
  }
  return {
    name: lastOfPath(path),
    bytes: Uint8Array.from(new TextEncoder().encode(text)),
    checked: [],
  };
}
