import { Summer } from "../numeric/index.ts";
import { acres } from "../units/index.ts";

/** What `cellClasses` takes. */
export interface CellClassesInput {
  /** lb oxide/ac in cell order; NaN = no value. */
  readonly p2o5LbPerAc: Float64Array;
  readonly k2oLbPerAc: Float64Array;
  readonly areaM2: Float64Array;
  /** Cells of different kinds (limits, floors) are never put together. */
  readonly kind: Uint8Array;
  readonly mostClasses: number;
}

/** Land of one class: its area and its area-weighted mean needs, lb oxide/ac. */
export interface CellClass {
  readonly areaAc: number;
  readonly p2o5LbPerAc: number;
  readonly k2oLbPerAc: number;
  readonly kind: number;
}

/** Cells taken together that need the same, within a class. */
export interface CellClasses {
  readonly classes: readonly CellClass[];
  /** Class of each cell, -1 where nothing is wanted to be known. */
  readonly classOf: Int32Array;
  /** Width of a class, lb oxide/ac; 0 when the needs were left as they are. */
  readonly stepLbPerAc: number;
  /** lb of each oxide that change place inside the field: half the sum of |class - need| x area. */
  readonly movedLb: { readonly P2O5: number; readonly K2O: number };
}

const STEPS = [0.5, 1, 2, 4, 5, 8, 10, 15, 20, 30, 40, 60, 80, 120, 240, 1_000, 1e6];
const RUNGS = 2 ** 20;

/**
 * Cells by their needs in at most `mostClasses` classes, by the smallest step that does it. A need of 0 keeps a class of
 * its own, and a class has the mean need of its cells, so that the field's pounds stay what they are. More classes than
 * asked come back only where the kinds alone are more.
 */
export function cellClasses(input: CellClassesInput): CellClasses {
  const { p2o5LbPerAc, k2oLbPerAc, areaM2, kind, mostClasses } = input;
  const inside: number[] = [];
  for (let i = 0; i < areaM2.length; i++)
    if (areaM2[i]! > 0 && !Number.isNaN(p2o5LbPerAc[i]!)) inside.push(i);
  const exact = (i: number): string => `${kind[i]} ${p2o5LbPerAc[i]} ${k2oLbPerAc[i]}`;
  const stepped = (step: number) => (i: number) =>
    (kind[i]! * RUNGS + Math.ceil(p2o5LbPerAc[i]! / step)) * RUNGS + Math.ceil(k2oLbPerAc[i]! / step);
  let found = group(inside, areaM2.length, exact, mostClasses);
  let step = 0;
  for (let s = 0; found === null; s++) {
    step = STEPS[s]!;
    found = group(inside, areaM2.length, stepped(step), s === STEPS.length - 1 ? 1e9 : mostClasses);
  }
  const classes = found.members.map((cells): CellClass => {
    const [area, p, k] = [new Summer(), new Summer(), new Summer()];
    for (const i of cells) {
      area.add(areaM2[i]!);
      p.add(p2o5LbPerAc[i]! * areaM2[i]!);
      k.add(k2oLbPerAc[i]! * areaM2[i]!);
    }
    const first = cells[0]!;
    const same = step === 0;
    return {
      areaAc: acres(area.total),
      p2o5LbPerAc: same ? p2o5LbPerAc[first]! : p.total / area.total,
      k2oLbPerAc: same ? k2oLbPerAc[first]! : k.total / area.total,
      kind: kind[first]!,
    };
  });
  const [movedP, movedK] = [new Summer(), new Summer()];
  for (const i of inside) {
    const one = classes[found.classOf[i]!]!;
    movedP.add((Math.abs(one.p2o5LbPerAc - p2o5LbPerAc[i]!) * acres(areaM2[i]!)) / 2);
    movedK.add((Math.abs(one.k2oLbPerAc - k2oLbPerAc[i]!) * acres(areaM2[i]!)) / 2);
  }
  const movedLb = { P2O5: movedP.total, K2O: movedK.total };
  return { classes, classOf: found.classOf, stepLbPerAc: step, movedLb };
}

function group<Key>(
  inside: readonly number[],
  cells: number,
  keyOf: (i: number) => Key,
  most: number,
): { readonly classOf: Int32Array; readonly members: number[][] } | null {
  const places = new Map<Key, number>();
  const members: number[][] = [];
  const classOf = new Int32Array(cells).fill(-1);
  for (const i of inside) {
    const key = keyOf(i);
    let place = places.get(key);
    if (place === undefined) {
      if (members.length === most) return null;
      place = members.push([]) - 1;
      places.set(key, place);
    }
    members[place]!.push(i);
    classOf[i] = place;
  }
  return { classOf, members };
}
