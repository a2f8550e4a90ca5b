import { InputError, type Notice } from "../../errors/index.ts";
import {
  cellAreas,
  cellCentre,
  containsPoint,
  distanceToBoundary,
  innerPoint,
  type MultiPolygon,
} from "../../geo/index.ts";
import { TESTS } from "../../soil/index.ts";
import { acres, counted } from "../../units/index.ts";
import type { PlanNeedFrom, TestName } from "../document/document-need-types.ts";
import type { PlanField } from "../document/document-types.ts";
import type { CheckedField, FieldGrid, SoilMap, SoilMaps } from "../results/result-types.ts";
import { fieldZones, zonesById } from "../sources/field-zones.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { zoneMeans } from "./zone-means.ts";

interface Zone {
  readonly id: string;
  readonly ground: MultiPolygon;
  readonly tests: Readonly<Record<TestName, number | null>>;
  /** Samples that lie in it, and how many of them have each test. */
  readonly samples: number;
  readonly counts: Readonly<Record<TestName, number>>;
}

/** Share of the field that may lie in no zone and take the nearest one's tests. */
const GAP_SHARE = 0.01;

/**
 * Tests constant in each zone, from its composite sample, or the mean of several with a notice; nothing is kriged. A cell takes the tests of the zone that
 * holds most of its ground; slivers in no zone take the nearest zone's, with a notice. Throws `zones-leave-gaps`,
 * `zone-without-test`, and what `fieldZones` throws.
 */
export function mapZones(
  field: PlanField,
  from: Extract<PlanNeedFrom, { kind: "zones" }>,
  checked: CheckedField,
  cells: FieldGrid,
  inputs: Inputs,
): SoilMaps {
  const { source, idColumn } = from;
  const polygons = fieldZones(
    source,
    inputs.file(source).layers,
    idColumn,
    checked.boundary,
    checked.frame.toPlane,
  );
  const zones = [...zonesById(source, idColumn, polygons)].map(([id, ground]) => ({
    id,
    ground,
    ...testsIn(ground, checked),
  }));
  const bare = zones.filter((zone) => zone.tests.P === null || zone.tests.K === null).map((zone) => zone.id);
  if (bare.length > 0) {
    throw new InputError(
      "zone-without-test",
      `${field.name}: no P and K test for zone ${bare.join(", ")} of ${source}.`,
      `Give each zone a row in the lab table, its sample number the zone's id (column ${idColumn}).`,
    );
  }
  const { zoneOf, notices } = zoneOfCells(field, source, zones, cells);
  const maps: Partial<Record<TestName, SoilMap>> = {};
  for (const test of TESTS) {
    if (zones.some((zone) => zone.tests[test] !== null)) maps[test] = zoneMap(test, zones, zoneOf);
  }
  const counts = zones.map(({ samples }) => samples);
  return { maps, notices: [...notices, ...zoneMeans(field, source, counts)] };
}

/** Mean of the samples that lie in the zone, test by test. */
function testsIn(ground: MultiPolygon, checked: CheckedField): Pick<Zone, "tests" | "samples" | "counts"> {
  const inside = checked.samples.filter((_, i) => containsPoint(ground, checked.places[i]!));
  const valuesOf = (test: TestName) => inside.map((sample) => sample[test]).filter((value) => value !== null);
  const mean = (test: TestName): number | null => {
    const values = valuesOf(test);
    return values.length === 0 ? null : values.reduce((total, value) => total + value, 0) / values.length;
  };
  const count = (test: TestName) => valuesOf(test).length;
  return {
    tests: { P: mean("P"), K: mean("K"), CEC: mean("CEC") },
    samples: inside.length,
    counts: { P: count("P"), K: count("K"), CEC: count("CEC") },
  };
}

function zoneOfCells(
  field: PlanField,
  source: string,
  zones: readonly Zone[],
  cells: FieldGrid,
): { zoneOf: Int32Array; notices: Notice[] } {
  const zoneOf = new Int32Array(cells.areaM2.length).fill(-1);
  const most = new Float64Array(cells.areaM2.length);
  const covered = new Float64Array(cells.areaM2.length);
  zones.forEach((zone, k) => {
    cellAreas(zone.ground, cells.grid).forEach((areaM2, cell) => {
      covered[cell]! += areaM2;
      if (areaM2 > most[cell]!) [most[cell], zoneOf[cell]] = [areaM2, k];
    });
  });
  let [gapM2, twiceM2, fieldM2] = [0, 0, 0];
  cells.areaM2.forEach((areaM2, cell) => {
    if (!(areaM2 > 0)) {
      zoneOf[cell] = -1;
      return;
    }
    fieldM2 += areaM2;
    gapM2 += Math.max(0, areaM2 - covered[cell]!);
    twiceM2 += Math.max(0, covered[cell]! - areaM2);
    if (zoneOf[cell] === -1) zoneOf[cell] = nearestZone(zones, cells, cell);
  });
  if (gapM2 > GAP_SHARE * fieldM2) {
    throw new InputError(
      "zones-leave-gaps",
      `${field.name}: ${acres(gapM2).toFixed(1)} of ${acres(fieldM2).toFixed(1)} ac lie in no zone of ${source}.`,
      "Draw zones that cover the field.",
    );
  }
  const notices: Notice[] = [];
  const say = (code: string, message: string) =>
    notices.push({ code, message: `${field.name}: ${message}`, where: field.id });
  if (acres(gapM2) > 0.05) {
    say(
      "zones-leave-slivers",
      `${acres(gapM2).toFixed(1)} ac lie in no zone of ${source} and take the nearest zone's tests`,
    );
  }
  if (acres(twiceM2) > 0.05) {
    say(
      "zones-overlap",
      `${acres(twiceM2).toFixed(1)} ac lie in several zones of ${source}; each cell takes the one with most of it`,
    );
  }
  return { zoneOf, notices };
}

function nearestZone(zones: readonly Zone[], { grid }: FieldGrid, cell: number): number {
  const distances = zones.map((zone) => distanceToBoundary(zone.ground, cellCentre(grid, cell)));
  return distances.indexOf(Math.min(...distances));
}

function zoneMap(test: TestName, zones: readonly Zone[], zoneOf: Int32Array): SoilMap {
  const known = zones.filter((zone) => zone.tests[test] !== null);
  return {
    estimate: Float64Array.from(zoneOf, (k) => (k < 0 ? Number.NaN : (zones[k]!.tests[test] ?? Number.NaN))),
    variance: new Float64Array(0),
    method: known.every(({ counts }) => counts[test] === 1)
      ? "composite by zone"
      : `mean of the samples in each of ${counted(known.length, "zone")}`,
    samples: known.reduce((total, { counts }) => total + counts[test], 0),
    mean: known.reduce((total, zone) => total + zone.tests[test]!, 0) / known.length,
    decisions: [],
    table: null,
    model: null,
    averaged: null,
    taken: known.map((zone) => ({
      id: zone.id,
      at: innerPoint(zone.ground)!,
      value: zone.tests[test]!,
      cecMeq: zone.tests.CEC,
    })),
    noPattern: false,
    leaveOneOut: null,
  };
}
