export { type BoundaryReadings, boundaryReadings } from "./boundary-readings.ts";
export { type Bounds, boundsOf } from "./bounds.ts";
export { boundingGrid, cellAreas } from "./cell-areas.ts";
export { containsPoint } from "./contains-point.ts";
export { distanceToBoundary } from "./distance-to-boundary.ts";
export { ellipsoidArea } from "./ellipsoid-area.ts";
export { type FillRule, fillRings } from "./fill-rings.ts";
export { type Frame, fieldFrame, frameCentre } from "./frame.ts";
export {
  type Lattice,
  type LatticePiece,
  type LatticeTile,
  latticeCut,
  latticeTiles,
  STEPS_PER_METRE,
} from "./lattice-cut.ts";
export { nestRings } from "./nest-rings.ts";
export { orient } from "./orient.ts";
export { type OverlapArea, overlapAreas } from "./overlap-areas.ts";
export { type OverlapCounter, overlapCounter } from "./overlap-counter.ts";
export { multiPolygonArea, polygonArea, ringArea } from "./plane-area.ts";
export type { RingFault, RingFaultKind, VertexPlace } from "./ring-fault.ts";
export { ringFaults } from "./ring-faults.ts";
export { type FlatRing, snapFlatTiles, snapTiles } from "./snap-tiles.ts";
export { type TilingFault, tilingFaults } from "./tiling-faults.ts";
export type { Grid, MultiPolygon, Point, Polygon, Ring } from "./types.ts";
export { WRITTEN_DECIMALS, writtenPositions } from "./written-positions.ts";
