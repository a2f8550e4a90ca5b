import { requireNumber } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import { LB_PER_TON } from "../units/index.ts";

export interface OxideAmounts {
  readonly p2o5: number;
  readonly k2o: number;
}

export interface CatchUpZone {
  readonly id: string;
  readonly fieldId: string;
  readonly areaAc: number;
  /** lb oxide/ac. */
  readonly need: OxideAmounts;
  /** lb oxide/ac as logged, before the meter factor. */
  readonly logged: OxideAmounts;
}

interface CatchUpInput {
  readonly zones: readonly CatchUpZone[];
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
  /** Below the minimum of a zone or of a field's pass. */
  readonly droppedLb: number;
}

export interface CatchUp {
  readonly zones: readonly {
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
 * Need less what was placed, as the next broadcast map. What is over in one zone is reported, not taken off another. Every
 * field in `zones` gets its planned broadcast map voided, also where nothing is left to spread. Throws `number-not-usable`.
 */
export function catchUp(input: CatchUpInput): CatchUp {
  const { meterFactor, minimum, productPercent, minimumFieldLb = 0 } = input;
  requireNumber("meterFactor", meterFactor, { above: 0 });
  for (const oxide of OXIDES)
    requireNumber(`productPercent.${oxide}`, productPercent[oxide], { above: 0, atMost: 100 });
  const missing = input.zones.map((zone) =>
    both((oxide) => {
      requireNumber(`areaAc of ${zone.id}`, zone.areaAc);
      const need = requireNumber(`need ${oxide} of ${zone.id}`, zone.need[oxide]);
      return need - meterFactor * requireNumber(`logged ${oxide} of ${zone.id}`, zone.logged[oxide]);
    }),
  );
  const fields = [...new Set(input.zones.map((zone) => zone.fieldId))];
  const large = (gap: number, oxide: keyof OxideAmounts): boolean => gap > 0 && gap >= minimum[oxide];
  const passes = new Set(
    fields.flatMap((fieldId) =>
      OXIDES.filter((oxide) => {
        const lb = input.zones.map((zone, z) => {
          const gap = missing[z]![oxide];
          return zone.fieldId === fieldId && large(gap, oxide)
            ? (gap * zone.areaAc * 100) / productPercent[oxide]
            : 0;
        });
        return sum(lb) >= minimumFieldLb;
      }).map((oxide) => `${fieldId}\n${oxide}`),
    ),
  );
  const zones = input.zones.map(({ id, fieldId, areaAc }, z) => {
    const gap = missing[z]!;
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
    const total = (perAc: (z: number) => number): number =>
      sum(input.zones.map((zone, z) => perAc(z) * zone.areaAc));
    return {
      needLb: total((z) => input.zones[z]!.need[oxide]),
      placedLb: total((z) => meterFactor * input.zones[z]!.logged[oxide]),
      catchUpLb: total((z) => zones[z]!.catchUp[oxide]),
      overLb: total((z) => zones[z]!.over[oxide]),
      droppedLb: total((z) => zones[z]!.dropped[oxide]),
    };
  });
  return {
    zones,
    balance,
    productTons: both((oxide) => (balance[oxide].catchUpLb * 100) / productPercent[oxide] / LB_PER_TON),
    voidsBroadcastOf: fields,
  };
}

const both = <T>(of: (oxide: keyof OxideAmounts) => T): Readonly<Record<keyof OxideAmounts, T>> => ({
  p2o5: of("p2o5"),
  k2o: of("k2o"),
});
