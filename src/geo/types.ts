/** A place: east and north in metres of the field's frame, or longitude and latitude in degrees; the name of
 * the variable says which. */
export type Point = readonly [x: number, y: number];
/** Vertices in order, the first not repeated at the end; at least three. */
export type Ring = readonly Point[];
/** The outer ring first, counter-clockwise (land on the left), then the holes, clockwise. */
export type Polygon = readonly Ring[];
/** Polygons that do not overlap, such as the parts of a field. */
export type MultiPolygon = readonly Polygon[];

/** A lattice of square cells, edges on multiples of `cellM` in the field's frame.
 * Arrays over it are Float64Array, row-major, south row first, west cell first; NaN means no value. */
export interface Grid {
  readonly nx: number;
  readonly ny: number;
  /** Column of the west-most cell: it spans `ix0 * cellM` to `(ix0 + 1) * cellM` east. */
  readonly ix0: number;
  /** Row of the south-most cell. */
  readonly iy0: number;
  readonly cellM: number;
}
