import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import {
  GAP_IDS,
  type GapId,
  type Layer,
  type LayerId,
  laidProducts,
  type Plan,
  type PlanField,
  spreadIds,
} from "#core";
import type { Look } from "../engine/protocol.ts";
import { plan } from "./opened.ts";
import { goTo, here, type Route } from "./route.ts";
import { settings } from "./settings.ts";
import { type LimitsOfLayers, withStanding } from "./standing-limits.ts";

/** Class limits typed by the user, in the unit shown, by layer. */
export const typedLimits: Signal<LimitsOfLayers> = signal({});
/** Class limits that stand since the field was opened, so that one colour stays one class while a slider moves. */
let standing: LimitsOfLayers = {};

let standingFor = "";

/** For rates the limits of the field's first map stand. */
export function letLimitsStand(field: string, layers: readonly Layer[]): void {
  standing = withStanding(field === standingFor ? standing : {}, layers);
  standingFor = field;
}

export function forgetLimits(): void {
  standing = {};
  // A new object would set the work off once more.
  if (Object.keys(typedLimits.peek()).length > 0) typedLimits.value = {};
}

/** The field that the open sheet is about, as the plan has it: the one in the address, else the first. */
export const planField: ReadonlySignal<PlanField | null> = computed(() => {
  const fields = plan.value?.fields ?? [];
  return fields.find(({ id }) => id === here.value.field) ?? fields[0] ?? null;
});

/** Its id. */
export const chosenField: ReadonlySignal<string | null> = computed(() => planField.value?.id ?? null);

/** The same sheet for the field before or after the chosen one; round at the ends of the list. */
export function stepField(by: 1 | -1): void {
  const fields = plan.peek()?.fields ?? [];
  const at = fields.findIndex(({ id }) => id === chosenField.peek());
  const next = fields[(at + by + fields.length) % fields.length];
  if (next) goTo({ ...here.peek(), field: next.id });
}

interface Layers {
  readonly plat: LayerId | null;
  readonly inset: LayerId | null;
}

/** The layer on the plat, and for the split the one in its inset. */
export function layersOf(route: Route, of: Plan): Layers {
  const products = laidProducts(of);
  const product = products.includes(route.part) ? route.part : null;
  switch (route.sheet) {
    case "soil":
      return { plat: soilLayer(route.part), inset: null };
    case "need":
      return { plat: route.part === "K2O" ? "need/K2O" : "need/P2O5", inset: null };
    case "split": {
      const spread = spreadIds(of);
      const isSpread = product !== null && spread.includes(product);
      return {
        plat: gapOfPart(route.part) ?? stripLayer(of, product),
        inset: `broadcast/${isSpread ? product : (spread.at(-1) ?? products[0])}`,
      };
    }
    case "strips":
      return { plat: stripLayer(of, product ?? products[0] ?? null), inset: null };
    case "fills":
      return { plat: products.length > 1 ? "strip/all" : stripLayer(of, products[0] ?? null), inset: null };
    case "applied":
      return { plat: stripLayer(of, product ?? products[0] ?? null), inset: null };
    default:
      return { plat: null, inset: null };
  }
}

/** A bin's own product alone; whatever else is asked for, and a blend of several ratios, all that lies in the strip. */
function stripLayer(of: Plan, product: string | null): LayerId {
  return product !== null && of.rig.bins.some((bin) => bin.product === product)
    ? `strip/${product}`
    : "strip/all";
}

/** `short-P2O5`, `over-K2O`: where the field stays short, or too much lies. */
export const partOfGap = (id: GapId): string => id.replace("/", "-");
export const gapOfPart = (part: string): GapId | null => GAP_IDS.find((id) => partOfGap(id) === part) ?? null;

/** `P`, `K`, `CEC`, or `P-odds`, `K-odds`: the test, or how likely it lies below the critical level. */
function soilLayer(part: string): LayerId {
  if (part === "P-odds" || part === "K-odds") return part === "K-odds" ? "odds/K" : "odds/P";
  return `soil/${part === "K" || part === "CEC" ? part : "P"}`;
}

/** Layers that the open sheet shows. */
export const wantedLayers: ReadonlySignal<Layers> = computed(() =>
  plan.value ? layersOf(here.value, plan.value) : { plat: null, inset: null },
);

export const look: ReadonlySignal<Look> = computed(() => {
  const route = here.value;
  const { plat, inset } = wantedLayers.value;
  const layers = [plat, inset].filter((id): id is LayerId => id !== null);
  const isSame = standingFor === `${chosenField.value} ${settings.value.system}`;
  const limits = { ...(isSame ? standing : {}), ...typedLimits.value };
  return {
    field: chosenField.value,
    layers,
    limits: Object.fromEntries(layers.filter((id) => limits[id]).map((id) => [id, limits[id]!])),
    system: settings.value.system,
    passes: ["split", "strips", "fills", "applied"].includes(route.sheet),
    tests: route.sheet === "soil",
    needs: route.sheet === "need",
    split: route.sheet === "split",
  };
});
