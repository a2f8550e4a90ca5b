import { guideById, ownGuide, type TestReading, testMethodFrom } from "../agronomy/index.ts";
import { InputError } from "../errors/index.ts";
import { needOverCells } from "../need/index.ts";
import type { PlanField, PlanOwnGuide } from "./document-types.ts";
import type { CheckedField, NeedMap, SoilMaps } from "./result-types.ts";

/** What every cell of the field needs by the field's guide, lb oxide/ac, not rounded. */
export function mapNeed(
  field: PlanField,
  own: readonly PlanOwnGuide[],
  checked: CheckedField,
  soil: SoilMaps,
): NeedMap {
  const { P, K, CEC } = soil.maps;
  if (!P || !K) throw new Error(`field ${field.id} was mapped without P or K`);
  const typed = own.find((guide) => guide.id === field.guide);
  const guide = typed ? ownGuide(typed) : guideById(field.guide);
  const reading = (test: "P" | "K"): TestReading => ({
    method: testMethodFrom(checked.methods[test], test === "P" ? "P2O5" : "K2O"),
    unit: "ppm",
    basis: "element",
    ...depthOf(checked.depth),
  });
  const needs = needOverCells(
    guide,
    {
      crop: field.crop,
      yieldBuPerAc: field.yieldBuPerAc,
      p: reading("P"),
      k: reading("K"),
      ...(field.guideOptions ? { options: field.guideOptions } : {}),
    },
    { p: P.estimate, k: K.estimate, ...(CEC ? { cec: CEC.estimate } : {}) },
  );
  return {
    p2o5LbPerAc: needs.p2o5LbPerAc,
    k2oLbPerAc: needs.k2oLbPerAc,
    notices: needs.notices.map((notice) => ({ ...notice, where: `${field.id}: ${notice.where}` })),
  };
}

/** Bottom of the cores in inches from a depth such as `0-8in`; nothing when it was not stated. */
function depthOf(depth: string): { depthIn?: number } {
  if (depth === "") return {};
  const read = /^(?:0-)?(\d+(?:\.\d+)?)in$/.exec(depth);
  if (read) return { depthIn: Number(read[1]) };
  throw new InputError(
    "depth-not-read",
    `Sampling depth “${depth}” is not a depth.`,
    "Give it as 0-6in or 0-8in.",
  );
}
