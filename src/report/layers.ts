import { methodInWords, testMethodFrom } from "../agronomy/index.ts";
import { sum } from "../numeric/index.ts";
import { type Plan, TEST_UNITS, type TestName } from "../plan/index.ts";
import { acres, counted, roundTo } from "../units/index.ts";
import { areaByClass, classesFrom, classLimits } from "./classes.ts";
import { type DrawnField, productsMapped } from "./drawn-field.ts";
import { type GapId, gapIdsOf } from "./gap-rates.ts";
import { criticalLevel, guideClasses } from "./guide-levels.ts";
import { finishLayer, type Layer, type LayerId, type LayerOptions } from "./layer.ts";
import { areaIn } from "./numbers.ts";
import { chanceBelowCritical, oddsBelowCritical } from "./odds.ts";
import { broadcastLayer, gapLayer, needLayer, stripLayer } from "./rate-layers.ts";
import { roundedParts } from "./rounded-parts.ts";

/** Every layer that the field has, in the order of the work; the odds of a test, which are about a map, not among them. */
export function layerIds(plan: Plan, field: DrawnField): LayerId[] {
  const tests = (["P", "K", "CEC"] as const).filter((test) => field.maps[test]);
  const products = productsMapped(plan, field, "strip");
  const broadcast = productsMapped(plan, field, "broadcast");
  return [
    ...tests.map((test): LayerId => `soil/${test}`),
    "need/P2O5",
    "need/K2O",
    ...(products.length > 1 ? (["strip/all"] as const) : []),
    ...products.map((product): LayerId => `strip/${product}`),
    ...broadcast.map((product): LayerId => `broadcast/${product}`),
    ...gapIdsOf(field),
  ];
}

/** The layer of that id: its values, classes and words. An unknown id is our own error. */
export function layerOf(plan: Plan, field: DrawnField, id: LayerId, options: LayerOptions = {}): Layer {
  const [kind, name] = id.split("/") as [string, string];
  if (kind === "soil") return soilLayer(plan, field, name as TestName, options);
  if (kind === "odds") return oddsLayer(plan, field, name as "P" | "K", options);
  if (kind === "need") return needLayer(field, name as "P2O5" | "K2O", options);
  if (kind === "strip") return stripLayer(plan, field, name, options);
  if (kind === "broadcast") return broadcastLayer(plan, field, name, options);
  if (kind === "short" || kind === "over") return gapLayer(field, id as GapId, options);
  throw new Error(`no layer ${id}`);
}

const soilTitles = { P: "Soil test phosphorus", K: "Soil test potassium", CEC: "Exchange capacity (CEC)" };

function soilLayer(plan: Plan, field: DrawnField, test: TestName, options: LayerOptions): Layer {
  const map = field.maps[test];
  if (!map) throw new Error(`field ${field.field.id} has no map of ${test}`);
  const guide = options.limits ? null : guideClasses(plan, field, test);
  const areaAc = field.cells.areaM2.map((areaM2) => acres(areaM2));
  const critical = criticalLevel(plan, field, test);
  const limits =
    options.limits ??
    guide?.limits ??
    classLimits(map.estimate, areaAc, { through: critical?.everywhere ?? undefined });
  const plain = classesFrom("soil", limits, guide?.names);
  return finishLayer(field, options, {
    id: `soil/${test}`,
    title: soilTitles[test],
    unit: TEST_UNITS[test],
    draws: "steps",
    values: map.estimate,
    areaAc,
    classes: guide ? { ...plain, labels: guide.labels } : plain,
    lb: null,
    critical,
  });
}

/** Limits of the odds, %: 8 in 10 on either side, and the middle cut once more. */
const ODDS_LIMITS = [20, 40, 60, 80];

/** How likely the test lies below the critical level, %. Light ground is likely below, as on the map of the test. */
function oddsLayer(plan: Plan, field: DrawnField, test: "P" | "K", options: LayerOptions): Layer {
  const chance = chanceBelowCritical(plan, field, test);
  const level = criticalLevel(plan, field, test);
  if (!chance || !level) throw new Error(`field ${field.field.id} has no odds of ${test}`);
  const plain = classesFrom("soil", options.limits ?? ODDS_LIMITS);
  const layer = finishLayer(field, options, {
    id: `odds/${test}`,
    title: `Below ${level.text}?`,
    unit: "chance in 100",
    draws: "steps",
    values: chance.map((share) => 100 * share),
    areaAc: field.cells.areaM2.map((areaM2) => acres(areaM2)),
    classes: { ...plain, steps: plain.steps.toReversed() },
    lb: null,
    critical: null,
  });
  return options.limits ? layer : { ...layer, classAreas: likeOdds(plan, field, test, layer) };
}

/** Areas that print the outer classes as `oddsBelowCritical` does, and still add up to the field's. */
function likeOdds(plan: Plan, field: DrawnField, test: "P" | "K", layer: Layer): number[] {
  const odds = oddsBelowCritical(plan, field, test)!;
  const outer = [odds.likelyAboveAc, odds.likelyBelowAc].map((areaAc) =>
    roundTo(areaIn(areaAc, layer.system), 1),
  ) as [number, number];
  const exact = areaByClass(layer.classes.limits, layer.values, layer.areaAc);
  const middle = exact.slice(1, -1).map((areaAc) => areaIn(areaAc, layer.system));
  const left = sum(layer.classAreas) - outer[0] - outer[1];
  return [outer[0], ...roundedParts(middle, 1, left), outer[1]];
}

/** `Mehlich-3 read by ICP, 0–8 in., 64 samples of 2026-10-27`: how and when a test was made. */
export function testInWords(field: DrawnField, test: TestName): string {
  const depth = field.checked.depth.replace("-", "–").replace(/in$/, " in.");
  const method =
    test === "CEC"
      ? ""
      : methodInWords(testMethodFrom(field.checked.methods[test], test === "P" ? "P2O5" : "K2O"));
  const dates = field.checked.samplings.flatMap(({ date, usedFor }) =>
    date !== null && usedFor.includes(test) ? [date] : [],
  );
  const of = dates.length === 0 ? "" : ` of ${dates.join(" and ")}`;
  const samples = `${counted(field.maps[test]?.samples ?? 0, "sample")}${of}`;
  return [method, depth, samples].filter((part) => part !== "").join(", ");
}
