import { readdirSync, statSync, utimesSync } from "node:fs";
import { join } from "node:path";
import { type DiskCalls, realDisk } from "../../src/cli/disk-calls.ts";

/** What a dead process "throws": nothing after it reaches the disk. */
export class Crash extends Error {}

/** Where the process dies: before or after its n-th call (from 0), or half-way through it when it writes. */
export interface CrashPoint {
  readonly call: number;
  readonly when: "before" | "half" | "after";
}

/** The disk as the next process finds it: the one before it does not run any more. */
export const afterDeath: DiskCalls = {
  ...realDisk,
  sync: () => {},
  syncFolder: () => {},
  processMark: (pid) => (pid === process.pid ? null : realDisk.processMark(pid)),
};

/**
 * The real disk, until the process dies at `point`; from then on every call throws, as no code of a dead
 * process runs. `log` gets the name of each call made. Waiting for the disk (fsync) counts as a call but is
 * left out: it matters when the power fails, which is not simulated here.
 */
export function crashingDisk(point: CrashPoint | null, log: string[] = []): DiskCalls {
  let isDead = false;
  const counted = Object.entries(afterDeath).map(([name, real]) => {
    const call = real as (...values: unknown[]) => unknown;
    const mayDie = (...values: unknown[]): unknown => {
      if (isDead) throw new Crash();
      const isHere = point !== null && log.length === point.call;
      log.push(name);
      if (isHere) isDead = true;
      if (isHere && point.when === "half" && name === "write") {
        const [file, bytes] = values as [number, Uint8Array];
        realDisk.write(file, bytes.subarray(0, bytes.length >> 1));
      }
      if (isHere && point.when !== "after") throw new Crash();
      const result = call(...values);
      if (isHere) throw new Crash();
      return result;
    };
    return [name, mayDie];
  });
  return Object.fromEntries(counted) as DiskCalls;
}

/** Makes every file of the folder an hour older, as if the next command came later. */
export function letTimePass(folder: string): void {
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    const then = statSync(path).mtimeMs / 1000 - 3600;
    utimesSync(path, then, then);
  }
}
