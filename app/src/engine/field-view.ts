import {
  type CheckedField,
  type FieldResult,
  GAP_IDS,
  type LayerId,
  laidProducts,
  layerIds,
  layerOf,
  lineFrame,
  type Pieces,
  type Plan,
  type Prescription,
  rangeOver,
} from "#core";
import { drawLayer } from "./draw-layer.ts";
import { boxOf, polygonsInDegrees, rounded } from "./lon-lat.ts";
import { needView } from "./need-view.ts";
import { passLines } from "./pass-lines.ts";
import type { DrawnLayer, FieldLine, FieldView, Ground, Look, MapFile } from "./protocol.ts";
import { rateOfWork } from "./rate-of-work.ts";
import { splitView } from "./split-view.ts";
import { testsOf } from "./test-view.ts";

/** What the page was sent last, so that nothing unchanged is sent again. */
export interface Sent {
  ground: CheckedField | null;
  passes: Pieces | null;
}

/** Copies of what the open sheet needs of a field; while the hand moves without what waits for it to rest. */
export function fieldView(
  plan: Plan,
  result: FieldResult,
  look: Look,
  sent: Sent,
  isRested: boolean,
): FieldView {
  const { checked, passes } = result;
  const isNewGround = sent.ground !== checked;
  const arePassesWanted = look.passes && sent.passes !== passes;
  if (isNewGround) sent.ground = checked;
  if (arePassesWanted) sent.passes = passes;
  const tests = look.tests ? testsOf(plan, result) : [];
  const known = [
    ...layerIds(plan, result),
    "strip/all" as const,
    // Also when none is left, so that the plat stays where it was put.
    ...GAP_IDS,
    ...tests.filter((one) => one.hasChance).map((one): LayerId => `odds/${one.test as "P" | "K"}`),
  ];
  return {
    ...fieldLine(plan, result),
    ground: isNewGround ? groundOf(result) : null,
    passes: arePassesWanted ? passLines(result) : null,
    driving: result.driving,
    shiftM: passes.shiftM,
    keptOff: {
      strip: polygonsInDegrees(result.excluded.ground.strip, checked.frame.toLonLat),
      surface: polygonsInDegrees(result.excluded.ground.surface, checked.frame.toLonLat),
    },
    layers: look.layers.filter((id) => known.includes(id)).map((id) => layerFor(plan, result, look, id)),
    tests,
    need: needView(result, look.needs && isRested),
    split: splitView(plan, result, look),
    work: rateOfWork(plan, result),
    needMeanLbPerAc: {
      P2O5: rangeOver(result.need.p2o5LbPerAc, result.cells.areaM2).mean,
      K2O: rangeOver(result.need.k2oLbPerAc, result.cells.areaM2).mean,
    },
  };
}

function layerFor(plan: Plan, result: FieldResult, look: Look, id: LayerId): DrawnLayer {
  const limits = look.limits[id];
  return drawLayer(
    plan,
    result,
    layerOf(plan, result, id, { system: look.system, ...(limits ? { limits } : {}) }),
  );
}

/** One line of the farm's list. */
export const fieldLine = (plan: Plan, result: FieldResult): FieldLine => ({
  id: result.field.id,
  areaAc: result.checked.areaAc,
  products: laidProducts(plan),
  balances: result.balances,
  maps: result.prescriptions.map(mapFile),
  ceilingLbPerAc: result.split.ceilingLbPerAc,
  notices: result.notices,
  written: result.prescriptions.every((map) => map.files.size > 0),
});

function mapFile(map: Prescription): MapFile {
  const rates = new Map<number, number>();
  const counted = new Set<number>();
  map.rateLbPerAc.forEach((rate, k) => {
    // A stretch is one record of the file, however many pieces it is made of.
    const stretch = map.stretchOf?.[k];
    if (stretch !== undefined && counted.has(stretch)) return;
    if (stretch !== undefined) counted.add(stretch);
    rates.set(rate, (rates.get(rate) ?? 0) + 1);
  });
  const { pass, bin, product, analysis, stem, polygons, totalLb } = map;
  return {
    ...{ pass, bin, product, analysis, stem, polygons, totalLb },
    rates: [...rates].sort(([a], [b]) => a - b),
    files: [...map.files].map(([name, bytes]) => [name, bytes.length] as const),
  };
}

function groundOf({ field, checked }: FieldResult): Ground {
  const toLonLat = checked.frame.toLonLat;
  const boundary = polygonsInDegrees(checked.boundaryLonLat, ([lon, lat]) => [lon, lat]);
  return {
    id: field.id,
    boundary,
    line: [rounded(toLonLat(checked.line[0])), rounded(toLonLat(checked.line[1]))],
    headingDeg: lineFrame(checked.line).headingDeg,
    guidance: checked.guidance.map((place) => rounded(toLonLat(place))),
    samples: checked.samples.map(({ id, at, P, K, CEC }) => ({
      ...{ id, at, values: { P, K, CEC } },
      off: (field.switchedOff ?? []).flatMap(({ sample, test }) => (sample === id ? [test] : [])),
    })),
    methods: checked.methods,
    box: boxOf(boundary),
  };
}
