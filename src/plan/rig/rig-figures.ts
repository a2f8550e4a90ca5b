import {
  type BinSize,
  type DefaultStatus,
  operationsDefault,
  type RigWork,
  type Tenders,
} from "../../capacity/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import { productById } from "../../products/index.ts";
import type { Plan, PlanBin } from "../document/document-types.ts";
import { type FieldProducts, ownProducts, partsOf } from "../document/field-products.ts";
import { orderShares } from "./order-shares.ts";
import { rigWidthFt } from "./rig-width.ts";

/** A hopper as the calculations take it. */
export interface RigBin extends BinSize {
  readonly id: string;
  readonly product: string;
  readonly meterMinLbPerMin?: number;
  readonly meterMaxLbPerMin?: number;
}

/** A figure the plan does not give, taken from elsewhere; `unconfirmed` where no source was found. */
export interface AssumedFigure {
  /** Where to type one's own: `rig.work.mph`. */
  readonly key: string;
  readonly value: number;
  readonly unit: string;
  readonly status: DefaultStatus;
  readonly source: string;
}

/** The plan's rig, hoppers and tenders with units of the calculations, defaults filled in and told. */
export interface RigFigures {
  readonly work: RigWork;
  readonly bins: readonly RigBin[];
  /** Most lb all hoppers may hold together; null without a limit. */
  readonly carriesLb: number | null;
  readonly movableWall: boolean;
  /** Null: product always at hand. */
  readonly tenders: Tenders | null;
  readonly reachedAt: "both-ends" | "one-end" | null;
  readonly reserveShare: number;
  /** lb that go through the bins for a lb of the maps: ground covered twice, and what the meter lays beyond its setting. */
  readonly throughBins: number;
  readonly assumed: readonly AssumedFigure[];
}

/** A bin whose density nothing tells: none was weighed, and none is published of these products in it. What is weighed is what the bin holds. */
export interface BinWithoutDensity {
  readonly bin: string;
  /** Where to type it: `rig.bins[0].lbPerFt3`. */
  readonly key: string;
  readonly products: readonly string[];
  /** The blend that the bin holds, where the products are parts of one. */
  readonly blend?: string;
}

/** Bins whose product, or a part of its blend, has to be weighed before anything is known of fills and days. */
export function binsWithoutDensity(plan: Plan): BinWithoutDensity[] {
  const own = ownProducts(plan);
  return plan.rig.bins.flatMap(({ id, product, lbPerFt3 }, i) => {
    if (lbPerFt3 !== undefined) return [];
    const parts = partsOf(plan, product);
    const products = parts.filter((part) => productById(part, own).bulkLbPerFt3 === undefined);
    const blend = parts.includes(product) ? {} : { blend: product };
    return products.length === 0 ? [] : [{ bin: id, key: `rig.bins[${i}].lbPerFt3`, products, ...blend }];
  });
}

/** Speed and volumes without which nothing about fills and days can be said, as far as the plan lacks them. */
const missingSizes = ({ rig }: Plan): string[] => [
  ...(rig.work === undefined ? ["rig.work.mph"] : []),
  ...rig.bins.flatMap((bin, i) =>
    bin.volumeFt3 === undefined ? [`rig.bins[${i}].volumeFt3 (bin ${bin.id})`] : [],
  ),
];

/** Keys without which nothing about fills and days can be said, as far as the plan lacks them. */
export const missingRigKeys = (plan: Plan): string[] => [
  ...missingSizes(plan),
  ...binsWithoutDensity(plan).map(({ key, bin }) => `${key} (bin ${bin})`),
];

/** What to weigh, and why: the product, or the blend as it lies in the bin, for a part of it. */
const weighedOf = ({ products, blend }: BinWithoutDensity): string => {
  const of = products.join(" and ");
  return blend === undefined
    ? `${of}, of which no density is published`
    : `the blend ${blend} as the bin holds it, no density of ${of} in it is published`;
};

/** Densities that alone keep the figures of a told rig back; maps do not need them. */
export function densityNotices(plan: Plan): Notice[] {
  if (missingSizes(plan).length > 0) return [];
  return binsWithoutDensity(plan).map(({ bin, key, products, blend }) => ({
    code: "density-not-told",
    message: `bin ${bin}: ${blend === undefined ? "" : `it holds the blend ${blend}, and `}no density of ${products.join(" and ")} is published: give ${key} as weighed${blend === undefined ? "" : ` of the blend, not of ${products.length === 1 ? "this part" : "these parts"}`}, and acres a fill and a day, stops and season are worked out; maps and order do not wait for it`,
    where: key,
  }));
}

/** The rig of a plan; a blend's density is the mean of its parts where `laid` tells what is in the bins. Throws `rig-not-told` naming the keys that are missing. */
export function rigFigures(plan: Plan, laid?: FieldProducts): RigFigures {
  const { rig, tender } = plan;
  const missing = missingRigKeys(plan);
  if (missing.length > 0) {
    const toWeigh = [...new Set(binsWithoutDensity(plan).map(weighedOf))];
    throw new InputError(
      "rig-not-told",
      `the plan does not tell ${missing.join(", ")}`,
      toWeigh.length === 0
        ? "Type them in plan.json; everything else has a default that is shown."
        : `Weigh a known volume of ${toWeigh.join(", and of ")}; type what is missing in plan.json, everything else has a default that is shown.`,
    );
  }
  const assumed: AssumedFigure[] = [];
  const orDefault = (typed: number | undefined, key: string, name: string, per = 1): number => {
    if (typed !== undefined) return typed;
    const { value, unit, status, source } = operationsDefault(name);
    assumed.push({ key, value: value * per, unit: DEFAULT_UNITS[name] ?? unit, status, source });
    return value * per;
  };
  const work = rig.work!;
  const bins = rig.bins.map((bin, i): RigBin => {
    const key = `rig.bins[${i}]`;
    const { id, product, mostLb, meterMinLbPerMin, meterMaxLbPerMin } = bin;
    return {
      id,
      product,
      binFt3: bin.volumeFt3!,
      lbPerFt3: bin.lbPerFt3 ?? density(plan, bin, `${key}.lbPerFt3`, assumed, laid),
      residualLb: orDefault(bin.residualLb, `${key}.residualLb`, "residualLb"),
      fillFactor: orDefault(bin.filledShare, `${key}.filledShare`, "fillFactor"),
      ...(mostLb === undefined ? {} : { weightLimitLb: mostLb }),
      ...(meterMinLbPerMin === undefined ? {} : { meterMinLbPerMin }),
      ...(meterMaxLbPerMin === undefined ? {} : { meterMaxLbPerMin }),
    };
  });
  const figures = {
    work: {
      widthFt: rigWidthFt(plan),
      mph: work.mph,
      turnEfficiency: orDefault(work.turnEfficiency, "rig.work.turnEfficiency", "turnEfficiency"),
      fixedHoursPerStop:
        orDefault(work.minutesPerStop, "rig.work.minutesPerStop", "fixedHoursPerStop", 60) / 60,
      transferLbPerHour:
        60 * orDefault(work.fillLbPerMin, "rig.work.fillLbPerMin", "transferLbPerHour", 1 / 60),
      hoursPerDay: orDefault(work.hoursPerDay, "rig.work.hoursPerDay", "hoursPerDay"),
    },
    tenders:
      tender === undefined
        ? null
        : {
            count: tender.count,
            lb: tender.lb,
            tripHours: orDefault(tender.tripMin, "tender.tripMin", "tripHours", 60) / 60,
          },
    reserveShare: orDefault(work.reserveShare, "rig.work.reserveShare", "reserveShare"),
  };
  const { overlapShare, isOverlapAssumed } = orderShares(plan);
  if (isOverlapAssumed) assumed.push({ ...operationsDefault("overlapShare"), key: "order.overlapShare" });
  return {
    ...figures,
    bins,
    carriesLb: rig.carriesLb ?? null,
    movableWall: rig.movableWall ?? false,
    reachedAt: tender?.reachedAt ?? null,
    throughBins: (1 + overlapShare) * (plan.fills?.meterFactor ?? 1),
    assumed,
  };
}

/** Units of defaults that the plan takes in another unit. */
const DEFAULT_UNITS: Readonly<Record<string, string>> = {
  fixedHoursPerStop: "min",
  transferLbPerHour: "lb/min",
  tripHours: "min",
};

function density(
  plan: Plan,
  bin: PlanBin,
  key: string,
  assumed: AssumedFigure[],
  laid: FieldProducts | undefined,
): number {
  const own = ownProducts(plan);
  const blend = laid?.bins.find((one) => one.bin.id === bin.id)?.blend;
  const parts =
    blend?.parts ?? partsOf(plan, bin.product).map((id) => ({ product: productById(id, own), share: 1 }));
  const shares = parts.reduce((sum, part) => sum + part.share, 0);
  const [low, high] = (["low", "high"] as const).map((end) =>
    parts.reduce((sum, { product, share }) => {
      return sum + (product.bulkLbPerFt3![end] * share) / shares;
    }, 0),
  ) as [number, number];
  const sources = [...new Set(parts.map(({ product }) => product.bulkLbPerFt3!.source))].join("; ");
  const of = parts.length > 1 ? "for its parts " : "";
  assumed.push({
    key,
    value: (low + high) / 2,
    unit: "lb/ft3",
    status: "unconfirmed",
    source: `${Number(low.toPrecision(3))} to ${Number(high.toPrecision(3))} published ${of}(${sources}); the middle taken: weigh a known volume`,
  });
  return (low + high) / 2;
}
