import { FT_MPH_MINUTES_PER_AC } from "../../capacity/index.ts";
import { saltPercent } from "../../products/index.ts";
import { type SaltInput, saltCap } from "../../split/index.ts";
import type { Plan, PlanBin, PlanField } from "../document/document-types.ts";
import type { FieldProducts } from "../document/field-products.ts";
import { rigWidthFt } from "./rig-width.ts";

/** lb product/ac that a meter can lay at the plan's speed. */
export interface MeterLimits {
  readonly leastLbPerAc: number;
  readonly mostLbPerAc: number;
}

/** What the meter of a bin can do at the plan's speed; no limit where the plan does not tell. */
export function meterLimits(plan: Plan, bin: PlanBin): MeterLimits {
  const mph = plan.rig.work?.mph;
  if (mph === undefined) return { leastLbPerAc: 0, mostLbPerAc: Number.POSITIVE_INFINITY };
  const minutesPerAc = FT_MPH_MINUTES_PER_AC / (rigWidthFt(plan) * mph);
  const { meterMinLbPerMin: least = 0, meterMaxLbPerMin: most = Number.POSITIVE_INFINITY } = bin;
  return { leastLbPerAc: least * minutesPerAc, mostLbPerAc: most * minutesPerAc };
}

/** What the ladder of distance is asked with, apart from the pounds. */
export function saltTerms(
  plan: Plan,
  field: PlanField,
  cecMeq: ArrayLike<number> | undefined,
): Omit<SaltInput, "saltLbPerAc" | "products"> {
  const { seed = {} } = plan;
  const starter = seed.starterLbPerAc;
  return {
    crop: field.crop.toLowerCase().includes("soybean") ? "soybean" : field.crop,
    rowSpacingIn: plan.rig.rowSpacingIn,
    ...(seed.distanceIn === undefined ? {} : { separationIn: seed.distanceIn }),
    ...(seed.bandDepthIn === undefined ? {} : { bandDepthIn: seed.bandDepthIn }),
    ...(seed.texture === undefined ? {} : { texture: seed.texture }),
    ...(cecMeq === undefined ? {} : { cecMeq }),
    ...(seed.sandyBelowCecMeq === undefined ? {} : { sandyBelowCecMeq: seed.sandyBelowCecMeq }),
    ...(starter === undefined
      ? {}
      : { starterLbPerAc: (starter.N ?? 0) + (starter.K2O ?? 0) + (starter.S ?? 0) }),
    ...(seed.starterSharesPlace === undefined ? {} : { starterSharesPlace: seed.starterSharesPlace }),
    ...(seed.calcareous === undefined ? {} : { calcareous: seed.calcareous }),
    ...(seed.boronLbPerAc === undefined ? {} : { boronLbPerAc: seed.boronLbPerAc }),
    ...(seed.acknowledged === undefined
      ? {}
      : { acknowledgedBy: seed.acknowledged.by, acknowledgedOn: seed.acknowledged.date }),
    ...(seed.thresholds === undefined ? {} : { thresholds: seed.thresholds }),
  };
}

/** Caps of N + K2O + S on sandy and on other soil; null where nothing is cut. */
export interface SaltCaps {
  readonly sandyLbPerAc: number;
  readonly otherLbPerAc: number;
  isSandy(cell: number): boolean;
}

/** The limits that the strip is cut to: only where the plan says anything of the seed, and unless it says not to cut. */
export function saltCaps(plan: Plan, field: PlanField, cecMeq: Float64Array | undefined): SaltCaps | null {
  if (plan.seed === undefined || plan.seed.cutToLimit === false) return null;
  const terms = saltTerms(plan, field, cecMeq);
  const [sandy, other] = [saltCap(terms, true), saltCap(terms, false)];
  if (sandy === null || other === null) return null;
  const { texture, sandyBelowCecMeq } = plan.seed;
  return {
    sandyLbPerAc: sandy,
    otherLbPerAc: other,
    isSandy: (cell) => {
      if (texture !== undefined) return texture === "sandy";
      const cec = cecMeq?.[cell];
      if (sandyBelowCecMeq === undefined || cec === undefined || Number.isNaN(cec)) return true;
      return cec < sandyBelowCecMeq;
    },
  };
}

/** N + K2O + S in a lb of product. */
export const saltIn = ({ grade }: FieldProducts["bins"][number]["product"]): number =>
  saltPercent(grade) / 100;

/** What the strip may take of each product in each cell, and what each limit took off the full rates. */
interface StripRoom {
  readonly room: readonly Float64Array[];
  /** lb product/ac in cell order, all products together. */
  readonly bySalt: Float64Array;
  readonly byMeter: Float64Array;
  readonly byGround: Float64Array;
}

/**
 * Full rates within ground the strip is kept off, the meters, and the limits near the seed. Flat rates count first, then
 * products in their order: what is listed later leaves the strip first.
 */
export function stripRoom(
  plan: Plan,
  laid: FieldProducts,
  full: readonly Float64Array[],
  stripExcluded: Float64Array,
  caps: SaltCaps | null,
): StripRoom {
  const cells = stripExcluded.length;
  const [bySalt, byMeter, byGround] = [1, 2, 3].map(() => new Float64Array(cells)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const left = caps === null ? null : new Float64Array(cells);
  if (left)
    for (let i = 0; i < cells; i++) left[i] = caps!.isSandy(i) ? caps!.sandyLbPerAc : caps!.otherLbPerAc;
  const room = full.map(() => new Float64Array(cells));
  const flatFirst = laid.bins
    .map((_, b) => b)
    .sort((a, b) => Number(isFlat(laid, b)) - Number(isFlat(laid, a)));
  for (const b of flatFirst) {
    const { bin, product } = laid.bins[b]!;
    const { mostLbPerAc } = meterLimits(plan, bin);
    const salt = saltIn(product);
    const [rates, own] = [full[b]!, room[b]!];
    for (let i = 0; i < cells; i++) {
      const onGround = rates[i]! * (1 - stripExcluded[i]!);
      const metered = Math.min(onGround, mostLbPerAc);
      const kept = left && salt > 0 ? Math.min(metered, left[i]! / salt) : metered;
      own[i] = kept;
      if (Number.isNaN(rates[i]!)) continue;
      byGround[i] = byGround[i]! + rates[i]! - onGround;
      byMeter[i] = byMeter[i]! + onGround - metered;
      bySalt[i] = bySalt[i]! + metered - kept;
      if (left) left[i] = Math.max(0, left[i]! - kept * salt);
    }
  }
  return { room, bySalt, byMeter, byGround };
}

const isFlat = (laid: FieldProducts, b: number): boolean => laid.bins[b]!.bin.flatLbPerAc !== undefined;
