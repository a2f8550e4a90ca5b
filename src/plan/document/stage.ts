import { sha256Hex } from "../../formats/index.ts";
import type { Pacing } from "../../interpolate/index.ts";

/** A stage's result with the hash of all it was made from; equal keys mean equal values. */
export interface Staged<T> {
  readonly key: string;
  readonly value: T;
}

/** Results of stages by key. A page keeps one for as long as it is open; the command line needs none. */
export interface StageCache {
  get(key: string): unknown;
  set(key: string, value: unknown): void;
}

export interface StageContext {
  readonly cache: StageCache;
  /** Asked at every border between stages; throws when a newer plan has come or somebody pressed Stop. */
  readonly border: (stage: string) => Promise<void>;
  /** For stages that take long: they pause and look at the signal within. */
  readonly pacing: Pacing;
  /** Told while a soil map is on its way: the part of its rows that is done. */
  readonly onMap: (test: string, done: number) => void;
}

const utf8 = new TextEncoder();
/** Most slices are short: their bytes are put here, and only the hash is kept. */
const shortText = new Uint8Array(16_384);

/** Hash of a slice of the plan, by its text as JSON. */
export function hashOf(slice: unknown): string {
  const text = JSON.stringify(slice) ?? "undefined";
  if (3 * text.length > shortText.length) return sha256Hex(utf8.encode(text));
  return sha256Hex(shortText.subarray(0, utf8.encodeInto(text, shortText).written));
}

/**
 * Run one stage, or take its result from the cache. The key is the hash of the stage's name, the slice of the
 * plan it reads and the keys of the results it reads; a stage that throws leaves nothing in the cache.
 */
export async function stage<T>(
  context: StageContext,
  name: string,
  reads: readonly Staged<unknown>[],
  slice: unknown,
  work: () => T | Promise<T>,
): Promise<Staged<T>> {
  const key = hashOf([name, slice, reads.map((read) => read.key)]);
  await context.border(name);
  const cached = context.cache.get(key);
  if (cached !== undefined) return { key, value: cached as T };
  const value = await work();
  context.cache.set(key, value);
  return { key, value };
}

/** A cache that keeps the `most` results used last. */
export function createStageCache(most = 2_000): StageCache {
  const kept = new Map<string, unknown>();
  return {
    get(key) {
      const value = kept.get(key);
      if (value !== undefined) {
        kept.delete(key);
        kept.set(key, value);
      }
      return value;
    },
    set(key, value) {
      kept.set(key, value);
      for (const oldest of kept.keys()) {
        if (kept.size <= most) break;
        kept.delete(oldest);
      }
    },
  };
}
