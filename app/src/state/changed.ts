import type { Layer } from "#core";

/** Values nearer than this read the same: half of what is printed last. */
const sameWithin = ({ id }: Layer): number => (id === "soil/CEC" ? 0.05 : 0.5);

/** Acres on which a layer has more, less, about the same as before. */
export interface Changed {
  readonly moreAc: number;
  readonly lessAc: number;
  readonly sameAc: number;
}

/** The same places before and now; those that lack a value are in none. Null where there are more or fewer places. */
export function changed(before: Layer, now: Layer): Changed | null {
  if (before.values.length !== now.values.length) return null;
  const least = sameWithin(now);
  const acres = { moreAc: 0, lessAc: 0, sameAc: 0 };
  now.values.forEach((value, i) => {
    const gap = value - before.values[i]!;
    if (!(now.areaAc[i]! > 0) || Number.isNaN(gap)) return;
    acres[gap >= least ? "moreAc" : gap <= -least ? "lessAc" : "sameAc"] += now.areaAc[i]!;
  });
  return acres;
}
