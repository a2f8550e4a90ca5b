import { type ProductLog, type RunResult, readInput } from "../../src/plan/index.ts";
import { type DrivenTruth, driveField, logCsv } from "./drive-log.ts";

/** The products of the small farm's two bins, in their order. */
export const smallFarmProducts = ["11-52-0", "0-0-60"];
const known = new WeakMap<RunResult, Map<string, ProductLog>>();

/** The log of one bin as driven over the run's first field, through CSV and the reader; made once for a run, bin and truth. */
export function drivenLog(of: RunResult, bin: number, truth: DrivenTruth = {}): ProductLog {
  const driven = known.get(of) ?? new Map<string, ProductLog>();
  known.set(of, driven);
  const key = JSON.stringify([bin, truth]);
  const before = driven.get(key);
  if (before !== undefined) return before;
  const csv = logCsv(driveField(of.plan, of.fields[0]!, bin, truth), smallFarmProducts[bin]!);
  const bytes = new TextEncoder().encode(csv);
  const reading = readInput("log.csv", new Map([["log.csv", bytes]]), { as: "applied" });
  if (reading.taken?.role !== "applied" || reading.taken.log === null) throw new Error("no log");
  const made = { product: smallFarmProducts[bin]!, log: reading.taken.log };
  driven.set(key, made);
  return made;
}
