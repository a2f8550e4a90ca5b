// Rate columns, units and missing rates: the rules of tests/data/formats (invented data), with files of our own.
import { describe, expect, it } from "vitest";
import { type Layer, rateCandidates, readRates } from "../../src/formats/index.ts";
import { refusal } from "./support.ts";

type Row = Record<string, string | number | null>;

function layerOf(rows: readonly Row[], kinds: Record<string, "text" | "number"> = {}): Layer {
  const names = Object.keys(rows[0]!);
  return {
    name: "zones",
    path: "zones.zip: zones.shp",
    one: "record",
    features: rows.map((properties, i) => ({ record: i + 1, geometry: null, properties })),
    skipped: [],
    columns: names.map((name) => ({
      name,
      kind: kinds[name] ?? (typeof rows[0]![name] === "number" ? "number" : "text"),
    })),
    coordinateSystem: "EPSG:4326",
    coordinateSystemFrom: ".prj",
    encoding: "UTF-8",
    notices: [],
  };
}
const asked = (layer: Layer, answers: Record<string, string> = {}) =>
  readRates(layer, answers, true).questions.map(({ key }) => key);

describe("rate columns", () => {
  it("are numbers that name no thing, no area and no length", () => {
    const row = {
      ZONE: 1,
      ZONE_ID: 2,
      OBJECTID: 3,
      AREA_AC: 4,
      Shape_Leng: 5,
      ACRES: 6,
      WIDTH: 7,
      NAME: "8",
      RATE: 9,
      LB_AC: 10,
      N: "11",
      NOTE: "x",
    };
    expect(rateCandidates(layerOf([row]))).toEqual(["RATE", "LB_AC", "N"]);
    expect(rateCandidates(layerOf([{ R: "n/a" }, { R: "" }]))).toEqual([]);
    expect(rateCandidates(layerOf([{ R: "12" }, { R: "high" }]))).toEqual([]);
  });

  it("are asked when there are several, our own first, and an answer counts", () => {
    const two = layerOf([{ P2O5_LBAC: 60, K2O_LBAC: 80 }]);
    const [question] = readRates(two, {}, true).questions;
    expect(question).toMatchObject({ key: "rate-column", choices: ["P2O5_LBAC", "K2O_LBAC"] });
    expect(question!.seen).toContain("K2O_LBAC: 80");
    expect(readRates(two, { "rate-column": "K2O_LBAC" }, true).rates?.lbPerAc).toEqual([80]);
    expect(asked(two, { "rate-column": "N" })).toEqual(["rate-column"]);
    const own = layerOf([{ RATE_LBAC: 100, TARGET: 3 }]);
    expect(readRates(own, {}, true).rates?.column).toBe("RATE_LBAC");
    expect(readRates(own, { "rate-column": "TARGET", "unit.rate": "lb/ac" }, true).rates?.column).toBe(
      "TARGET",
    );
  });

  it("of zones are none where no heading says so, as over yields", () => {
    const yields = layerOf([{ ZONE_ID: "1", DESCR: "hill", YLD: 200 }]);
    expect(readRates(yields, {}, false)).toMatchObject({ rates: null, questions: [] });
    expect(asked(yields)).toEqual(["unit.rate"]);
    expect(readRates(layerOf([{ RATE: 90 }]), {}, false).questions.map(({ key }) => key)).toEqual([
      "unit.rate",
    ]);
    expect(readRates(layerOf([{ MAP_LB: 90 }]), { "unit.rate": "lb/ac" }, false).rates?.lbPerAc).toEqual([
      90,
    ]);
    const named = readRates(yields, { "rate-column": "YLD", "unit.rate": "lb/ac" }, false);
    expect(named.rates?.lbPerAc).toEqual([200]);
  });

  it("are refused when a prescription has none", () => {
    expect(refusal(() => readRates(layerOf([{ NOTE: "x" }]), {}, true)).code).toBe("no-rate-column");
    expect(readRates(layerOf([{ NOTE: "x" }]), {}, false)).toMatchObject({ rates: null, questions: [] });
  });
});

describe("rates", () => {
  it("come in lb/ac by name or answer, and from kg/ha by definition", () => {
    expect(asked(layerOf([{ RATE: 100 }]))).toEqual(["unit.rate"]);
    expect(asked(layerOf([{ RATE: 100 }]), { "unit.rate": "bushels" })).toEqual(["unit.rate"]);
    for (const name of ["RATE_LBAC", "Rate_lb_ac", "P lbs/ac", "lbs per acre"]) {
      expect(readRates(layerOf([{ [name]: 100 }]), {}, true).rates?.lbPerAc).toEqual([100]);
    }
    // 1 lb/ac = 1.1208511561944561 kg/ha, from 0.45359237 kg and 4,046.8564224 m2.
    const metric = readRates(layerOf([{ RATE_KGHA: 112.0851156194456 }]), {}, true).rates!;
    expect(metric.lbPerAc[0]).toBeCloseTo(100, 9);
    expect(metric.readUnit).toBe("kg/ha");
  });

  it("are never 0 for want of a rate", () => {
    const layer = layerOf([{ RATE_LBAC: 160 }, { RATE_LBAC: null }, { RATE_LBAC: 0 }]);
    const [question] = readRates(layer, {}, true).questions;
    expect(question).toMatchObject({ key: "missing-rate" });
    expect(question!.text).toContain("record 2");
    const left = readRates(layer, { "missing-rate": "leave-out" }, true);
    expect(left.rates?.lbPerAc).toEqual([160, 0]);
    expect(left.layer.skipped).toEqual([{ record: 2, reason: "no rate" }]);
    expect(readRates(layer, { "missing-rate": "75" }, true).rates?.lbPerAc).toEqual([160, 75, 0]);
    for (const answer of ["", "-5", "none"])
      expect(asked(layer, { "missing-rate": answer })).toEqual(["missing-rate"]);
  });

  it("below zero are refused by record", () => {
    const error = refusal(() => readRates(layerOf([{ RATE_LBAC: 1 }, { RATE_LBAC: -1 }]), {}, true));
    expect([error.code, error.message]).toEqual(["negative-rate", expect.stringContaining("record 2")]);
  });
});
