import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, test } from "vitest";
import { readCsv } from "../../src/formats/index.ts";
import {
  blendSaltIndex,
  micronutrientAlong,
  noNutrients,
  nutrientAlong,
  ownProduct,
  type Product,
  productById,
  productRates,
  products,
  saltPercent,
} from "../../src/products/index.ts";

// Sources stand in each row of tests/data/agronomy/check-values.csv.
const table = readCsv(
  readFileSync(resolve(import.meta.dirname, "../data/agronomy/check-values.csv")),
  "check-values.csv",
);
const rows = table.rows.map(
  (row) =>
    Object.fromEntries(table.headings.map((heading, i) => [heading, row.cells[i]!])) as Record<
      string,
      string
    >,
);
const ids: Record<string, string> = {
  urea: "46-0-0",
  "urea granular": "46-0-0",
  MAP: "11-52-0",
  DAP: "18-46-0",
  TSP: "0-46-0",
  "TSP (monocalcium phosphate)": "0-46-0",
  KCl: "0-0-60",
  "KCl granular": "0-0-60",
  K2SO4: "0-0-50-17S",
  SPM: "0-0-22-22S",
  AMS: "21-0-0-24S",
  "AMS granular": "21-0-0-24S",
  "ammonium nitrate": "34-0-0",
  "ammonium nitrate prill": "34-0-0",
};

describe("figures of products (read or second-hand)", () => {
  const single = rows.filter(
    (row) => ["bulk-density", "crh", "salt-index"].includes(row.guide!) && !row.nutrient!.includes("+"),
  );
  test("there are 32 of them", () => expect(single.length).toBe(32));
  test.each(
    single.map((row) => [`${row.guide} of ${row.nutrient} ${row.inputs} = ${row.expected}`, row] as const),
  )("%s", (_name, row) => {
    const product = productById(ids[row.nutrient!]!);
    const have =
      row.guide === "salt-index"
        ? product.saltIndex!.value
        : row.guide === "crh"
          ? product.criticalHumidityPercent!.value
          : product.bulkLbPerFt3![row.inputs === "bound=low" ? "low" : "high"];
    expect(have).toBe(Number(row.expected));
  });

  test("the analysis in the name is the analysis in the data; every figure has a source", () => {
    for (const { id, grade, ...product } of products) {
      const parts = /^([\d.]+)-([\d.]+)-([\d.]+)(?:-([\d.]+)S)?(?:-([\d.]+)Zn)?$/.exec(id)!;
      expect([grade.n, grade.p2o5, grade.k2o, grade.s, grade.zn]).toEqual(
        parts.slice(1).map((part) => Number(part ?? 0)),
      );
      expect(product.gradeSource).not.toBe("");
      for (const figure of [
        product.bulkLbPerFt3,
        product.saltIndex,
        product.criticalHumidityPercent,
        product.sizeGuideNumber,
      ]) {
        expect(figure?.source).not.toBe("");
      }
    }
    expect(new Set(products.map((product) => product.id)).size).toBe(products.length);
  });
});

describe("productRates", () => {
  test("11-52-0 = P2O5 / 0.52 and 0-0-60 = K2O / 0.60; nitrogen comes along (example b2)", () => {
    const [map, potash] = productRates(
      Float64Array.of(40, 70, 90, Number.NaN),
      Float64Array.of(60, 120, 150, 60),
    );
    expect([map.product.id, potash.product.id]).toEqual(["11-52-0", "0-0-60"]);
    const full = map.lbPerAc.map((rate, i) => rate + potash.lbPerAc[i]!);
    [176.9230769, 334.6153846, 423.0769231].forEach((rate, i) => {
      expect(full[i]).toBeCloseTo(rate, 6);
    });
    expect(full[3]).toBeNaN();
    expect(nutrientAlong([map, potash], "n")[0]).toBeCloseTo((40 / 0.52) * 0.11, 9);
  });

  test("300 lb of 20-5-10 for 15 lb P2O5 (Cornell CSS 412 module 3, read)", () => {
    const row = rows.find((entry) => entry.nutrient === "product for a nutrient rate")!;
    const own: Product = {
      ...productById("46-0-0"),
      id: "20-5-10",
      grade: { ...noNutrients, n: 20, p2o5: 5, k2o: 10 },
    };
    const [first] = productRates(Float64Array.of(15), Float64Array.of(0), {
      p2o5: own,
      k2o: productById("0-0-60"),
    });
    expect(first.lbPerAc[0]).toBeCloseTo(Number(row.expected), 9);
  });

  test("sulfur of potassium sulfate comes along", () => {
    const rated = productRates(Float64Array.of(0), Float64Array.of(100), {
      p2o5: productById("0-46-0"),
      k2o: productById("0-0-50-17S"),
    });
    expect(nutrientAlong(rated, "s")[0]).toBeCloseTo(34, 9);
    expect(nutrientAlong(rated, "n")[0]).toBe(0);
  });

  test("a product without the nutrient is refused, an unknown one named", () => {
    const sources = { p2o5: productById("0-0-60"), k2o: productById("0-0-60") };
    expect(() => productRates(Float64Array.of(1), Float64Array.of(1), sources)).toThrow(/0-0-60 has no P2O5/);
    expect(() => productById("MAP")).toThrow(/there is no product "MAP"/);
    expect(productById("mine", [{ ...productById("0-0-60"), id: "mine" }]).grade.k2o).toBe(60);
  });
});

describe("own products, salt and what rides along", () => {
  test("an own product is checked and marked as typed", () => {
    const own = ownProduct({
      id: "12-40-0-10S-1Zn",
      name: "ours",
      grade: { n: 12, p2o5: 40, s: 10, zn: 1 },
      pricePerTon: 640,
    });
    expect(own).toMatchObject({
      gradeStatus: "typed",
      pricePerTon: 640,
      grade: { n: 12, p2o5: 40, k2o: 0, s: 10, zn: 1 },
    });
    expect(own.bulkLbPerFt3).toBeUndefined();
    expect(() => ownProduct({ id: "x", name: "x", grade: { n: 120 } })).toThrow(/n of 120 percent/);
    expect(() => ownProduct({ id: "x", name: "x", grade: {} })).toThrow(/no nutrient/);
    expect(() => ownProduct({ id: "x", name: "x", grade: { n: 60, p2o5: 80 } })).toThrow(/adds up to 140/);
    expect(() =>
      ownProduct({ id: "x", name: "x", grade: { n: 10 }, bulkLbPerFt3: { low: 60, high: 50 } }),
    ).toThrow(/no range/);
    expect(() => ownProduct({ id: "x", name: "x", grade: { n: 10 }, pricePerTon: -1 })).toThrow(/price -1/);
  });

  test("salt sum is N + K2O + S: 100 lb 11-52-0, 100 lb 0-0-60 and 50 lb 21-0-0-24S give 11 + 60 + 10.5 + 12", () => {
    const rated = [
      ["11-52-0", 100],
      ["0-0-60", 100],
      ["21-0-0-24S", 50],
    ] as const;
    const lbPerAc = rated.map(([id, rate]) => (rate * saltPercent(productById(id).grade)) / 100);
    expect(lbPerAc.reduce((sum, lb) => sum + lb)).toBeCloseTo(93.5, 9);
  });

  test("salt index of a blend is the mean by weight: half 11-52-0, half 0-0-60 (26.7 + 116.2) / 2", () => {
    expect(
      blendSaltIndex([
        { product: productById("11-52-0"), share: 1 },
        { product: productById("0-0-60"), share: 1 },
      ]),
    ).toBeCloseTo(71.45, 9);
    expect(() => blendSaltIndex([{ product: productById("0-0-0-17S-35.5Zn"), share: 1 }])).toThrow(
      /no salt index/,
    );
  });

  test("a coating of 5 lb Zn a ton: low and high where the blend goes, acres it misses", () => {
    const M2 = 4046.8564224;
    const along = micronutrientAlong(
      { element: "Zn", lbPerTon: 5 },
      Float64Array.of(0, 200, 400, Number.NaN),
      Float64Array.of(M2, 2 * M2, 3 * M2, M2),
      0.6,
    );
    expect(along).toMatchObject({ lowLbPerAc: 0.5, highLbPerAc: 1 });
    expect(along.acresMissed).toBeCloseTo(1, 9);
    expect(along.acresBelowWanted).toBeCloseTo(3, 9);
    expect(along.totalLb).toBeCloseTo(0.5 * 2 + 1 * 3, 9);
    expect(
      micronutrientAlong({ element: "Zn", lbPerTon: 5 }, Float64Array.of(0), Float64Array.of(M2)).lowLbPerAc,
    ).toBeNaN();
    expect(() =>
      micronutrientAlong({ element: "B", lbPerTon: 0 }, Float64Array.of(0), Float64Array.of(1)),
    ).toThrow(/0 lb B/);
  });
});
