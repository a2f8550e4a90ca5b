import { type Signal, signal } from "@preact/signals";
import type { PlanExclusion } from "#core";
import type { LonLat } from "../engine/protocol.ts";

/** Ground that is being drawn: taps on the plat and the bench's fields add its corners. */
export interface Drawing {
  readonly corners: readonly LonLat[];
  readonly what: string;
  readonly method: PlanExclusion["method"];
  /** As typed; never suggested. */
  readonly setbackFt: string;
  /** Its place among the plan's exclusions; null while it is new. */
  readonly place: number | null;
}

export const drawing: Signal<Drawing | null> = signal(null);

export const beginDrawing = (): void => {
  drawing.value = { corners: [], what: "", method: "both", setbackFt: "", place: null };
};

export function change(some: Partial<Drawing>): void {
  if (drawing.value) drawing.value = { ...drawing.value, ...some };
}

export function addCorner(at: LonLat): void {
  const now = drawing.value;
  if (now) change({ corners: [...now.corners, [Number(at[0].toFixed(8)), Number(at[1].toFixed(8))]] });
}

export function moveCorner(k: number, at: LonLat): void {
  const now = drawing.value;
  if (now) change({ corners: now.corners.map((corner, i) => (i === k ? at : corner)) });
}

export function dropCorner(k: number): void {
  const now = drawing.value;
  if (now) change({ corners: now.corners.filter((_, i) => i !== k) });
}
