import type { AppliedLog, AppliedPoint, Layer } from "../../formats/index.ts";
import { FT2_PER_AC } from "../../units/index.ts";

/** Figures of an as-applied log, ready for JSON: pounds are rate x width x way / 43,560. */
export function appliedFacts(
  { points, products, readUnit }: AppliedLog,
  layer: Layer | null,
): Readonly<Record<string, unknown>> {
  const byProduct = products.length > 1;
  const areaAc = (point: AppliedPoint) => (point.widthFt * point.distanceFt) / FT2_PER_AC;
  const total = (value: (point: AppliedPoint) => number) =>
    points.reduce((sum, point) => sum + value(point), 0);
  const widths = new Set(points.map(({ widthFt }) => widthFt));
  const times = points.map(({ time }) => time).filter((time) => time !== "");
  const zeros = points.filter(({ appliedLbPerAc }) => appliedLbPerAc === 0);
  const some = points.map(({ appliedLbPerAc }) => appliedLbPerAc).filter((rate) => rate > 0);
  const one = layer?.one ?? "record";
  return {
    points: points.length,
    passes: (points.at(-1)?.pass ?? -1) + 1,
    zeroPoints: zeros.length,
    zeroAt: zeros.map(({ record }) => `${one} ${record}`),
    ...(widths.size === 1 ? { widthFt: [...widths][0] } : {}),
    // Several products of one log go over the same ground.
    coveredAcres: byProduct
      ? Math.max(...products.map((product) => total((one) => (one.product === product ? areaAc(one) : 0))))
      : total(areaAc),
    appliedLb: total((point) => point.appliedLbPerAc * areaAc(point)),
    ...(points.every(({ targetLbPerAc }) => targetLbPerAc !== null)
      ? { targetLb: total((point) => point.targetLbPerAc! * areaAc(point)) }
      : {}),
    ...(byProduct
      ? {
          appliedLbOf: Object.fromEntries(
            products.map((product) => [
              product,
              total((one) => (one.product === product ? one.appliedLbPerAc * areaAc(one) : 0)),
            ]),
          ),
        }
      : {}),
    rateUnit: "lb/ac",
    ...(readUnit === "lb/ac" ? {} : { readUnit }),
    minNonZero: some.length === 0 ? null : some.reduce((least, rate) => Math.min(least, rate)),
    maxRate: some.length === 0 ? 0 : some.reduce((most, rate) => Math.max(most, rate)),
    ...(times.length === 0 ? {} : { time: [times[0], times.at(-1)] }),
    ...(products.length === 0 ? {} : { product: products.length === 1 ? products[0] : products }),
    ...(points.length === 0 ? {} : { firstVertex: points[0]!.at }),
  };
}
