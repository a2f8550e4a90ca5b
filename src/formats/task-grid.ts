import { InputError } from "../errors/index.ts";
import { isLonLat } from "../geo/index.ts";
import type { XmlElement } from "./read-xml.ts";
import type { TaskGrid } from "./task-data-types.ts";

const MOST_CELLS = 20_000_000;

/**
 * The cells of a grid, from the south-west, row by row (ISO 11783-10 grid files; three open implementations agree).
 * Type 1 holds zone codes, looked up in `valueOfCode`; type 2 holds for each cell one 32-bit value for each of `perCell`
 * process variables, of which number `which` is taken. Counts are checked against the bytes before anything is made.
 * Throws `task-grid-damaged`, `task-zone-missing`.
 */
export function readTaskGrid(
  grid: XmlElement,
  bytes: Uint8Array,
  path: string,
  perCell: number,
  which: number,
  valueOfCode: (code: number) => number | undefined,
): TaskGrid {
  const number = (key: string): number => Number(grid.attributes.get(key) ?? Number.NaN);
  const [north, east, northDeg, eastDeg] = [number("A"), number("B"), number("C"), number("D")];
  const [columns, rows, type] = [number("E"), number("F"), number("I")];
  const isCount = (count: number) => Number.isInteger(count) && count > 0;
  if (!isCount(columns) || !isCount(rows) || columns * rows > MOST_CELLS) {
    throw damaged(path, `a grid of ${columns} by ${rows} cells`);
  }
  const isSize = (size: number) => size > 0 && size <= 1;
  const northEast = [east + columns * eastDeg, north + rows * northDeg] as const;
  if (!isSize(northDeg) || !isSize(eastDeg) || !isLonLat([east, north]) || !isLonLat(northEast)) {
    throw damaged(path, `cells of ${northDeg} by ${eastDeg} degrees from ${north}, ${east} lie nowhere`);
  }
  if (type !== 1 && type !== 2) throw damaged(path, `grid type ${grid.attributes.get("I")} is not known`);
  const size = columns * rows * (type === 1 ? 1 : 4 * perCell);
  if (bytes.length !== size || perCell < 1) {
    throw damaged(path, `${columns} by ${rows} cells need ${size} bytes, there are ${bytes.length}`);
  }
  const values = new Float64Array(columns * rows);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const byCode = type === 2 ? [] : Array.from({ length: 256 }, (_, code) => valueOfCode(code));
  for (let cell = 0; cell < values.length; cell++) {
    if (type === 2) {
      values[cell] = view.getInt32(4 * (cell * perCell + which), true);
      continue;
    }
    const value = byCode[bytes[cell]!];
    if (value === undefined) {
      const message = `${path}: cell ${cell + 1} names zone ${bytes[cell]}, which the task does not have`;
      throw new InputError("task-zone-missing", message, "Copy the task data again from where it was made.");
    }
    values[cell] = value;
  }
  return { type, columns, rows, southWest: [east, north], eastDeg, northDeg, values };
}

function damaged(path: string, what: string): InputError {
  return new InputError(
    "task-grid-damaged",
    `${path}: ${what}`,
    "Copy the task data again from where it was made.",
  );
}
