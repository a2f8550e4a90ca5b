/** Rows of a rig, a planter or a section at the most. */
export const MOST_ROWS = 96;

/** Whether a rig can have so many rows: a whole number from 1 to `MOST_ROWS`. */
export const isNumberOfRows = (value: number): boolean =>
  Number.isInteger(value) && value >= 1 && value <= MOST_ROWS;

/** Inches between rows at the least; ours: below that a field is cut into more passes than any rig drives. */
export const LEAST_ROW_SPACING_IN = 4;

/** Feet of a spreader's cell, across and along, at the least; ours: no spreader changes its rate in less. */
export const LEAST_SPREADER_CELL_FT = 5;
