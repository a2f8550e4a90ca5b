/** What arithmetic leaves of a half that is one: 43.49999999999999 is 43.5. */
const NOISE = 1e-9;

/** To the nearest multiple of a step; halves go up. */
export const roundToStep = (value: number, step: number): number =>
  Math.floor(value / step + 0.5 + NOISE) * step;
