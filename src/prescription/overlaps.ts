import { type Grid, overlapCounter, type Polygon } from "../geo/index.ts";

/** Which cells each piece lies on: the entries of piece k are `start[k]` to `start[k + 1]`. */
export interface Overlaps {
  readonly start: Int32Array;
  readonly cell: Int32Array;
  /** Square metres of the piece in the cell. */
  readonly areaM2: Float64Array;
}

/**
 * Lay pieces of ground over the field's cells; cells without ground (`cellAreaM2` 0) are passed over. Depends
 * on shapes alone, so it outlives a change of rates.
 */
export function layOver(
  pieces: readonly { readonly polygon: Polygon }[],
  grid: Grid,
  cellAreaM2: Float64Array,
): Overlaps {
  const count = overlapCounter(grid);
  const start = new Int32Array(pieces.length + 1);
  const cells: number[] = [];
  const areas: number[] = [];
  pieces.forEach((piece, k) => {
    count(piece.polygon, (cell, areaM2) => {
      if (areaM2 > 0 && cellAreaM2[cell]! > 0) {
        cells.push(cell);
        areas.push(areaM2);
      }
    });
    start[k + 1] = cells.length;
  });
  return { start, cell: Int32Array.from(cells), areaM2: Float64Array.from(areas) };
}

/** Area-weighted mean of a cell value over each piece; 0 for a piece on no cell. */
export function meanOver(overlaps: Overlaps, value: Float64Array): Float64Array<ArrayBuffer> {
  const pieces = overlaps.start.length - 1;
  const mean = new Float64Array(pieces);
  for (let k = 0; k < pieces; k++) {
    let weighted = 0;
    let areaM2 = 0;
    for (let i = overlaps.start[k]!; i < overlaps.start[k + 1]!; i++) {
      weighted += value[overlaps.cell[i]!]! * overlaps.areaM2[i]!;
      areaM2 += overlaps.areaM2[i]!;
    }
    mean[k] = areaM2 > 0 ? weighted / areaM2 : 0;
  }
  return mean;
}

/** Give what stands on each piece to its cells by their share of the piece; the sum is kept. */
export function spreadToCells(
  overlaps: Overlaps,
  amount: Float64Array,
  cells: number,
): Float64Array<ArrayBuffer> {
  const onCell = new Float64Array(cells);
  for (let k = 0; k < amount.length; k++) {
    let areaM2 = 0;
    for (let i = overlaps.start[k]!; i < overlaps.start[k + 1]!; i++) areaM2 += overlaps.areaM2[i]!;
    for (let i = overlaps.start[k]!; i < overlaps.start[k + 1]!; i++) {
      onCell[overlaps.cell[i]!]! += (amount[k]! * overlaps.areaM2[i]!) / areaM2;
    }
  }
  return onCell;
}

/** Gather what stands on cells onto the pieces by each piece's share of the cell; `left` is on no piece. */
export function gatherFromCells(
  overlaps: Overlaps,
  onCell: Float64Array,
): { onPiece: Float64Array<ArrayBuffer>; left: number } {
  const covered = new Float64Array(onCell.length);
  for (let i = 0; i < overlaps.cell.length; i++) covered[overlaps.cell[i]!]! += overlaps.areaM2[i]!;
  const pieces = overlaps.start.length - 1;
  const onPiece = new Float64Array(pieces);
  for (let k = 0; k < pieces; k++) {
    for (let i = overlaps.start[k]!; i < overlaps.start[k + 1]!; i++) {
      const cell = overlaps.cell[i]!;
      onPiece[k]! += (onCell[cell]! * overlaps.areaM2[i]!) / covered[cell]!;
    }
  }
  let left = 0;
  for (let cell = 0; cell < covered.length; cell++) if (covered[cell] === 0) left += onCell[cell]!;
  return { onPiece, left };
}
