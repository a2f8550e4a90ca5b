import { InputError, type Notice } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import type { CoordinateSystem } from "./coordinate-system.ts";
import type { Column, CoordinateSystemFrom, One, Properties, Skipped } from "./feature.ts";

/** A shape as its file gives it: in the file's own coordinates, rings as they stand, closed or not. */
export type RawGeometry =
  | { readonly kind: "point"; readonly at: Point }
  | { readonly kind: "line"; readonly parts: readonly (readonly Point[])[] }
  | {
      readonly kind: "polygon";
      readonly polygons: readonly (readonly (readonly Point[])[])[];
      /** Whether the file says which holes belong to which outer ring; else all rings stand in one polygon. */
      readonly nested: boolean;
    };

export interface RawFeature {
  readonly record: number;
  readonly geometry: RawGeometry | null;
  readonly properties: Properties;
}

/** What the file says of its coordinate system, or why that is not known. */
export type StatedSystem =
  | { readonly system: CoordinateSystem; readonly from: CoordinateSystemFrom }
  | { readonly system: null; readonly why: string };

/** Shapes and attributes of one file before anything about them is settled. */
export interface RawLayer {
  readonly name: string;
  readonly path: string;
  readonly one: One;
  readonly features: readonly RawFeature[];
  /** Whether shapes are made from the bytes each time they are asked for, because all together they would be too many. */
  readonly isLarge?: boolean;
  readonly skipped: readonly Skipped[];
  readonly columns: readonly Column[];
  readonly stated: StatedSystem;
  readonly encoding: string;
  readonly notices: readonly Notice[];
}

/** Calls `visit` with every vertex, in the order of the file. */
export function visitRawPoints(geometry: RawGeometry, visit: (point: Point) => void): void {
  if (geometry.kind === "point") visit(geometry.at);
  else if (geometry.kind === "line") for (const part of geometry.parts) part.forEach(visit);
  else for (const polygon of geometry.polygons) for (const ring of polygon) ring.forEach(visit);
}

/** Whether a line of vertices ends where it begins. */
export function isClosed(ring: readonly Point[]): boolean {
  const [first, last] = [ring[0], ring.at(-1)];
  return first !== undefined && last !== undefined && first[0] === last[0] && first[1] === last[1];
}

export function noShapes(path: string): InputError {
  return new InputError("no-shapes", `${path}: no shapes in this file`, "Choose the file with the shapes.");
}

/** A ring without the vertex that closes it. */
export function openRing(ring: readonly Point[]): readonly Point[] {
  return isClosed(ring) ? ring.slice(0, -1) : ring;
}

/** Throws for what no answer can mend: `ring-too-short` for fewer than three places, `line-too-short` for one. */
export function checkRawShape(geometry: RawGeometry, where: string): void {
  if (geometry.kind === "line") {
    for (const part of geometry.parts) {
      if (part.length >= 2) continue;
      const message = `${where}: a line has ${part.length} positions; it needs 2`;
      throw new InputError("line-too-short", message, "Draw the line again.");
    }
  }
  if (geometry.kind !== "polygon") return;
  for (const ring of geometry.polygons.flat()) {
    if (ring.length >= (isClosed(ring) ? 4 : 3)) continue;
    throw new InputError(
      "ring-too-short",
      `${where}: a ring has ${ring.length} positions; it needs 4, the first and last the same`,
      "Draw the polygon again.",
    );
  }
}
