/**
 * Up to so many samples the variance is taken from all of them. Beyond, the inverse grows past what a page should hold
 * (2,500 samples: two arrays of 50 MB), and the variance comes from the nearest few, which is right to about 1 %.
 */
export const WHOLE_SYSTEM_SAMPLES = 2500;
/** How many of the nearest give the variance beyond that. */
export const VARIANCE_NEAREST = 32;
