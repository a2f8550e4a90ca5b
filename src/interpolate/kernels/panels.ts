/**
 * Columns of a matrix of the kernels, n filled up to panels of four: element (row, column) stands at
 * 4 size (column >> 2) + 4 row + (column & 3).
 */
export function panelSize(n: number): number {
  return (n + 3) & ~3;
}

/** Writes the lower triangle of a row-major n x n matrix as the upper one of panels, identity where padded. */
export function toPanels(matrix: Float64Array, n: number, heap: Float64Array, to: number): void {
  const size = panelSize(n);
  for (let column = 0; column < size; column++) {
    let at = to + (column >> 2) * 4 * size + (column & 3);
    for (let row = 0; row <= column; row++, at += 4) {
      heap[at] = column < n ? matrix[column * n + row]! : row === column ? 1 : 0;
    }
  }
}

/** Back from the upper triangle of panels to a lower triangle. */
export function fromPanels(heap: Float64Array, from: number, n: number, matrix: Float64Array): void {
  const size = panelSize(n);
  for (let column = 0; column < n; column++) {
    let at = from + (column >> 2) * 4 * size + (column & 3);
    for (let row = 0; row <= column; row++, at += 4) matrix[column * n + row] = heap[at]!;
  }
}
