import { InputError } from "../errors/index.ts";
import { noNutrients } from "./no-nutrients.ts";
import type { Figure, FigureRange, Product } from "./product.ts";

const sheet = "Estimated Physical Characteristics of Fertilizer Material, trade data sheet, typical values";
const tables = "conversion tables of a fertilizer industry association";
const mortvedt = "Mortvedt 2001, in a secondary table";
const adamsMerz = "Adams and Merz 1929, in the encyclopedia article Critical relative humidity, 30 C";

const bulk = (low: number, high: number): FigureRange => ({ low, high, source: sheet, status: "read" });
const salt = (value: number): Figure => ({ value, source: mortvedt, status: "second-hand" });
const humidity = (value: number): Figure => ({ value, source: adamsMerz, status: "second-hand" });
const size = (low: number, high: number): FigureRange => ({
  low,
  high,
  source: "usual size, recalled",
  status: "from memory",
});
const fromTables = { gradeSource: tables, gradeStatus: "read" } as const;
const fromSheet = { gradeSource: sheet, gradeStatus: "read" } as const;

/** Dry products by analysis. A bulk density is a guide only: weigh a known volume. */
export const products: readonly Product[] = [
  {
    id: "11-52-0",
    name: "monoammonium phosphate",
    grade: { ...noNutrients, n: 11, p2o5: 52 },
    ...fromTables,
    bulkLbPerFt3: bulk(60, 65),
    saltIndex: salt(26.7),
    criticalHumidityPercent: humidity(91.6),
    sizeGuideNumber: size(280, 320),
    notes: ["older tables give another salt index"],
  },
  {
    id: "18-46-0",
    name: "diammonium phosphate",
    grade: { ...noNutrients, n: 18, p2o5: 46 },
    ...fromTables,
    bulkLbPerFt3: bulk(55, 60),
    saltIndex: salt(29.2),
    criticalHumidityPercent: humidity(82.5),
    sizeGuideNumber: size(280, 320),
    notes: ["older tables give another salt index", "ammonia near seed on high-pH soil"],
  },
  {
    id: "0-46-0",
    name: "triple superphosphate",
    grade: { ...noNutrients, p2o5: 46 },
    ...fromTables,
    bulkLbPerFt3: bulk(65, 75),
    saltIndex: salt(10.1),
    criticalHumidityPercent: humidity(93.6),
    sizeGuideNumber: size(280, 320),
    notes: [],
  },
  {
    id: "0-0-60",
    name: "potassium chloride",
    grade: { ...noNutrients, k2o: 60 },
    ...fromTables,
    bulkLbPerFt3: bulk(58, 65),
    saltIndex: salt(116.2),
    criticalHumidityPercent: humidity(84),
    sizeGuideNumber: size(270, 310),
    notes: [
      "sold at 60 to 62 percent K2O",
      "bulk density of the granular grade; the soluble grade weighs 94",
    ],
  },
  {
    id: "0-0-50-17S",
    name: "potassium sulfate",
    grade: { ...noNutrients, k2o: 50, s: 17 },
    ...fromSheet,
    saltIndex: salt(42.6),
    criticalHumidityPercent: humidity(96.3),
    notes: ["another table prints 18 percent S"],
  },
  {
    id: "0-0-22-22S",
    name: "potassium magnesium sulfate",
    grade: { ...noNutrients, k2o: 22, s: 22, mg: 11 },
    ...fromTables,
    bulkLbPerFt3: bulk(90, 98),
    saltIndex: { value: 43, source: "recalled", status: "from memory" },
    sizeGuideNumber: size(240, 300),
    notes: [
      "the tables print 22 to 30 K2O and 17 to 22 S; 11 percent Mg is recalled",
      "the densest product here: segregates and fills a bin fast",
    ],
  },
  {
    id: "46-0-0",
    name: "urea",
    grade: { ...noNutrients, n: 46 },
    ...fromTables,
    bulkLbPerFt3: bulk(44, 48),
    saltIndex: salt(74.4),
    criticalHumidityPercent: humidity(72.5),
    sizeGuideNumber: size(260, 320),
    notes: [
      "another source gives 48 to 52 lb/ft3",
      "never with seed: ammonia",
      "never with ammonium nitrate",
    ],
  },
  {
    id: "21-0-0-24S",
    name: "ammonium sulfate",
    grade: { ...noNutrients, n: 21, s: 24 },
    ...fromTables,
    bulkLbPerFt3: bulk(47, 53),
    saltIndex: salt(88.3),
    criticalHumidityPercent: humidity(79.2),
    sizeGuideNumber: size(220, 300),
    notes: [
      "sources differ widely on the bulk density (granular 47-53, crystal 63-66, elsewhere 60-64): weigh it",
    ],
  },
  {
    id: "34-0-0",
    name: "ammonium nitrate",
    grade: { ...noNutrients, n: 34 },
    ...fromTables,
    bulkLbPerFt3: bulk(54, 58),
    saltIndex: salt(104),
    criticalHumidityPercent: humidity(59.4),
    notes: ["an oxidizer: no oil coating, security rules, never with urea"],
  },
  {
    id: "0-0-0-17S-35.5Zn",
    name: "zinc sulfate monohydrate",
    grade: { ...noNutrients, s: 17, zn: 35.5 },
    gradeSource: "recalled",
    gradeStatus: "from memory",
    bulkLbPerFt3: { low: 60, high: 90, source: "recalled", status: "from memory" },
    notes: ["choose granules of the size of the blend"],
  },
];

/** Looks among the user's own products first. Throws `unknown-product` with the known analyses, `others` first: names of his that are none here. */
export function productById(
  id: string,
  own: readonly Product[] = [],
  others: readonly string[] = [],
): Product {
  const all = [...own, ...products];
  const found = all.find((product) => product.id === id);
  if (found !== undefined) return found;
  throw new InputError(
    "unknown-product",
    `there is no product "${id}"`,
    `Name one of ${[...others, ...all.map((product) => product.id)].join(", ")}, or enter your own.`,
  );
}
