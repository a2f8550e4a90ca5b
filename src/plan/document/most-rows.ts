/** Rows of a rig, a planter or a section at the most. */
export const MOST_ROWS = 96;

/** Whether a rig can have so many rows: a whole number from 1 to `MOST_ROWS`. */
export const isNumberOfRows = (value: number): boolean =>
  Number.isInteger(value) && value >= 1 && value <= MOST_ROWS;
