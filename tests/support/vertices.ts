import type { OptimumInput } from "../../src/split/index.ts";

/** Solves a square system by elimination; null when it is singular. */
function solveSquare(rows: number[][]): number[] | null {
  const n = rows.length;
  const a = rows.map((row) => [...row]);
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(a[r]![c]!) > Math.abs(a[best]![c]!)) best = r;
    if (Math.abs(a[best]![c]!) < 1e-9) return null;
    [a[c], a[best]] = [a[best]!, a[c]!];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const factor = a[r]![c]! / a[c]![c]!;
      for (let k = c; k <= n; k++) a[r]![k] = a[r]![k]! - factor * a[c]![k]!;
    }
  }
  return a.map((row, i) => row[n]! / row[i]!);
}

/**
 * Least cost of one class by trying every strip rate at a corner of the strip's limits and of the needs. The rest of each
 * need is brought at its least cost by broadcast, itself tried corner by corner. Nothing is taken from the code under test.
 */
export function leastCost(input: OptimumInput): number {
  const { products, classes, shortagePricePerLb: short = 0 } = input;
  const only = classes[0]!;
  const n = products.length;
  const share = (p: number, key: "n" | "p2o5" | "k2o" | "s"): number => (products[p]!.grade[key] ?? 0) / 100;
  const need = { p2o5: only.needLbPerAc.p2o5 ?? 0, k2o: only.needLbPerAc.k2o ?? 0 };
  const floor = only.floorLbPerAc?.p2o5 ?? 0;
  // Cheapest pound of a nutrient by broadcast; the products here bring one of the two needed nutrients each.
  const cheapest = (key: "p2o5" | "k2o"): number =>
    Math.min(
      short,
      ...products.map((product, p) => (share(p, key) > 0 ? product.pricePerLb / share(p, key) : short)),
    );
  const cost = (x: readonly number[]): number => {
    const placed = (key: "p2o5" | "k2o"): number => x.reduce((all, rate, p) => all + rate * share(p, key), 0);
    const product = x.reduce((all, rate, p) => all + rate * products[p]!.pricePerLb, 0);
    const rest = (["p2o5", "k2o"] as const).reduce(
      (all, key) =>
        all +
        Math.max(0, need[key] - placed(key)) * cheapest(key) -
        placed(key) * (only.valuePerLb?.[key] ?? 0),
      0,
    );
    return product + rest + (Math.max(0, floor - placed("p2o5")) * short) / 2;
  };
  // Half-spaces a.x <= b of the strip rates; the kinks of the cost (needs, floor) are corners too.
  const planes: number[][] = [];
  const limits: number[][] = [];
  const limit = (row: number[]): void => {
    planes.push(row);
    limits.push(row);
  };
  for (let p = 0; p < n; p++) {
    limit([...products.map((_, q) => (q === p ? -1 : 0)), 0]);
    const most = Math.max(
      ...(["p2o5", "k2o"] as const).map((key) =>
        share(p, key) > 0 ? Math.max(need[key], key === "p2o5" ? floor : 0) / share(p, key) : 0,
      ),
    );
    limit([...products.map((_, q) => (q === p ? 1 : 0)), most]);
  }
  limit([...products.map((_, p) => share(p, "n") + share(p, "k2o") + share(p, "s")), only.saltCapLbPerAc!]);
  limit([...products.map(() => 1), Math.min(input.meterMostLbPerAc!, input.meanStripLbPerAcMost!)]);
  planes.push([...products.map((_, p) => share(p, "p2o5")), need.p2o5]);
  planes.push([...products.map((_, p) => share(p, "p2o5")), floor]);
  planes.push([...products.map((_, p) => share(p, "k2o")), need.k2o]);
  let best = Number.POSITIVE_INFINITY;
  const choose = (from: number, chosen: number[][]): void => {
    if (chosen.length === n) {
      const x = solveSquare(chosen);
      if (x === null) return;
      const inside = limits.every(
        (row) => row.slice(0, n).reduce((all, a, p) => all + a * x[p]!, 0) <= row[n]! + 1e-7,
      );
      if (inside) best = Math.min(best, cost(x));
      return;
    }
    for (let i = from; i < planes.length; i++) choose(i + 1, [...chosen, planes[i]!]);
  };
  choose(0, []);
  return best * only.areaAc;
}
