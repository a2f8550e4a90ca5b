import { InputError } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import { acres, counted, numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";

/** A pass as sheets and display number it: `24`, `H1` on the headland. */
export const passNumber = ({
  kind,
  pass,
}: Pick<FieldResult["passes"]["runs"][number], "kind" | "pass">): string =>
  `${kind === "headland" ? "H" : ""}${numberText(pass, 0)}`;

/** How far the work has got, in the order driven. */
export interface DoneAfter {
  /** Runs driven: passes, and each part of a pass that the outline breaks. */
  readonly driven: number;
  /** `after pass 24 (30 driven)`. */
  readonly words: string;
}

/**
 * What was done when a pass was finished, the pass named as sheets and display number it: `24`, `-3`, or `H1` on the headland.
 * Where a pass is broken and its parts are not driven one after the other, `driven:30` says how many runs were driven, as
 * the tables of stops count them. Throws `pass-out-of-range` and `pass-in-parts`.
 */
export function doneAfter(field: Pick<FieldResult, "field" | "passes">, text: string): DoneAfter {
  const { runs } = field.passes;
  const count = /^driven:(\d+)$/.exec(text);
  if (count) return drivenSoFar(field, Number(count[1]));
  const named = /^(H?)([-\u2212]?\d+)$/i.exec(text.trim());
  const kind = named?.[1] ? "headland" : "interior";
  const pass = Number(named?.[2]?.replace("\u2212", "-"));
  const places = runs.flatMap((run, r) => (run.kind === kind && run.pass === pass ? [r] : []));
  const [first, last] = [places[0], places.at(-1)];
  if (named === null || first === undefined || last === undefined) {
    const interior = runs.filter((run) => run.kind === "interior").map((run) => run.pass);
    const range = `passes ${Math.min(...interior)} to ${Math.max(...interior)}`;
    const headland = runs.some((run) => run.kind === "headland") ? " and headland passes H1 and on" : "";
    throw new InputError(
      "pass-out-of-range",
      `--done-after ${text}: no pass of ${field.field.name}, which has ${range}${headland}`,
      "Give the number of the last pass done as sheets and display have it, such as 24 or H1.",
    );
  }
  if (last - first + 1 !== places.length) {
    const parts = places.map((place) => `driven:${place + 1}`);
    throw new InputError(
      "pass-in-parts",
      `${field.field.name}: pass ${text} is driven in ${places.length} parts with other passes between them`,
      `Say after which part: --done-after ${parts.join(" or ")}.`,
    );
  }
  return { driven: last + 1, words: `after pass ${text.toUpperCase()} (${last + 1} driven)` };
}

/** Acres under which nothing counts as left to strip: a corner that the outline cuts off is no work (ours). */
export const LEAST_LEFT_AC = 0.005;

/** Throws `nothing-left` where every pass of a field is done, but for corners that are no work. */
export function requireSomethingLeft(
  { field, passes }: Pick<FieldResult, "field" | "passes">,
  { driven, words }: DoneAfter,
): void {
  const leftM2 = sum(passes.runs.slice(driven).map(({ areaM2 }) => areaM2));
  if (acres(leftM2) < LEAST_LEFT_AC) throw nothingLeft(field.name, words);
}

/** Thrown where a field's strip pass is done and a verb plans what is left of it. */
export const nothingLeft = (name: string, words: string): InputError =>
  new InputError(
    "nothing-left",
    `${name} is finished ${words}: nothing is left to strip`,
    "Give the last pass done, if it is another one. To enter the field as finished: ledger --finish.",
  );

function drivenSoFar({ field, passes }: Pick<FieldResult, "field" | "passes">, driven: number): DoneAfter {
  const { runs } = passes;
  if (driven > runs.length) {
    throw new InputError(
      "pass-out-of-range",
      `--done-after driven:${driven}: ${field.name} has ${counted(runs.length, "run")} in the order driven`,
      `Give driven:0 to driven:${runs.length}; bermplan fills lists them.`,
    );
  }
  const last = runs[driven - 1];
  if (last === undefined) return { driven, words: "before the first pass" };
  return {
    driven,
    words: `after pass ${passNumber(last)} (${driven} driven)`,
  };
}
