import earcut from "earcut";
import type { Point, Polygon, Ring } from "#core";
import type { StepShapes } from "./protocol.ts";

/** Gathers regions and lines, metres, into the arrays that the map draws. */
export class ShapeStack {
  private readonly corners: Point[] = [];
  private readonly rings: number[] = [];
  private readonly limits: number[] = [];
  private readonly triangles: number[] = [];

  /** Ground above a limit; what is filled later lies over it. */
  fill(polygon: Polygon, limit: number): void {
    const first = this.corners.length;
    const holes: number[] = [];
    for (const ring of polygon) {
      if (this.corners.length > first) holes.push(this.corners.length - first);
      this.add(ring, limit);
    }
    const cut = earcut(this.corners.slice(first).flat(), holes);
    for (const corner of cut) this.triangles.push(first + corner);
  }

  /** A closed line that bounds no region. */
  line(ring: Ring): void {
    this.add(ring, -1);
  }

  shapes(toLonLat: (plane: Point) => Point): StepShapes {
    return {
      places: Float64Array.from(this.corners.flatMap(toLonLat)),
      rings: Uint32Array.from([...this.rings, this.corners.length]),
      limits: Int16Array.from(this.limits),
      triangles: Uint32Array.from(this.triangles),
    };
  }

  private add(ring: Ring, limit: number): void {
    this.rings.push(this.corners.length);
    this.limits.push(limit);
    for (const corner of ring) this.corners.push(corner);
  }
}
