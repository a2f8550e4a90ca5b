import {
  chanceBelowCritical,
  type FieldResult,
  GAP_IDS,
  type LayerId,
  layerIds,
  layerOf,
  type Plan,
  type ReadOut,
  type RunResult,
  readOutOf,
} from "#core";
import { drawLayer } from "./draw-layer.ts";
import { passLines } from "./pass-lines.ts";
import type { MapBefore, ToEngine } from "./protocol.ts";

interface Of {
  readonly plan: Plan;
  readonly field: FieldResult;
}

type Asked = Extract<ToEngine, { kind: "before" }>;

/** A layer by an earlier state of the plan, in the classes it has now; its passes where they lie elsewhere than now. */
function mapBefore({ plan, field }: Of, now: Of | null, { layer: id, classes, system }: Asked): MapBefore {
  const layer = { ...layerOf(plan, field, id, { system, limits: classes.limits }), classes };
  const isElsewhere = layer.draws === "passes" && now?.field.passes !== field.passes;
  return { drawn: drawLayer(plan, field, layer), passes: isElsewhere ? passLines(field) : null };
}

function hasLayer(plan: Plan, field: FieldResult, id: LayerId): boolean {
  const [kind, name] = id.split("/");
  if (kind === "odds") return chanceBelowCritical(plan, field, name as "P" | "K") !== null;
  return id === "strip/all" || [...layerIds(plan, field), ...GAP_IDS].includes(id);
}

/** The state compared with, held for the read-out while the page shows it. */
export class HeldBefore {
  private of: (Of & { readonly system: Asked["system"] }) | null = null;
  private find: ((place: readonly [number, number]) => ReadOut | null) | null = null;

  /** The layer asked for as the earlier result has it; null where it has no such field or layer. */
  tell(earlier: RunResult, asked: Asked, shown: Of | null): MapBefore | null {
    this.letGo();
    const field = earlier.fields.find((one) => one.field.id === asked.field);
    if (!field || !hasLayer(earlier.plan, field, asked.layer)) return null;
    const before = { plan: earlier.plan, field };
    this.of = { ...before, system: asked.system };
    return mapBefore(before, shown?.field.field.id === asked.field ? shown : null, asked);
  }

  letGo(): void {
    this.of = null;
    this.find = null;
  }

  /** What stood at a place before; null when nothing is compared, or another field. */
  readOut(at: readonly [number, number], field: string): ReadOut | null {
    const { of } = this;
    if (of === null || of.field.field.id !== field) return null;
    this.find ??= readOutOf(of.plan, of.field, of.system);
    return this.find(of.field.checked.frame.toPlane(at));
  }
}
