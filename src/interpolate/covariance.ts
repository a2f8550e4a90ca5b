import { besselKScaled, chebyshevTable, gamma } from "../numeric/index.ts";
import type { Structure, VariogramModel } from "./types.ts";

/**
 * A nested spherical covariance is one cubic a0 + a1 h + a3 h^3 between successive ranges; piece j holds up to
 * `end[j]`, and past the last end it is 0. Six structures so cost one square root.
 */
export interface CubicPieces {
  readonly end: Float64Array;
  readonly a0: Float64Array;
  readonly a1: Float64Array;
  readonly a3: Float64Array;
}

/** A variogram model made ready for speed. Distances are taken after (x, y) -> (ux x + uy y, vx x + vy y). */
export interface Covariance {
  readonly nugget: number;
  /** Nugget and structures: the covariance at distance 0. */
  readonly total: number;
  /** From this distance on the covariance is exactly 0; Infinity for a model with a tail. */
  readonly reachM: number;
  readonly ux: number;
  readonly uy: number;
  readonly vx: number;
  readonly vy: number;
  /** Covariance of the structures alone, without the nugget, at a squared distance. */
  readonly at: (squaredDistance: number) => number;
  /** Present when every structure is spherical. */
  readonly pieces: CubicPieces | undefined;
}

/** The model must have passed `checkModel`. Structures with no sill are dropped. */
export function compileCovariance(model: VariogramModel): Covariance {
  const structures = model.structures.filter((s) => s.partialSill > 0);
  const { angleDeg, ratio } = model.anisotropy ?? { angleDeg: 0, ratio: 1 };
  const angle = (angleDeg * Math.PI) / 180;
  const turned = model.anisotropy !== undefined && ratio !== 1;
  const pieces = structures.every((s) => s.type === "spherical") ? cubicPieces(structures) : undefined;
  let total = model.nugget;
  for (const s of structures) total += s.partialSill;
  return {
    nugget: model.nugget,
    total,
    reachM: pieces === undefined ? Number.POSITIVE_INFINITY : (pieces.end.at(-1) ?? 0),
    ux: turned ? Math.sin(angle) : 1,
    uy: turned ? Math.cos(angle) : 0,
    vx: turned ? Math.cos(angle) / ratio : 0,
    vy: turned ? -Math.sin(angle) / ratio : 1,
    at: pieces === undefined ? sumOf(structures.map(structureAt)) : (h2) => cubicAt(pieces, h2),
    pieces,
  };
}

function cubicPieces(structures: readonly Structure[]): CubicPieces {
  const end = Float64Array.from(new Set(structures.map((s) => s.range))).sort();
  const a0 = new Float64Array(end.length);
  const a1 = new Float64Array(end.length);
  const a3 = new Float64Array(end.length);
  for (let j = 0; j < end.length; j++) {
    for (const { range, partialSill } of structures) {
      if (range < end[j]!) continue;
      a0[j]! += partialSill;
      a1[j]! -= (1.5 * partialSill) / range;
      a3[j]! += (0.5 * partialSill) / range ** 3;
    }
  }
  return { end, a0, a1, a3 };
}

function cubicAt({ end, a0, a1, a3 }: CubicPieces, h2: number): number {
  const h = Math.sqrt(h2);
  for (let j = 0; j < end.length; j++) if (h < end[j]!) return a0[j]! + h * (a1[j]! + a3[j]! * h2);
  return 0;
}

function sumOf(parts: readonly ((h2: number) => number)[]): (h2: number) => number {
  if (parts.length === 1) return parts[0]!;
  return (h2) => {
    let total = 0;
    for (const part of parts) total += part(h2);
    return total;
  };
}

function structureAt({ type, partialSill: sill, range, kappa }: Structure): (h2: number) => number {
  const perRange = 1 / range;
  switch (type) {
    case "spherical": {
      const pieces = cubicPieces([{ type, partialSill: sill, range }]);
      return (h2) => cubicAt(pieces, h2);
    }
    case "exponential":
      return (h2) => sill * Math.exp(-Math.sqrt(h2) * perRange);
    case "gaussian":
      return (h2) => sill * Math.exp(-h2 * perRange * perRange);
    case "matern": {
      const k = kappa!;
      if (k === 0.5) return (h2) => sill * Math.exp(-Math.sqrt(h2) * perRange);
      if (k === 1.5) {
        return (h2) => {
          const u = Math.sqrt(h2) * perRange;
          return sill * (1 + u) * Math.exp(-u);
        };
      }
      const factor = 2 ** (1 - k) / gamma(k);
      const correlation = chebyshevTable((u) => {
        if (u < 1e-14) return 1;
        return u > 1000 ? 0 : factor * u ** k * besselKScaled(k, u) * Math.exp(-u);
      });
      return (h2) => sill * correlation(Math.sqrt(h2) * perRange);
    }
  }
}
