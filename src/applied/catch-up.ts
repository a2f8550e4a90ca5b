import { requireNumber } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import { LB_PER_TON } from "../units/index.ts";

export interface OxideAmounts {
  readonly p2o5: number;
  readonly k2o: number;
}

export interface CatchUpClass {
  readonly id: string;
  readonly fieldId: string;
  readonly areaAc: number;
  /** lb oxide/ac. */
  readonly need: OxideAmounts;
  /** lb oxide/ac as logged, before the meter factor. */
  readonly logged: OxideAmounts;
}

interface CatchUpInput {
  readonly classes: readonly CatchUpClass[];
  readonly meterFactor: number;
  /** lb oxide/ac below which nothing is spread. */
  readonly minimum: OxideAmounts;
  /** Percent of oxide in the broadcast product of each. */
  readonly productPercent: OxideAmounts;
  /** lb of a product a field must want for a pass; 0 when left out. */
  readonly minimumFieldLb?: number;
}

/** lb of one oxide on all acres: need = placed + catch-up - over + dropped. */
interface OxideBalance {
  readonly needLb: number;
  readonly placedLb: number;
  readonly catchUpLb: number;
  readonly overLb: number;
  /** Below the minimum of a class or of a field's pass. */
  readonly droppedLb: number;
}

export interface CatchUp {
  readonly classes: readonly {
    readonly id: string;
    readonly fieldId: string;
    readonly areaAc: number;
    /** lb oxide/ac to spread, above the need, and dropped. */
    readonly catchUp: OxideAmounts;
    readonly over: OxideAmounts;
    readonly dropped: OxideAmounts;
    /** lb/ac of the product for each oxide. */
    readonly productLbPerAc: OxideAmounts;
  }[];
  readonly balance: Readonly<Record<keyof OxideAmounts, OxideBalance>>;
  readonly productTons: OxideAmounts;
  /** This map takes the place of the planned broadcast map of these fields: it must not be spread as well. */
  readonly voidsBroadcastOf: readonly string[];
}

const OXIDES = ["p2o5", "k2o"] as const;

/**
 * Need less what was placed, as the next broadcast map. What is over in one class is reported, not taken off another. Every
 * field in `classes` gets its planned broadcast map voided, also where nothing is left to spread. Throws `number-not-usable`.
 */
export function catchUp(input: CatchUpInput): CatchUp {
  const { meterFactor, minimum, productPercent, minimumFieldLb = 0 } = input;
  requireNumber("meterFactor", meterFactor, { above: 0 });
  for (const oxide of OXIDES)
    requireNumber(`productPercent.${oxide}`, productPercent[oxide], { above: 0, atMost: 100 });
  const missing = input.classes.map((one) =>
    both((oxide) => {
      requireNumber(`areaAc of ${one.id}`, one.areaAc);
      const need = requireNumber(`need ${oxide} of ${one.id}`, one.need[oxide]);
      return need - meterFactor * requireNumber(`logged ${oxide} of ${one.id}`, one.logged[oxide]);
    }),
  );
  const fields = [...new Set(input.classes.map((one) => one.fieldId))];
  const large = (gap: number, oxide: keyof OxideAmounts): boolean => gap > 0 && gap >= minimum[oxide];
  const passes = new Set(
    fields.flatMap((fieldId) =>
      OXIDES.filter((oxide) => {
        const lb = input.classes.map((one, c) => {
          const gap = missing[c]![oxide];
          return one.fieldId === fieldId && large(gap, oxide)
            ? (gap * one.areaAc * 100) / productPercent[oxide]
            : 0;
        });
        return sum(lb) >= minimumFieldLb;
      }).map((oxide) => `${fieldId}\n${oxide}`),
    ),
  );
  const classes = input.classes.map(({ id, fieldId, areaAc }, c) => {
    const gap = missing[c]!;
    const spread = both((oxide) =>
      large(gap[oxide], oxide) && passes.has(`${fieldId}\n${oxide}`) ? gap[oxide] : 0,
    );
    return {
      id,
      fieldId,
      areaAc,
      catchUp: spread,
      over: both((oxide) => Math.max(0, -gap[oxide])),
      dropped: both((oxide) => Math.max(0, gap[oxide]) - spread[oxide]),
      productLbPerAc: both((oxide) => (spread[oxide] * 100) / productPercent[oxide]),
    };
  });
  const balance = both((oxide): OxideBalance => {
    const total = (perAc: (c: number) => number): number =>
      sum(input.classes.map((one, c) => perAc(c) * one.areaAc));
    return {
      needLb: total((c) => input.classes[c]!.need[oxide]),
      placedLb: total((c) => meterFactor * input.classes[c]!.logged[oxide]),
      catchUpLb: total((c) => classes[c]!.catchUp[oxide]),
      overLb: total((c) => classes[c]!.over[oxide]),
      droppedLb: total((c) => classes[c]!.dropped[oxide]),
    };
  });
  return {
    classes,
    balance,
    productTons: both((oxide) => (balance[oxide].catchUpLb * 100) / productPercent[oxide] / LB_PER_TON),
    voidsBroadcastOf: fields,
  };
}

const both = <T>(of: (oxide: keyof OxideAmounts) => T): Readonly<Record<keyof OxideAmounts, T>> => ({
  p2o5: of("p2o5"),
  k2o: of("k2o"),
});
