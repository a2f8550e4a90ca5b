import type { Covariance } from "./covariance.ts";
import type { Support } from "./support.ts";

/**
 * Covariance between one target and the samples listed in `active[0 .. count)`, written to
 * `out[offset + stride * i]`. Target and samples in turned coordinates.
 */
type TargetCovariances = (
  targetU: number,
  targetV: number,
  active: Int32Array,
  count: number,
  out: Float64Array,
  offset: number,
  stride: number,
) => void;

export function targetCovariances(
  covariance: Covariance,
  support: Support,
  u: Float64Array,
  v: Float64Array,
): TargetCovariances {
  if (!support.block) return toPoint(covariance, u, v);
  return covariance.pieces === undefined
    ? toBlock(covariance, support, u, v)
    : toBlockCubic(covariance, support, u, v);
}

function toPoint({ at, total }: Covariance, u: Float64Array, v: Float64Array): TargetCovariances {
  return (targetU, targetV, active, count, out, offset, stride) => {
    for (let i = 0; i < count; i++) {
      const s = active[i]!;
      const du = targetU - u[s]!;
      const dv = targetV - v[s]!;
      const h2 = du * du + dv * dv;
      out[offset + stride * i] = h2 === 0 ? total : at(h2);
    }
  };
}

function toBlock({ at }: Covariance, support: Support, u: Float64Array, v: Float64Array): TargetCovariances {
  return (targetU, targetV, active, count, out, offset, stride) => {
    for (let i = 0; i < count; i++) {
      const s = active[i]!;
      const cu = targetU - u[s]!;
      const cv = targetV - v[s]!;
      out[offset + stride * i] = meanOver(at, cu, cv, support);
    }
  };
}

/** Nested spherical: nothing past the reach, and one cubic wherever the whole block lies between two ranges. */
function toBlockCubic(
  covariance: Covariance,
  support: Support,
  u: Float64Array,
  v: Float64Array,
): TargetCovariances {
  const { at } = covariance;
  const { end, a0, a1, a3 } = covariance.pieces!;
  const { du, dv, weight, radius } = support;
  const reach = covariance.reachM + radius;
  return (targetU, targetV, active, count, out, offset, stride) => {
    for (let i = 0; i < count; i++) {
      const s = active[i]!;
      const cu = targetU - u[s]!;
      const cv = targetV - v[s]!;
      const centre = Math.sqrt(cu * cu + cv * cv);
      let mean = 0;
      if (centre < reach) {
        let piece = 0;
        while (piece < end.length && centre - radius >= end[piece]!) piece++;
        if (piece < end.length && centre + radius < end[piece]!) {
          let firstEven = 0;
          let firstOdd = 0;
          let thirdEven = 0;
          let thirdOdd = 0;
          for (let k = 0; k < 16; k += 2) {
            const a = cu + du[k]!;
            const b = cv + dv[k]!;
            const h2 = a * a + b * b;
            const h = weight[k]! * Math.sqrt(h2);
            firstEven += h;
            thirdEven += h * h2;
            const p = cu + du[k + 1]!;
            const q = cv + dv[k + 1]!;
            const g2 = p * p + q * q;
            const g = weight[k + 1]! * Math.sqrt(g2);
            firstOdd += g;
            thirdOdd += g * g2;
          }
          mean = a0[piece]! + a1[piece]! * (firstEven + firstOdd) + a3[piece]! * (thirdEven + thirdOdd);
        } else {
          mean = meanOver(at, cu, cv, support);
        }
      }
      out[offset + stride * i] = mean;
    }
  };
}

/** Even and odd points are summed apart, as WebAssembly does with its pairs. */
function meanOver(
  at: (squaredDistance: number) => number,
  cu: number,
  cv: number,
  { du, dv, weight }: Support,
): number {
  let even = 0;
  let odd = 0;
  for (let k = 0; k < 16; k += 2) {
    const a = cu + du[k]!;
    const b = cv + dv[k]!;
    even += weight[k]! * at(a * a + b * b);
    const p = cu + du[k + 1]!;
    const q = cv + dv[k + 1]!;
    odd += weight[k + 1]! * at(p * p + q * q);
  }
  return even + odd;
}
