/** To the nearest multiple of a step; halves go up. */
export const roundToStep = (value: number, step: number): number => Math.floor(value / step + 0.5) * step;
