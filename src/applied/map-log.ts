import { requireNumber } from "../capacity/index.ts";
import { containsPoint, distance, type Point, type Polygon } from "../geo/index.ts";
import { guidanceFrame } from "../strips/index.ts";
import type { LogPiece } from "./log-types.ts";
import { pointsInRectangle } from "./points-in-rectangle.ts";
import { type CoverCounts, coverCounts, type MappedLog, shareLog } from "./share-log.ts";

/** A segment of the strip map (`stripSegments`) the log is laid on. */
interface LoggedSegment {
  readonly pass: number;
  readonly column: number;
  /** In the field's plane, metres. */
  readonly polygon: Polygon;
  readonly areaM2: number;
}

interface MapLogInput {
  readonly pieces: readonly LogPiece[];
  readonly segments: readonly LoggedSegment[];
  /** Guidance line, implement width and segment length the segments were made with. */
  readonly line: readonly [Point, Point];
  readonly widthM: number;
  readonly segmentM: number;
}

/** Test points across a swath, and about how far apart they stand along it, metres. */
const ACROSS = 10;
const ALONG_M = 1;

/**
 * The log mapped onto segments by swath: every piece covers a rectangle, its pounds are shared by the test points in it (about
 * 1 m by a tenth of the width), each of which belongs to one segment or to none. No pound is lost. Skips and overlaps are
 * shares of test points, good to about a point's area at the edges. Throws `number-not-usable`.
 */
export function mapLog(input: MapLogInput): MappedLog {
  const { pieces, segments, line, segmentM } = input;
  const widthM = requireNumber("widthM", input.widthM, { above: 0 });
  const rows = Math.max(1, Math.ceil(requireNumber("segmentM", segmentM, { above: 0 }) / ALONG_M));
  const stepAlong = segmentM / rows;
  const stepAcross = widthM / ACROSS;
  const { toGuidance: toLine, toPlane } = guidanceFrame(line);
  const lattice = new TestPoints(segments, rows);
  const middleOf = (i: number, j: number): Point => [
    (i + 0.5) * stepAcross - widthM / 2,
    (j + 0.5) * stepAlong,
  ];
  segments.forEach((segment, s) => {
    // A whole cell of the lattice needs no test; only what the boundary cuts does.
    const whole = Math.abs(segment.areaM2 - widthM * segmentM) < 1e-6 * segment.areaM2;
    for (let a = 0; a < ACROSS; a++) {
      for (let r = 0; r < rows; r++) {
        const [i, j] = [segment.pass * ACROSS + a, segment.column * rows + r];
        if (whole || containsPoint([segment.polygon], toPlane(middleOf(i, j)))) lattice.claim(i, j, s);
      }
    }
  });
  const grid = { corner: [-widthM / 2, 0], stepM: [stepAcross, stepAlong] } as const;
  const cover = (piece: LogPiece): { lengthM: number; owners: number[] } => {
    const [start, end] = [toLine(piece.start), toLine(piece.end)];
    const covered = pointsInRectangle({ start, end, widthM: piece.widthM }, grid);
    return { lengthM: distance(start, end), owners: covered.map(([i, j]) => lattice.cover(i, j)) };
  };
  return shareLog(pieces, segments, cover, (s) => lattice.countsOf(s));
}

/** Which segment each test point belongs to and how often it was covered. */
class TestPoints {
  readonly #firstI: number;
  readonly #firstJ: number;
  readonly #columns: number;
  readonly #owner: Int32Array;
  readonly #times: Uint8Array;
  readonly #points: readonly number[][];

  constructor(segments: readonly LoggedSegment[], rows: number) {
    const range = (values: readonly number[]): [number, number] =>
      values.reduce(
        ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
        [Infinity, -Infinity],
      );
    const [firstPass, lastPass] =
      segments.length === 0 ? [0, 0] : range(segments.map((segment) => segment.pass));
    const [firstColumn, lastColumn] =
      segments.length === 0 ? [0, 0] : range(segments.map((segment) => segment.column));
    this.#firstI = firstPass * ACROSS;
    this.#firstJ = firstColumn * rows;
    this.#columns = (lastColumn - firstColumn + 1) * rows;
    const size = (lastPass - firstPass + 1) * ACROSS * this.#columns;
    this.#owner = new Int32Array(size).fill(-1);
    this.#times = new Uint8Array(size);
    this.#points = segments.map(() => []);
  }

  #place(i: number, j: number): number {
    const [row, column] = [i - this.#firstI, j - this.#firstJ];
    if (row < 0 || column < 0 || column >= this.#columns) return -1;
    const place = row * this.#columns + column;
    return place < this.#owner.length ? place : -1;
  }

  claim(i: number, j: number, segment: number): void {
    const place = this.#place(i, j);
    if (this.#owner[place] !== -1) return;
    this.#owner[place] = segment;
    this.#points[segment]!.push(place);
  }

  /** The segment at a test point that is covered once more; -1 outside. */
  cover(i: number, j: number): number {
    const place = this.#place(i, j);
    if (place < 0) return -1;
    this.#times[place] = Math.min(255, this.#times[place]! + 1);
    return this.#owner[place]!;
  }

  countsOf(segment: number): CoverCounts {
    return coverCounts(this.#points[segment]!, this.#times);
  }
}
