import type { Notice } from "../errors/index.ts";
import type { MultiPolygon, Point } from "../geo/index.ts";
import type { AppliedPoint } from "./log-passes.ts";

/** Task data (ISO 11783-10) as far as rates, boundaries and logs go. */
export interface TaskData {
  readonly path: string;
  readonly version: number;
  readonly fields: readonly TaskField[];
  readonly tasks: readonly Task[];
  readonly notices: readonly Notice[];
}

export interface TaskField {
  readonly id: string;
  readonly name: string;
  readonly boundary: MultiPolygon;
  /** Straight and curved lines of guidance. */
  readonly lines: readonly (readonly Point[])[];
}

export interface Task {
  readonly id: string;
  readonly name: string;
  /** Status 1: planned; work that was done has other numbers. */
  readonly isPlanned: boolean;
  readonly field: TaskField | null;
  readonly rates: readonly TaskRates[];
  readonly logs: readonly TaskLog[];
}

/** The rates of one product in a task, by grid or by zones. */
export interface TaskRates {
  readonly product: string;
  /** Four hexadecimal digits; 0006 is mass per area, setpoint, in mg/m2. */
  readonly ddi: string;
  /** Raw values of the zones that hold by themselves; null when the task names none. */
  readonly defaultRate: number | null;
  readonly positionLost: number | null;
  readonly outOfField: number | null;
  readonly grid: TaskGrid | null;
  readonly zones: readonly TaskZone[];
}

/** Raw values by cell, row by row from the south, each from the west. */
export interface TaskGrid {
  readonly type: 1 | 2;
  readonly columns: number;
  readonly rows: number;
  /** South-west corner, longitude and latitude. */
  readonly southWest: Point;
  /** Size of a cell in degrees. */
  readonly eastDeg: number;
  readonly northDeg: number;
  readonly values: Float64Array;
}

interface TaskZone {
  readonly code: number;
  readonly name: string;
  readonly value: number;
  readonly polygons: MultiPolygon;
}

export interface TaskLog {
  readonly name: string;
  readonly points: readonly AppliedPoint[];
}
