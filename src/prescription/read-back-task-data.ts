import { readTaskData, type TaskGrid, type TaskRates } from "../formats/index.ts";
import { ellipsoidArea, latticeTiles, type MultiPolygon, tilingFaults } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { KG_PER_LB, MG_PER_M2_PER_LB_PER_AC } from "../units/index.ts";
import type { Extra, ExtraGround } from "./extra.ts";
import type { Prescription } from "./prescription.ts";
import { EDGE_DEG, type Outline } from "./read-back.ts";
import { taskDataToleranceLb } from "./task-data-extra.ts";

/** Raw steps that a cell may be off the mean of what lies in it: half a step, and what two ways of adding differ by. */
const CELL_RAW = 0.5 + 0.02;

/** Parts of a cell that rounding alone can make; up to a hundred times as much may count as ground or not. */
const CRUMB = 1e-8;

/**
 * One task read by the reader of task data, which shares no code with the writer, and worked out again another way: the
 * pieces are cut by the lines of the grid and every cell must hold the mean of its own. So a grid from the north,
 * from the east or column by column is found as soon as its rates or its outline are not symmetrical. Zones are
 * held by their polygons. Pounds to half a mg/m2 on every acre.
 */
export function taskDataFaults(
  extra: Extra,
  maps: readonly Prescription[],
  ground: ExtraGround,
  outline: Outline,
): string[] {
  const read = readTaskData(extra.files, maps[0]!.stem);
  const faults: string[] = [];
  const [task, another] = read.tasks;
  if (task === undefined || another !== undefined) return [`${read.tasks.length} tasks`];
  if (read.version !== (extra.form === "taskdata-4" ? 4 : 3)) faults.push(`version ${read.version}`);
  if (!task.isPlanned) faults.push("the task is not planned");
  if (task.field === null) return [...faults, "the task has no field"];
  const fieldM2 = ellipsoidArea(task.field.boundary);
  const meantM2 = ellipsoidArea(outline.boundaryLonLat);
  if (Math.abs(fieldM2 - meantM2) > 2e-6 * meantM2) faults.push(`a field of ${fieldM2.toFixed(0)} m2`);
  maps.forEach((map, k) => {
    const rates = task.rates.filter((one) => one.product === map.product);
    if (rates.length !== 1) {
      faults.push(`${rates.length} rates of ${map.product}`);
      return;
    }
    faults.push(...ratesFaults(rates[0]!, map, ground, outline, extra.totalLb[k]!));
  });
  const hasZero = task.rates.some(
    ({ defaultRate, positionLost, outOfField, grid, zones }) =>
      grid !== null ||
      [defaultRate, positionLost, outOfField].includes(0) ||
      zones.some(({ value }) => value === 0),
  );
  if (hasZero !== extra.sendsZero) faults.push(`a rate 0 is ${hasZero ? "" : "not "}in it`);
  if (task.rates.length !== maps.length) faults.push(`rates of ${task.rates.length} products`);
  return faults;
}

function ratesFaults(
  rates: TaskRates,
  map: Prescription,
  ground: ExtraGround,
  outline: Outline,
  statedLb: number,
): string[] {
  const faults: string[] = [];
  if (rates.ddi !== "0006") faults.push(`${map.product}: DDI ${rates.ddi}`);
  if (rates.defaultRate === null || rates.positionLost === null || rates.outOfField === null) {
    faults.push(`${map.product}: default, position-lost or out-of-field zone missing`);
  }
  const toleranceLb = taskDataToleranceLb(ellipsoidArea(outline.boundaryLonLat));
  let lb: number;
  if (rates.grid !== null) {
    const checked = gridFaults(rates.grid, map, ground);
    faults.push(...checked.faults);
    lb = checked.lb;
  } else {
    lb = sum(rates.zones.map((zone) => ellipsoidArea(zone.polygons) * zone.value)) / 1e6 / KG_PER_LB;
    faults.push(...zoneFaults(rates, outline.boundaryLonLat));
  }
  const isOff = (meantLb: number, most: number) => Math.abs(lb - meantLb) > most;
  if (isOff(map.totalLb, toleranceLb) || isOff(statedLb, 1e-5 * Math.max(statedLb, 1))) {
    faults.push(`${map.product}: ${lb.toFixed(2)} lb, ${map.totalLb.toFixed(2)} lb were meant`);
  }
  return faults;
}

function zoneFaults({ zones }: TaskRates, boundary: MultiPolygon): string[] {
  const tiles = zones.flatMap((zone) => zone.polygons.map((polygon) => [polygon]));
  return tilingFaults(tiles, boundary, EDGE_DEG)
    .slice(0, 3)
    .map(({ kind, place }) => `gap or overlap (${kind}) of zones at ${place.join(", ")}`);
}

/** Cell by cell; the pounds on the part of the field that lies in each. */
function gridFaults(
  grid: TaskGrid,
  map: Prescription,
  ground: ExtraGround,
): { readonly faults: string[]; readonly lb: number } {
  const { columns, rows, values } = grid;
  const [west, south] = grid.southWest;
  const share = new Float64Array(columns * rows);
  const weighted = new Float64Array(columns * rows);
  let outside = 0;
  ground.polygons.forEach((polygon, k) => {
    // A lattice one wide and one long; its passes have their lines at halves.
    const inCells = polygon.map((ring) =>
      ring.map(([lon, lat]) => [(lon - west) / grid.eastDeg - 0.5, (lat - south) / grid.northDeg] as const),
    );
    for (const tile of latticeTiles([inCells], { widthM: 1, lengthM: 1 })) {
      const area = tile.rings.reduce((all, ring) => all + flatArea(ring), 0);
      if (tile.pass < 0 || tile.pass >= columns || tile.column < 0 || tile.column >= rows) {
        outside += Math.abs(area);
        continue;
      }
      const cell = tile.column * columns + tile.pass;
      share[cell]! += area;
      weighted[cell]! += area * map.rateLbPerAc[k]!;
    }
  });
  const faults: string[] = [];
  if (outside > 1e-6) faults.push(`${outside.toFixed(3)} cells of the field lie outside the grid`);
  let wrong = 0;
  let mg = 0;
  let first = "";
  for (let row = 0; row < rows; row++) {
    const [low, high] = [south + row * grid.northDeg, south + (row + 1) * grid.northDeg];
    const east = west + grid.eastDeg;
    const cellM2 = ellipsoidArea([
      [
        [
          [west, low],
          [east, low],
          [east, high],
          [west, high],
        ],
      ],
    ]);
    for (let column = 0; column < columns; column++) {
      const cell = row * columns + column;
      const part = share[cell]!;
      mg += values[cell]! * part * cellM2;
      const meant = part > CRUMB ? (weighted[cell]! / part) * MG_PER_M2_PER_LB_PER_AC : 0;
      const fits =
        part > 100 * CRUMB ? Math.abs(values[cell]! - meant) <= CELL_RAW : part > CRUMB || values[cell] === 0;
      if (fits) continue;
      wrong++;
      if (first === "")
        first = `row ${row + 1}, column ${column + 1} has ${values[cell]}, not ${meant.toFixed(1)}`;
    }
  }
  if (wrong > 0) faults.push(`${map.product}: ${wrong} cells of the grid hold another rate; ${first}`);
  return { faults, lb: mg / 1e6 / KG_PER_LB };
}

function flatArea(ring: readonly number[]): number {
  const [x0, y0] = [ring[0]!, ring[1]!];
  let twice = 0;
  for (let i = 2; i + 3 < ring.length; i += 2) {
    twice += (ring[i]! - x0) * (ring[i + 3]! - y0) - (ring[i + 2]! - x0) * (ring[i + 1]! - y0);
  }
  return twice / 2;
}
