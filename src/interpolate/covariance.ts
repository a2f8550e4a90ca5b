import { besselKScaled, gamma } from "../numeric/index.ts";
import { type CovarianceTable, covarianceTable, tableAt } from "./covariance-table.ts";
import type { Structure, VariogramModel } from "./types.ts";

/**
 * A nested spherical covariance is one cubic a0 + a1 h + a3 h^3 between successive ranges; piece j holds up to
 * `end[j]`, and past the last end it is 0. Six structures so cost one square root.
 */
interface CubicPieces {
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
  /** Present when no structure is. */
  readonly table: CovarianceTable | undefined;
}

/** The model must have passed `checkModel`. Structures with no sill are dropped. */
export function compileCovariance(model: VariogramModel): Covariance {
  const structures = model.structures.filter((s) => s.partialSill > 0);
  const { angleDeg, ratio } = model.anisotropy ?? { angleDeg: 0, ratio: 1 };
  const angle = (angleDeg * Math.PI) / 180;
  const turned = model.anisotropy !== undefined && ratio !== 1;
  const spherical = structures.filter((s) => s.type === "spherical");
  const smooth = structures.filter((s) => s.type !== "spherical");
  const cubic = cubicPieces(spherical);
  const table = smooth.length === 0 ? undefined : covarianceTable(sumOf(smooth), smooth);
  let total = model.nugget;
  for (const s of structures) total += s.partialSill;
  return {
    nugget: model.nugget,
    total,
    reachM: table === undefined ? (cubic.end.at(-1) ?? 0) : Number.POSITIVE_INFINITY,
    ux: turned ? Math.sin(angle) : 1,
    uy: turned ? Math.cos(angle) : 0,
    vx: turned ? Math.cos(angle) / ratio : 0,
    vy: turned ? -Math.sin(angle) / ratio : 1,
    at: squaredAt(cubic, spherical.length, table),
    pieces: table === undefined ? cubic : undefined,
    table: spherical.length === 0 ? table : undefined,
  };
}

function squaredAt(
  cubic: CubicPieces,
  spherical: number,
  table: CovarianceTable | undefined,
): (squaredDistance: number) => number {
  if (table === undefined) return (h2) => cubicAt(cubic, h2);
  if (spherical === 0) return (h2) => tableAt(table, Math.sqrt(h2));
  return (h2) => cubicAt(cubic, h2) + tableAt(table, Math.sqrt(h2));
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

/** Covariance of the structures at a distance, each by its own formula: for a few distances, where a table does not pay. */
export function covarianceByFormula({ structures }: VariogramModel, h: number): number {
  return sumOf(structures.filter((s) => s.partialSill > 0))(h);
}

function sumOf(structures: readonly Structure[]): (h: number) => number {
  const parts = structures.map(structureAt);
  return (h) => parts.reduce((total, part) => total + part(h), 0);
}

function structureAt({ type, partialSill: sill, range, kappa }: Structure): (h: number) => number {
  if (type === "spherical") {
    return (h) => (h < range ? sill * (1 - (1.5 * h) / range + 0.5 * (h / range) ** 3) : 0);
  }
  if (type === "exponential") return (h) => sill * Math.exp(-h / range);
  if (type === "gaussian") return (h) => sill * Math.exp(-((h / range) ** 2));
  const k = kappa!;
  if (k === 0.5) return (h) => sill * Math.exp(-h / range);
  if (k === 1.5) return (h) => sill * (1 + h / range) * Math.exp(-h / range);
  const factor = 2 ** (1 - k) / gamma(k);
  return (h) => {
    const u = h / range;
    if (u < 1e-14) return sill;
    return u > 1000 ? 0 : sill * factor * u ** k * besselKScaled(k, u) * Math.exp(-u);
  };
}
