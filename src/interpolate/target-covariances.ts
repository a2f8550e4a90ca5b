import type { Covariance } from "./covariance.ts";
import type { Support } from "./support.ts";

/**
 * Covariance between one target and the samples listed in `active[0 .. count)`, written to
 * `out[offset + stride * i]`. Target and samples in turned coordinates.
 */
export type TargetCovariances = (
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
  const { du, dv, weight } = support;
  return (targetU, targetV, active, count, out, offset, stride) => {
    for (let i = 0; i < count; i++) {
      const s = active[i]!;
      const cu = targetU - u[s]!;
      const cv = targetV - v[s]!;
      let mean = 0;
      for (let k = 0; k < 16; k++) {
        const a = cu + du[k]!;
        const b = cv + dv[k]!;
        mean += weight[k]! * at(a * a + b * b);
      }
      out[offset + stride * i] = mean;
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
          let firstPower = 0;
          let thirdPower = 0;
          for (let k = 0; k < 16; k++) {
            const a = cu + du[k]!;
            const b = cv + dv[k]!;
            const h2 = a * a + b * b;
            const h = weight[k]! * Math.sqrt(h2);
            firstPower += h;
            thirdPower += h * h2;
          }
          mean = a0[piece]! + a1[piece]! * firstPower + a3[piece]! * thirdPower;
        } else {
          for (let k = 0; k < 16; k++) {
            const a = cu + du[k]!;
            const b = cv + dv[k]!;
            mean += weight[k]! * at(a * a + b * b);
          }
        }
      }
      out[offset + stride * i] = mean;
    }
  };
}
