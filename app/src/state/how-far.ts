import { computed, type ReadonlySignal } from "@preact/signals";
import { type Notice, type Plan, sum } from "#core";
import type { FieldLine } from "../engine/protocol.ts";
import { farmLines } from "./figures.ts";
import { disagreements, heldFiles } from "./held.ts";
import { chosenField } from "./look.ts";
import { beside, opened, plan } from "./opened.ts";
import { farm, field, isBehind } from "./results.ts";
import type { SheetName } from "./route.ts";
import { filesKey, splitKey } from "./split-key.ts";

/** Steps done in a field: soil tests in, need worked out, split kept, files checked, taken away. */
type HowFar = 1 | 2 | 3 | 4 | 5;
export const howFarWords: Readonly<Record<HowFar, string>> = {
  1: "soil tests in",
  2: "need worked out",
  3: "split kept",
  4: "files checked",
  5: "files taken",
};

/** The same in a word, for labels on the plat. */
export const howFarShort: Readonly<Record<HowFar, string>> = {
  1: "tests",
  2: "need",
  3: "kept",
  4: "checked",
  5: "taken",
};

export const isKept = (of: Plan, id: string): boolean => beside.value.keptSplit[id] === splitKey(of, id);

const stepsDone: ReadonlySignal<ReadonlyMap<string, HowFar>> = computed(() => {
  const of = plan.value;
  const lines = new Map(farmLines.value.map((line) => [line.id, line]));
  return new Map((of?.fields ?? []).map(({ id }) => [id, stepsOf(of!, lines.get(id), id)]));
});

function stepsOf(of: Plan, line: FieldLine | undefined, id: string): HowFar {
  if (!line) return 1;
  if (beside.value.taken[id] === filesKey(of, id)) return 5;
  if (!isKept(of, id)) return 2;
  return line.written ? 4 : 3;
}

/** Files can be taken of a split that nobody kept: what asks for it to be kept is not done then. */
const isDone = (of: Plan, id: string, step: HowFar): boolean =>
  howFar(id) >= step && (step < 3 || step === 5 || isKept(of, id));

export const howFar = (id: string): HowFar => stepsDone.value.get(id) ?? 1;

/** A berm glyph a step done. */
export const bermGlyphs = (steps: HowFar): string => "∩".repeat(steps);

export type SheetState = "done" | "open" | "out of date" | "not begun";

/** How the index shows a sheet: done, not begun, or out of date. */
export const sheetStates: ReadonlySignal<Readonly<Record<SheetName, SheetState>>> = computed(() => {
  const of = plan.value;
  const id = chosenField.value;
  const shown = field.value;
  const have = Boolean(of && shown && shown.id === id);
  const kept = Boolean(of && id && isKept(of, id));
  const once = Boolean(id && beside.value.keptSplit[id] !== undefined);
  const was = (isDone: boolean, wasDone: boolean): SheetState =>
    isDone ? "done" : wasDone ? "out of date" : "not begun";
  const allFarm = Boolean(of && farm.value && farm.value.incomplete === "");
  return {
    farm: was(allFarm && of!.fields.every(({ id: one }) => isDone(of!, one, 4)), false),
    soil: was(have, false),
    need: was(have, false),
    split: was(have && kept, once),
    strips: was(
      have && kept && shown!.written && !isBehind.value,
      once && beside.value.taken[id ?? ""] !== undefined,
    ),
    fills: was(have && of!.rig.work !== undefined && kept, false),
    applied: was(false, false),
    order: was(allFarm && of!.fields.every((one) => isKept(of!, one.id)), false),
    "cab-sheet": was(Boolean(id && of && beside.value.taken[id] === filesKey(of, id)), false),
  };
});

const NEED_CODES =
  /guide|unconfirmed|method|figure|finish|depth|yield|removal|setback|exclusion|budget|build-up|covered|credit|addition|conversion|critical|rotation|residue|lime|cec-under|rates-without|own-table/;
const SPLIT_CODES =
  /cap|ceiling|oxide|short|salt|seed|starter|optimum|priority|acres-a-day|density|broadcast-in-crop|meter-cuts|flat-rate|micronutrient|humidity/;
/** How passes lie and are driven, and what the maps of them hold. */
const STRIPS_CODES =
  /^planter-(?!waits)|bend-too-tight|all-headland|^headland|stop-on-strips|^overlap$|rate-lead|shift-along|map-coarsened|limit$|limits-not-met|run-on$|passes-not-proven|^broadcast-little|^meter-(?!cuts)|^spreader-least|^step-coarse|^maximum-|^small-rate|-at-zero$/;
/** What lies in the field by the ledger, beside its maps. */
const LAID_CODES = /^placed-|^spread-|^pass-finished|^stripped-not-finished|^ledger-/;

/** Which sheet deals with a doubt. */
function sheetOf(notice: Notice): SheetName {
  if (STRIPS_CODES.test(notice.code) || LAID_CODES.test(notice.code)) return "strips";
  if (SPLIT_CODES.test(notice.code)) return "split";
  if (/sample|test|row|place|outlier/.test(notice.code)) return "soil";
  if (NEED_CODES.test(notice.code)) return "need";
  return "soil";
}

/** Steps after which a sheet's work on a field is done. */
const STEPS: Readonly<Partial<Record<SheetName, HowFar>>> = {
  farm: 4,
  soil: 2,
  need: 2,
  split: 3,
  strips: 4,
  order: 3,
  "cab-sheet": 5,
};

/** Share of the farm's acres whose work on a sheet is done. */
export const sharesDone: ReadonlySignal<Readonly<Partial<Record<SheetName, number>>>> = computed(() => {
  const of = plan.value;
  const lines = farmLines.value;
  const missing = of ? of.fields.length - lines.length : 0;
  const acres = acresOf(lines);
  // A field not worked out yet weighs as much as the mean of the others.
  const all = lines.length === 0 ? 0 : acres * (1 + missing / lines.length);
  const share = (step: HowFar): number => {
    const done = lines.filter(({ id }) => of && isDone(of, id, step));
    return all === 0 ? 0 : acresOf(done) / all;
  };
  return Object.fromEntries(Object.entries(STEPS).map(([sheet, step]) => [sheet, share(step)]));
});

/** Doubts of the chosen field and of its files, by sheet. */
export const doubts: ReadonlySignal<Readonly<Partial<Record<SheetName, readonly Notice[]>>>> = computed(
  () => {
    const all = [...(field.value?.notices ?? []), ...(farm.value?.notices ?? [])];
    const by: Partial<Record<SheetName, Notice[]>> = {};
    for (const notice of all) {
      const sheet = sheetOf(notice);
      by[sheet] = [...(by[sheet] ?? []), notice];
    }
    by.strips = [...(by.strips ?? []), ...(isHeld() ? disagreements.value : [])];
    const refused = farm.value?.refused ?? [];
    const farmDoubts = refused.map(({ field: id, code, message, remedy }) => ({
      code,
      message: `${message} ${remedy}`,
      where: id,
    }));
    return { ...by, ...(farmDoubts.length > 0 ? { farm: farmDoubts } : {}) };
  },
);

/** The folder served is the one this plan came from. */
const isHeld = (): boolean => heldFiles.value !== null && heldFiles.value.origin === opened.value?.origin;

/** Acres of fields whose split is kept and whose files were written and read back. */
export const checkedAcres: ReadonlySignal<number> = computed(() => {
  const of = plan.value;
  return acresOf(farmLines.value.filter(({ id }) => of && isDone(of, id, 4)));
});

const acresOf = (lines: readonly FieldLine[]): number => sum(lines.map((line) => line.areaAc));
