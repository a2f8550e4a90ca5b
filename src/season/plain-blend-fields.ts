import { requireNumber } from "../capacity/index.ts";
import { InputError } from "../errors/index.ts";

interface PlainFieldsInput {
  /** In working order: of equal choices the one with fields that are worked later is taken. */
  readonly fields: readonly { readonly id: string; readonly areaAc: number; readonly benefitPerAc: number }[];
  readonly atLeastAc: number;
}

export interface PlainFields {
  /** In the order given. */
  readonly fields: readonly string[];
  readonly areaAc: number;
  /** $ of benefit given up. */
  readonly lostBenefit: number;
}

/** Acres are counted in steps of 0.1, fields rounded down and the target up, so that the target is kept. */
const STEPS_PER_AC = 10;

/**
 * Whole fields for the plain blend: at least so many acres with the least benefit lost (0/1 knapsack). A change of blend
 * means a clean bin, so fields are not cut. Throws `number-not-usable`, `too-few-acres`.
 */
export function plainBlendFields({ fields, atLeastAc }: PlainFieldsInput): PlainFields {
  const steps = fields.map(({ id, areaAc }) =>
    Math.floor(requireNumber(`areaAc of ${id}`, areaAc) * STEPS_PER_AC + 1e-9),
  );
  const target = Math.ceil(requireNumber("atLeastAc", atLeastAc) * STEPS_PER_AC - 1e-9);
  const total = steps.reduce((sum, step) => sum + step, 0);
  if (total < target) {
    const acres = fields.reduce((sum, field) => sum + field.areaAc, 0);
    throw new InputError(
      "too-few-acres",
      `${atLeastAc} ac are asked for and the fields have ${acres}`,
      "Ask for fewer acres.",
    );
  }
  // cost[t]: least benefit lost with at least t steps; early: acres x places before the end, to prefer late fields.
  const cost = new Float64Array(target + 1).fill(Number.POSITIVE_INFINITY);
  const early = new Float64Array(target + 1);
  cost[0] = 0;
  const taken: Uint8Array[] = [];
  for (const [f, { areaAc, benefitPerAc, id }] of fields.entries()) {
    const lost = areaAc * requireNumber(`benefitPerAc of ${id}`, benefitPerAc);
    const place = areaAc * (fields.length - f);
    const take = new Uint8Array(target + 1);
    for (let t = target; t >= 0; t--) {
      const from = Math.max(0, t - steps[f]!);
      const [c, e] = [cost[from]! + lost, early[from]! + place];
      const better = c < cost[t]! - 1e-9 || (c <= cost[t]! + 1e-9 && t > 0 && e < early[t]! - 1e-9);
      if (!better || (t === 0 && from === 0)) continue;
      cost[t] = c;
      early[t] = e;
      take[t] = 1;
    }
    taken.push(take);
  }
  const chosen: string[] = [];
  let t = target;
  for (let f = fields.length - 1; f >= 0; f--) {
    if (taken[f]![t] !== 1) continue;
    chosen.unshift(fields[f]!.id);
    t = Math.max(0, t - steps[f]!);
  }
  const picked = fields.filter((field) => chosen.includes(field.id));
  return {
    fields: chosen,
    areaAc: picked.reduce((sum, field) => sum + field.areaAc, 0),
    lostBenefit: picked.reduce((sum, field) => sum + field.areaAc * field.benefitPerAc, 0),
  };
}
