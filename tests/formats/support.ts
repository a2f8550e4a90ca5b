import { readFileSync } from "node:fs";
import { join } from "node:path";
import { InputError } from "../../src/errors/index.ts";
import type { Feature } from "../../src/formats/index.ts";
import type { MultiPolygon, Ring } from "../../src/geo/index.ts";

const DATA = join(import.meta.dirname, "../data/formats");

export function sample(path: string): Uint8Array {
  return new Uint8Array(readFileSync(join(DATA, path)));
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function textOf(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}

/** The InputError a call throws; fails when it throws none or another. */
export function refusal(call: () => unknown): InputError {
  try {
    call();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

export async function rejection(call: () => Promise<unknown>): Promise<InputError> {
  try {
    await call();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

export function polygonsOf(feature: Feature | undefined): MultiPolygon {
  if (feature?.geometry?.kind !== "polygon") throw new Error("not a polygon");
  return feature.geometry.polygons;
}

/** The ring begun at its lowest vertex (west-most, then south-most), direction kept: equal rings become equal. */
export function begunAtLowest(ring: Ring): Ring {
  const lowest = ring.reduce((best, point, i) => {
    const [bx, by] = ring[best]!;
    return point[0] < bx || (point[0] === bx && point[1] < by) ? i : best;
  }, 0);
  return [...ring.slice(lowest), ...ring.slice(0, lowest)];
}

export function comparable(polygons: MultiPolygon): MultiPolygon {
  return polygons.map((polygon) => polygon.map(begunAtLowest));
}

/** A copy with some bytes changed. */
export function patched(bytes: Uint8Array, at: number, ...values: number[]): Uint8Array {
  const copy = bytes.slice();
  copy.set(values, at);
  return copy;
}

/** The value with everything in it frozen, so that a call that changes its input fails. */
export function frozen<T>(value: T): T {
  if (typeof value === "object" && value !== null && !ArrayBuffer.isView(value)) {
    Object.values(value).forEach(frozen);
    Object.freeze(value);
  }
  return value;
}
