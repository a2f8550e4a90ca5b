import type { Task, TaskGrid, TaskRates } from "../../formats/index.ts";
import { boxArea, ellipsoidArea } from "../../geo/index.ts";
import { acres, MG_PER_M2_PER_LB_PER_AC } from "../../units/index.ts";

const lbPerAc = (raw: number): number => raw / MG_PER_M2_PER_LB_PER_AC;

/** Figures of a planned task by mass per area, ready for JSON. */
export function taskFacts(taken: {
  task: Task;
  rates: TaskRates;
  version: number;
}): Readonly<Record<string, unknown>> {
  const { task, rates, version } = taken;
  const special = (raw: number | null) => (raw === null ? null : lbPerAc(raw));
  const boundary = task.field?.boundary ?? [];
  return {
    version,
    task: task.name,
    field: task.field?.name ?? null,
    ...(boundary.length === 0 ? {} : { fieldAcres: [acres(ellipsoidArea(boundary))] }),
    product: rates.product,
    ddi: rates.ddi,
    fileUnit: "mg/m2",
    unit: "lb/ac",
    specialZones: {
      default: special(rates.defaultRate),
      positionLost: special(rates.positionLost),
      outOfField: special(rates.outOfField),
    },
    crs: "OGC:CRS84",
    crsFrom: "standard",
    ...(rates.grid === null ? zoneFacts(rates) : gridFacts(rates.grid)),
  };
}

function gridFacts(grid: TaskGrid): Readonly<Record<string, unknown>> {
  const cellsPerRate = new Map<string, number>();
  let totalLb = 0;
  let treatedAcres = 0;
  for (let row = 0; row < grid.rows; row++) {
    const cellAcres = acresOfCell(grid, row);
    for (let column = 0; column < grid.columns; column++) {
      const rate = lbPerAc(grid.values[row * grid.columns + column]!);
      const shown = rate === 0 ? "0" : rate.toFixed(2);
      cellsPerRate.set(shown, (cellsPerRate.get(shown) ?? 0) + 1);
      totalLb += rate * cellAcres;
      if (rate !== 0) treatedAcres += cellAcres;
    }
  }
  const { type, columns, rows, southWest } = grid;
  const counts = Object.fromEntries(cellsPerRate);
  return {
    grid: { type, columns, rows, cells: columns * rows, southWest, cellsPerRate: counts },
    totalLb,
    treatedAcres,
  };
}

/** Acres of each cell of a row; cells of a row are alike. */
function acresOfCell({ southWest: [west, south], eastDeg, northDeg }: TaskGrid, row: number): number {
  const bottom = south + row * northDeg;
  return acres(boxArea([west, bottom], [west + eastDeg, bottom + northDeg]));
}

function zoneFacts({ zones }: TaskRates): Readonly<Record<string, unknown>> {
  const areas = zones.map(({ polygons }) => acres(ellipsoidArea(polygons)));
  const values = zones.map(({ value }) => lbPerAc(value));
  const first = zones[0]?.polygons[0]?.[0]?.[0];
  return {
    features: zones.length,
    parts: zones.reduce((sum, { polygons }) => sum + polygons.length, 0),
    holes: zones.reduce(
      (sum, { polygons }) => sum + polygons.reduce((all, rings) => all + rings.length - 1, 0),
      0,
    ),
    acres: areas,
    ...(first === undefined ? {} : { firstVertex: first }),
    rates: { unit: "lb/ac", values },
    totalLb: areas.reduce((sum, area, index) => sum + area * values[index]!, 0),
    texts: { zone: zones.map(({ name }) => name) },
  };
}
