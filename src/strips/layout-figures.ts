import type { Point } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { passLines } from "./pass-lines.ts";
import type { LaidStrips } from "./strip-layout.ts";

/** What a layout comes to. Pieces of the interior under 1 m2 are not counted. */
interface LayoutFigures {
  readonly passes: number;
  /** Least and greatest number of a pass; undefined when there is none. */
  readonly firstPass: number | undefined;
  readonly lastPass: number | undefined;
  /** Connected stretches of passes. */
  readonly runs: number;
  /** Cells of pass and column, also where several pieces lie in one. */
  readonly segments: number;
  /** Those of full width and length. */
  readonly wholeSegments: number;
  /** Length of the middles of passes inside the interior, m. */
  readonly centrelineM: number;
  /** The same for every row; along curves interior area over row spacing. */
  readonly rowLengthM: number;
  /** Turns between runs, and the way along the passes from the end of one to the start of the next, m. */
  readonly turnM: number;
  readonly moveM: number;
}

interface RowLayout {
  readonly guidance: readonly Point[];
  readonly rows: number;
  readonly rowSpacingM: number;
  readonly segmentM: number;
}

/** Anything smaller is a touch, square metres. */
export const COUNTS_M2 = 1;

export const layoutFigures = (
  { segments, runs, interior, interiorM2 }: Pick<LaidStrips, "segments" | "runs" | "interior" | "interiorM2">,
  { guidance, rows, rowSpacingM, segmentM }: RowLayout,
): LayoutFigures => {
  const widthM = rows * rowSpacingM;
  const inside = segments.filter(({ kind }) => kind === "interior");
  const passM2 = new Map<number, number>();
  const cellM2 = new Map<string, number>();
  for (const { pass, column, areaM2 } of inside) {
    passM2.set(pass, (passM2.get(pass) ?? 0) + areaM2);
    const cell = `${pass},${column}`;
    cellM2.set(cell, (cellM2.get(cell) ?? 0) + areaM2);
  }
  const passes = [...passM2.keys()].filter((pass) => passM2.get(pass)! > COUNTS_M2).sort((a, b) => a - b);
  const cells = [...cellM2.values()].filter((areaM2) => areaM2 > COUNTS_M2);
  const wholeM2 = widthM * segmentM * (1 - 1e-6);
  const lengthOf = (spacingM: number, numbers: readonly number[]): number =>
    sum(passLines(interior, guidance, spacingM, numbers).map(({ lengthM }) => lengthM));
  // Rows lie on half spacings when there is an even number of them: on odd multiples of half a spacing.
  const halves = passes.flatMap((pass) =>
    Array.from({ length: rows }, (_, row) => 2 * pass * rows + 2 * row - (rows - 1)),
  );
  return {
    passes: passes.length,
    firstPass: passes[0],
    lastPass: passes[passes.length - 1],
    runs: runs.filter(({ kind, areaM2 }) => kind === "interior" && areaM2 > COUNTS_M2).length,
    segments: cells.length,
    wholeSegments: cells.filter((areaM2) => areaM2 >= wholeM2).length,
    centrelineM: lengthOf(widthM, passes),
    rowLengthM: guidance.length === 2 ? lengthOf(rowSpacingM / 2, halves) : interiorM2 / rowSpacingM,
    turnM: sum(runs.map(({ turnM }) => turnM)),
    moveM: sum(runs.map(({ moveM }) => moveM)),
  };
};
