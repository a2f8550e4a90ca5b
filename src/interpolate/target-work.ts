import type { Block } from "./types.ts";

/** Multiply-and-adds, about, for one target from `used` samples; pauses and threads go by them. */
export function targetWork(used: number, block: Block | undefined, withVariance: boolean): number {
  return used * (block === undefined ? 4 : 64) + (withVariance ? (used * used) / 2 : 0);
}

/** The same for a target with a system of its own, from the nearest few of n samples. */
export function nearestWork(n: number, nearest: number, block: Block | undefined): number {
  return n + targetWork(nearest, block, false) + nearest ** 3 / 6 + 2 * nearest ** 2;
}
