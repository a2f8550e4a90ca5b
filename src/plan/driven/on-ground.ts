import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { AppliedField, AppliedProduct } from "./applied-types.ts";

/** A piece of which so much was covered was driven over; so were all those of a run that lacks no more than edges (ours). */
const COVERED_SHARE = 0.5;
const WHOLE_RUN_SHARE = 0.9;

/** 1 for each piece that any log covers, for one rig lays all its products, else 0. 1 everywhere without a log. */
export function coveredPieces(
  { passes }: FieldResult,
  products: readonly Pick<AppliedProduct, "skippedShare">[],
): Float64Array {
  const { pieces, areaAc, runs } = passes;
  const share = Float64Array.from(pieces, (_, k) =>
    products.length === 0 ? 1 : Math.max(...products.map(({ skippedShare }) => 1 - skippedShare[k]!)),
  );
  const ofRun = runs.map(() => ({ ac: 0, coveredAc: 0 }));
  pieces.forEach(({ run, keptOff }, k) => {
    if (keptOff === true) return;
    ofRun[run]!.ac += areaAc[k]!;
    ofRun[run]!.coveredAc += areaAc[k]! * share[k]!;
  });
  const isWhole = ofRun.map(({ ac, coveredAc }) => coveredAc >= WHOLE_RUN_SHARE * ac);
  return share.map((covered, k) => (isWhole[pieces[k]!.run] || covered >= COVERED_SHARE ? 1 : 0));
}

/**
 * Strip maps as they lie on the ground: their rates are what was placed. A product with a log lies as logged, one of which the
 * pounds are known in proportion to its map, another as planned; the last two where `covered` says that the rig was.
 */
export function mapsOnGround(
  { prescriptions, passes }: FieldResult,
  products: AppliedField["products"],
  byPounds: AppliedField["byPounds"],
  covered: Float64Array,
): Prescription[] {
  return prescriptions
    .filter((map) => map.pass === "strip")
    .map((map) => {
      const withRates = (rateLbPerAc: Float64Array): Prescription => ({
        ...map,
        rateLbPerAc,
        totalLb: sum(rateLbPerAc.map((rate, k) => rate * passes.areaAc[k]!)),
      });
      const applied = products.find((one) => one.product === map.product);
      if (applied !== undefined) return withRates(applied.placedLbPerAc);
      const driven = withRates(map.rateLbPerAc.map((rate, k) => rate * covered[k]!));
      const known = byPounds.find((one) => one.stem === map.stem);
      if (known === undefined) return driven;
      // Where the map has nothing on what was driven, the pounds can only lie by the whole of it.
      const { rateLbPerAc, totalLb } = driven.totalLb > 0 ? driven : map;
      return withRates(rateLbPerAc.map((rate) => (rate * known.lb) / totalLb));
    });
}
