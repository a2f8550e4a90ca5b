import {
  type Answers,
  counted,
  isKeyByFile,
  keyOfFile,
  LEDGER_PATH,
  type Plan,
  type PlanField,
  QuestionError,
} from "#core";
import type { NamedFile } from "./drawn-types.ts";
import { readAndOther } from "./dropped-files.ts";
import { type Dropped, made, type Recognised } from "./made-plan.ts";
import { type OpenPlan, type Placed, placedBeside } from "./same-names.ts";

/** What the plan's files of polygons were taken for, and what was answered about them, by question key. */
function rolesOf(plan: Plan): [key: string, answer: string][] {
  const roles = plan.sources.flatMap(({ path, as }): [string, string][] =>
    as === "boundary" || as === "zones" || as === "rates" || as === "exclusions"
      ? [[`role.${path}`, as]]
      : [],
  );
  const clear = (plan.exclusions ?? []).flatMap(({ source, what, method, setbackFt }): [string, string][] =>
    source === undefined
      ? []
      : [
          [`exclusion-what.${source}`, what],
          [`exclusion-method.${source}`, method],
          [`setback-ft.${source}`, String(setbackFt)],
        ],
  );
  const from = plan.fields.flatMap(({ needFrom }): [string, string][] => {
    if (needFrom?.kind === "zones") return [[`zone-id-column.${needFrom.source}`, needFrom.idColumn]];
    if (needFrom?.kind !== "rates") return [];
    return (["P2O5", "K2O"] as const).flatMap((oxide): [string, string][] => {
      const { column = "none", of, unit } = needFrom.rates[oxide] ?? {};
      return [
        [`rate-column.${oxide}`, column],
        ...(of ? [[`rate-of.${oxide}`, of] as [string, string]] : []),
        ...(unit ? [[`rate-unit.${oxide}`, unit] as [string, string]] : []),
      ];
    });
  });
  return [...roles, ...clear, ...from];
}

/** A field with the samples, zones or rates of its own that a file dropped now brings; else as it was. */
function withFiles(field: PlanField, made: readonly PlanField[], dropped: ReadonlySet<string>): PlanField {
  const one = made.find(({ id }) => id === field.id);
  if (!one) return field;
  const from = one.needFrom;
  const { samples: _, moreSamples: __, ...rest } = field;
  const { samples, moreSamples } = one;
  const isSampled = [samples, ...(moreSamples ?? [])].some((path) => path !== undefined && dropped.has(path));
  return {
    ...(isSampled
      ? { ...rest, ...(samples ? { samples } : {}), ...(moreSamples ? { moreSamples } : {}) }
      : field),
    ...(from && "source" in from && dropped.has(from.source) ? { needFrom: from } : {}),
  };
}

/** Places of the plan's files that were replaced are told by the new file's name. */
const renamed = <Of>(of: Of, moved: ReadonlyMap<string, string>): Of =>
  moved.size === 0
    ? of
    : JSON.parse(JSON.stringify(of), (_, value) => (typeof value === "string" && moved.get(value)) || value);

/**
 * What was answered for the open plan's files, each for itself: no other file is read by it but one that takes its place.
 * Cells of a replaced file that were mended are its own.
 */
export function standingAnswers({ plan }: OpenPlan, placed: readonly Placed[]): Answers {
  const moved = movedOf(placed);
  const all = plan.sources.flatMap(({ path, answers }) =>
    Object.entries(answers).map(([key, answer]) => ({ path, key, answer })),
  );
  return Object.fromEntries(
    all.flatMap(({ path, key, answer }): [string, string][] => {
      if (isKeyByFile(key)) return [[keyOfFile(key, moved.get(path) ?? path), answer]];
      const from = [...moved.keys()].find((path) => key.includes(`:${path}:`));
      if (from === undefined) return [[key, answer]];
      return key.startsWith("column:") ? [[key.replace(from, moved.get(from)!), answer]] : [];
    }),
  );
}

const movedOf = (placed: readonly Placed[]): ReadonlyMap<string, string> =>
  new Map(placed.flatMap(({ state, of, path }) => (state === "replaces" ? [[of, path] as const] : [])));

/** New fields beside those of the open plan; of rig and cap and its own fields it keeps what was answered unless answered anew. */
export function joined(dropped: Dropped, open: OpenPlan, files: readonly NamedFile[]): Recognised {
  const { placed, questions } = placedBeside(files, open, dropped.answers);
  if (questions.length > 0) throw new QuestionError(questions);
  const coming = placed
    .filter(({ state }) => state !== "held" && state !== "left")
    .map(({ path, bytes }): NamedFile => [path, bytes]);
  const other = readAndOther(coming).other.filter(([path]) => path !== LEDGER_PATH);
  // With nothing else to go by, each says for itself what it is not.
  if (placed.length > 0 && other.length === placed.length) return made(dropped, other);
  const fresh = coming.filter((one) => !other.includes(one));
  if (fresh.length === 0) return { ...open, notices: [], asSaved: false, change: "" };
  const moved = movedOf(placed);
  const plan = renamed(open.plan, moved);
  const names = new Set(fresh.map(([path]) => path));
  const inUse = new Set([...open.plan.sources.map(({ path }) => path), LEDGER_PATH]);
  const own = open.files.filter(([path]) => inUse.has(path) && !moved.has(path) && !names.has(path));
  const choices = {
    rows: String(plan.rig.rows),
    "row-spacing-in": String(plan.rig.rowSpacingIn),
    cap: `${plan.split.capBasis}:${plan.split.capLbPerAc}`,
    ...Object.fromEntries(rolesOf(plan)),
    ...Object.fromEntries(
      plan.fields.flatMap((field) => [
        [`crop.${field.id}`, field.crop],
        [`yield.${field.id}`, String(field.yieldBuPerAc)],
        [`guide.${field.id}`, field.guide],
      ]),
    ),
  };
  const answers = { ...standingAnswers(open, placed), ...choices, ...dropped.answers };
  const result = made({ ...dropped, answers }, [...own, ...coming]);
  const known = new Set(plan.fields.map((field) => field.id));
  const added = result.plan.fields.filter((field) => !known.has(field.id));
  const inPlan = new Set([...result.plan.sources.map(({ path }) => path), LEDGER_PATH]);
  const change = changeOf(
    added.length,
    moved,
    [...names].filter((path) => inPlan.has(path)),
  );
  if (change === "") return { ...open, notices: [], asSaved: false, change };
  const kept = plan.fields.map((field) => withFiles(field, result.plan.fields, names));
  const { exclusions = [] } = plan;
  const places = (result.plan.exclusions ?? []).filter(({ source }) => source && names.has(source));
  const clear = [...exclusions.filter(({ source }) => !source || !names.has(source)), ...places];
  // Files that no plan names any more stay: an edit undone names them again.
  const taken = new Set(result.files.map(([path]) => path));
  return {
    ...result,
    files: [...open.files.filter(([path]) => !taken.has(path)), ...result.files],
    // Of rig, spreader and maps the plan has its own.
    notices: result.notices.filter(({ code }) => code !== "choices-taken"),
    plan: {
      ...plan,
      sources: result.plan.sources,
      fields: [...kept, ...added],
      ...(clear.length > 0 ? { exclusions: clear } : {}),
    },
    change,
  };
}

function changeOf(added: number, moved: ReadonlyMap<string, string>, names: readonly string[]): string {
  const taking = new Set(moved.values());
  const others = names.filter((path) => !taking.has(path));
  const files = others.length > 2 ? counted(others.length, "file") : others.join(" and ");
  return [
    ...[...moved].map(([of, by]) => (of === by ? `${of} replaced` : `${of} replaced by ${by}`)),
    ...(added > 0 ? [`${counted(added, "field")} added`] : others.length > 0 ? [`${files} added`] : []),
  ].join(", ");
}
