/** Rows of cells under one heading row, columns to their widest cell; columns of figures to the right. */
export function textTable(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  const isText = (column: number): boolean =>
    rows.slice(1).some((row) => /[a-z]/i.test(row[column]!) && !/^\d{4}-/.test(row[column]!));
  const text = rows[0]!.map((_, column) => isText(column));
  return rows.map((row) =>
    row
      .map((cell, column) => (text[column] ? cell.padEnd(widths[column]!) : cell.padStart(widths[column]!)))
      .join("  ")
      .trimEnd(),
  );
}
