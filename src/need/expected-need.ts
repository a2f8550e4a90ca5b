/**
 * What a cell needs when its test is not a number but a distribution. The predictive distribution of a cell's
 * mean is taken as normal around the mapped value, cut off below zero (a test cannot be negative).
 */
interface Predictive {
  readonly mean: Float64Array;
  readonly variance: Float64Array;
}

/** Equal shares of the distribution that the need is read at. */
const SHARES = 64;

/**
 * Mean of the need over each cell's predictive distribution, by reading `rate` at the middles of 64 equal shares
 * of it. NaN where the mean is NaN; the need of the mean itself where there is no variance.
 */
export function expectedNeed(
  { mean, variance }: Predictive,
  rate: (test: number, cell: number) => number,
): Float64Array<ArrayBuffer> {
  return overShares({ mean, variance }, rate, (needs) => {
    let sum = 0;
    for (let i = 0; i < SHARES; i++) sum += needs[i]!;
    return sum / SHARES;
  });
}

/**
 * The `share` quantile of each cell's need: with a missing pound costing cu and an excess one co, the best single
 * rate is the one at share cu / (cu + co) (the newsvendor rule; common practice in operations research).
 */
export function needQuantile(
  { mean, variance }: Predictive,
  rate: (test: number, cell: number) => number,
  share: number,
): Float64Array<ArrayBuffer> {
  const at = Math.min(SHARES - 1, Math.max(0, Math.ceil(share * SHARES) - 1));
  return overShares({ mean, variance }, rate, (needs) => needs.sort()[at]!);
}

function overShares(
  { mean, variance }: Predictive,
  rate: (test: number, cell: number) => number,
  of: (needs: Float64Array) => number,
): Float64Array<ArrayBuffer> {
  const needs = new Float64Array(SHARES);
  const over = new Float64Array(mean.length);
  for (let cell = 0; cell < over.length; cell++) {
    const [middle, spread] = [mean[cell]!, variance[cell]!];
    if (Number.isNaN(middle)) over[cell] = Number.NaN;
    else if (spread > 0) {
      const deviation = Math.sqrt(spread);
      for (let i = 0; i < SHARES; i++)
        needs[i] = rate(Math.max(0, middle + deviation * NORMAL_MIDDLES[i]!), cell);
      over[cell] = of(needs);
    } else over[cell] = rate(middle, cell);
  }
  return over;
}

/**
 * Quantile of the standard normal distribution at `share` in (0, 1), right to 1.2e-9 relative: rational
 * approximation of P. J. Acklam, 2003 (from memory), tested against the error function.
 */
export function normalQuantile(share: number): number {
  const tail = Math.min(share, 1 - share);
  if (tail >= 0.02425) {
    const q = share - 0.5;
    const r = q * q;
    return (
      ((((((-39.69683028665376 * r + 220.9460984245205) * r - 275.9285104469687) * r + 138.357751867269) * r -
        30.66479806614716) *
        r +
        2.506628277459239) *
        q) /
      (((((-54.47609879822406 * r + 161.5858368580409) * r - 155.6989798598866) * r + 66.80131188771972) * r -
        13.28068155288572) *
        r +
        1)
    );
  }
  const q = Math.sqrt(-2 * Math.log(tail));
  const value =
    (((((-0.007784894002430293 * q - 0.3223964580411365) * q - 2.400758277161838) * q - 2.549732539343734) *
      q +
      4.374664141464968) *
      q +
      2.938163982698783) /
    ((((0.007784695709041462 * q + 0.3224671290700398) * q + 2.445134137142996) * q + 3.754408661907416) * q +
      1);
  return share < 0.5 ? value : -value;
}

/** Means of the standard normal distribution within each of the equal shares, so that their mean is exactly 0. */
const NORMAL_MIDDLES: Float64Array = (() => {
  const density = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  const limits = Array.from({ length: SHARES + 1 }, (_, i) =>
    i === 0 || i === SHARES ? 0 : density(normalQuantile(i / SHARES)),
  );
  return Float64Array.from({ length: SHARES }, (_, i) => (limits[i]! - limits[i + 1]!) * SHARES);
})();
