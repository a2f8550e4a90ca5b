import {
  type Answers,
  counted,
  InputError,
  LEDGER_PATH,
  type Plan,
  type PlanSource,
  type Question,
  readInputFile,
  sameBytes,
} from "#core";
import type { NamedFile } from "./drawn-types.ts";
import { numbered, wasCalled } from "./dropped-files.ts";
import { placesIn } from "./spots.ts";

/** The open plan with its files, which what is dropped joins. */
export interface OpenPlan {
  readonly plan: Plan;
  readonly files: readonly NamedFile[];
}

/** A dropped file among those of the open plan, under the name it joins by. */
export interface Placed {
  readonly path: string;
  readonly bytes: NamedFile[1];
  /**
   * `new`: no file of its name is there; `held`: the plan has these bytes; `beside`: the plan keeps its own of this
   * name too; `replaces`: it takes the place of one; `left`: the plan keeps its own; `asked`: nobody has said yet.
   */
  readonly state: "new" | "held" | "beside" | "replaces" | "left" | "asked";
  /** The plan's file that it is held against; the name it was dropped by where it is new or held. */
  readonly of: string;
}

/**
 * Dropped files held against those of the plan by name and bytes. None takes another's place or name unless that is
 * answered; where both lie on the same ground, or nobody can see where, it is asked.
 */
export function placedBeside(
  files: readonly NamedFile[],
  { plan, files: old }: OpenPlan,
  answers: Answers,
): { readonly placed: readonly Placed[]; readonly questions: readonly Question[] } {
  const inUse = new Set(plan.sources.map(({ path }) => path));
  const own = old.filter(([path]) => inUse.has(path) || path === LEDGER_PATH);
  const taken = new Map<string, Uint8Array>(old);
  const standing: Answers = Object.assign({}, ...plan.sources.map((source: PlanSource) => source.answers));
  const questions: Question[] = [];
  const placed = files.map(([name, bytes]): Placed => {
    // Of several of one name in the drop the later ones have a number already.
    const given = files.find(([first]) => wasCalled(name, first))?.[0] ?? name;
    const same = own.find(([, held]) => sameBytes(held, bytes));
    if (same) return { path: same[0], bytes, state: "held", of: given };
    const isLedger = given === LEDGER_PATH;
    const path = isLedger ? given : freeName(given, bytes, taken);
    const ofName = own.filter(([held]) => wasCalled(held, given));
    const alike = ofName.filter((held) => isLedger || onOneGround(held, [path, bytes], standing));
    taken.set(path, bytes);
    if (alike.length === 0) return { path, bytes, state: path === given ? "new" : "beside", of: given };
    const key = `same-name.${path}`;
    const answer = answers[key];
    const replaced = alike.find(([held]) => answer === `replace:${held}`);
    if (replaced) return { path, bytes, state: "replaces", of: replaced[0] };
    const [first] = alike[0]!;
    const other = isLedger ? "leave" : "beside";
    if (answer === other) return { path, bytes, state: isLedger ? "left" : "beside", of: first };
    const inPlan = alike.map((held) => `${held[0]}${sizeOf(held, standing)}`).join(", ");
    const named = isLedger ? "" : ` It is named ${path} here either way, so that an Undo has both.`;
    questions.push({
      key,
      text: `The plan has ${inPlan}; the ${given} dropped${sizeOf([given, bytes], standing)} is another. Does it replace the plan's?${named}`,
      choices: [...alike.map(([of]) => `replace:${of}`), other],
      seen: "",
    });
    return { path, bytes, state: "asked", of: first };
  });
  return { placed, questions };
}

/** The name itself, or the first number that is free or holds the same already. */
function freeName(path: string, bytes: Uint8Array, taken: ReadonlyMap<string, Uint8Array>): string {
  const isFree = (name: string) => !taken.has(name) || sameBytes(taken.get(name)!, bytes);
  let name = path;
  for (let number = 2; !isFree(name); number++) name = numbered(path, number);
  return name;
}

/** Whether the ground of two files meets; so, too, where that of one cannot be seen. */
function onOneGround(a: NamedFile, b: NamedFile, answers: Answers): boolean {
  const [one, other] = [boxOf(a, answers), boxOf(b, answers)];
  if (one === null || other === null) return true;
  return [0, 1].every((axis) => one.low[axis]! <= other.high[axis]! && other.low[axis]! <= one.high[axis]!);
}

function boxOf([path, bytes]: NamedFile, answers: Answers): { low: number[]; high: number[] } | null {
  const places = placesIn(path, bytes, answers);
  if (places.length === 0) return null;
  const along = (axis: 0 | 1, pick: (a: number, b: number) => number): number =>
    places.reduce((so, place) => pick(so, place[axis]), places[0]![axis]);
  return {
    low: [along(0, Math.min), along(1, Math.min)],
    high: [along(0, Math.max), along(1, Math.max)],
  };
}

/** ` (63 rows)`; empty where the file cannot be read. */
function sizeOf([path, bytes]: NamedFile, answers: Answers): string {
  try {
    const { table, layers } = readInputFile(path, bytes, answers);
    if (table) return ` (${counted(table.rows.length, "row")})`;
    const shapes = layers.reduce((total, { features }) => total + features.length, 0);
    return shapes === 0 ? "" : ` (${counted(shapes, "shape")})`;
  } catch (error) {
    if (error instanceof InputError) return "";
    throw error;
  }
}
