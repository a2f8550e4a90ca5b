import { createStageCache, type FieldResult, InputError, type Plan, run, type StageCache } from "#core";
import { fieldView } from "./field-view.ts";
import type { Look } from "./protocol.ts";
import { type Part, partOptions } from "./run-part.ts";

/** By then the browser has made machine code of what a move runs. */
const ROUNDS = 12;

/**
 * What a move of the yield goal runs, run a few times while nobody waits, so that the first moves of a hand are as
 * quick as later ones. Nothing of it is kept or told. Ends as any work does when newer work comes.
 */
export class WarmUp {
  private round = 0;

  /** As many rounds as fit in a time, ms, until there were enough. */
  async go(
    { plan, field }: { readonly plan: Plan; readonly field: FieldResult },
    source: Parameters<typeof run>[1],
    look: Look,
    part: Pick<Part, "answers" | "cache" | "parallel" | "isWanted">,
    forMs: number,
  ): Promise<void> {
    const { id } = field.field;
    const options = partOptions({
      ...part,
      ...{ only: [id], files: "later", cache: aside(part.cache), onProgress: () => {} },
    });
    const seen: Look = {
      ...look,
      ...{ layers: [...new Set([...look.layers, "need/K2O" as const])], needs: true, split: true },
    };
    const until = performance.now() + forMs;
    try {
      while (this.round < ROUNDS && performance.now() < until) {
        this.round++;
        const { fields } = await run(nearly(plan, id, this.round), source, options);
        const [one] = fields;
        if (one) fieldView(plan, one, seen, { ground: one.checked, passes: one.passes }, false);
      }
    } catch (error) {
      // What cannot be worked out a little aside needs no machine code.
      if (!(error instanceof InputError)) throw error;
      this.round = ROUNDS;
    }
  }
}

/** The plan with a yield goal that no slider stands on: its results serve nobody. */
const nearly = (plan: Plan, id: string, round: number): Plan => ({
  ...plan,
  fields: plan.fields.map((field) =>
    field.id === id ? { ...field, yieldBuPerAc: field.yieldBuPerAc * (1 + round / 1_013) } : field,
  ),
});

/** Results so far may be read; new ones are forgotten. */
function aside(cache: StageCache): StageCache {
  const own = createStageCache(50);
  return { get: (key) => own.get(key) ?? cache.get(key), set: own.set };
}
