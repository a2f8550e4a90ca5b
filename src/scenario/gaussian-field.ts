import type { Random } from "./random.ts";

/** Correlation at distance h: `exponential` exp(-h/a), `gaussian` exp(-(h/a)^2), where a is `scaleM`. */
export interface Correlation {
  readonly type: "exponential" | "gaussian";
  readonly scaleM: number;
}

/** Value at a place in the plane, m. */
export type Surface = (x: number, y: number) => number;

const WAVES = 320;

/**
 * A Gaussian random field of mean 0 and variance 1, as a sum of cosine waves: wave numbers drawn from the
 * spectral density of the correlation (Bochner), directions and phases uniform; one draw in each of 320 equal
 * slices of the wave numbers' distribution, so that one field keeps to its correlation better than free draws.
 * Radial distributions in the plane: exponential F(k) = 1 - 1/sqrt(1 + (a k)^2); gaussian
 * F(k) = 1 - exp(-(a k)^2 / 4).
 */
export function gaussianField(random: Random, correlation: Correlation): Surface {
  const kx = new Float64Array(WAVES);
  const ky = new Float64Array(WAVES);
  const phase = new Float64Array(WAVES);
  for (let i = 0; i < WAVES; i++) {
    const left = 1 - (i + random.uniform()) / WAVES;
    const k = waveNumber(correlation, left);
    const angle = random.between(0, 2 * Math.PI);
    kx[i] = k * Math.cos(angle);
    ky[i] = k * Math.sin(angle);
    phase[i] = random.between(0, 2 * Math.PI);
  }
  const amplitude = Math.sqrt(2 / WAVES);
  return (x, y) => {
    let sum = 0;
    for (let i = 0; i < WAVES; i++) sum += Math.cos(kx[i]! * x + ky[i]! * y + phase[i]!);
    return amplitude * sum;
  };
}

/** The wave number that a share `left` of the spectrum lies beyond. */
function waveNumber({ type, scaleM }: Correlation, left: number): number {
  if (type === "exponential") return Math.sqrt(1 / (left * left) - 1) / scaleM;
  return (2 / scaleM) * Math.sqrt(-Math.log(left));
}
