export { type Bands, cutIntoBands } from "./band-cut.ts";
export { type BandFace, bandFaces } from "./band-faces.ts";
export { boundaryReadings } from "./boundary-readings.ts";
export { type Bounds, boundsOf, boxesMeet } from "./bounds.ts";
export { boxArea } from "./box-area.ts";
export { boundingGrid, cellAreas } from "./cell-areas.ts";
export { chordsAt } from "./chords-at.ts";
export { clippedFaces } from "./clipped-faces.ts";
export { containsPoint, ringContains } from "./contains-point.ts";
export { distance } from "./distance.ts";
export { distanceToBoundary, distanceToLine } from "./distance-to-boundary.ts";
export { edgeNeighbours } from "./edge-neighbours.ts";
export { ellipsoidArea } from "./ellipsoid-area.ts";
export { fillRings } from "./fill-rings.ts";
export { type FlatRing, pointsOf } from "./flat-ring.ts";
export { type Frame, fieldFrame, frameCentre } from "./frame.ts";
export type { Geometry } from "./geometry.ts";
export { globeDistance, M_PER_DEG } from "./globe-distance.ts";
export { innerPoint } from "./inner-point.ts";
export { insetLand } from "./inset-land.ts";
export { isLonLat } from "./is-lon-lat.ts";
export {
  type LatticeTile,
  latticeTiles,
  latticeTilesOfRings,
  STEPS_PER_METRE,
} from "./lattice-cut.ts";
export { linesInside } from "./lines-inside.ts";
export { mapPoints } from "./map-points.ts";
export { cellCentre, middleOf } from "./middle-of.ts";
export { nestRings } from "./nest-rings.ts";
export { orient } from "./orient.ts";
export { overlapAreas } from "./overlap-areas.ts";
export { type OverlapCounter, overlapCounter } from "./overlap-counter.ts";
export { multiPolygonArea, polygonArea, ringArea } from "./plane-area.ts";
export { polygonFinder } from "./polygon-finder.ts";
export { type Repair, repairBoundary } from "./repair-boundary.ts";
export { repairLonLat } from "./repair-lon-lat.ts";
export type { RingFault, VertexPlace } from "./ring-fault.ts";
export { ringFaults } from "./ring-faults.ts";
export { commonArea, joinedArea, setbackArea } from "./setback-area.ts";
export { snapFlatTiles, snapTiles } from "./snap-tiles.ts";
export { tilingFaults } from "./tiling-faults.ts";
export type { Grid, MultiPolygon, Point, Polygon, Ring } from "./types.ts";
export { unionOfTiles } from "./union-of-tiles.ts";
export { weldTiles } from "./weld-tiles.ts";
export { WRITTEN_DECIMALS, writtenPositions } from "./written-positions.ts";
