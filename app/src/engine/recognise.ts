import {
  type Answers,
  InputError,
  LEDGER_PATH,
  type Notice,
  newPlan,
  type Plan,
  type PlanField,
  type PlanSource,
  readPlan,
  sha256Hex,
} from "#core";
import { readAndOther, sortedOut } from "./dropped-files.ts";
import { isPlanFile } from "./plan-file.ts";
import type { NamedFile } from "./protocol.ts";

export interface Recognised {
  readonly plan: Plan;
  /** The plan's files by the paths it names. */
  readonly files: readonly NamedFile[];
  readonly notices: readonly Notice[];
  /** A plan came with the files and everything it names was there. */
  readonly asSaved: boolean;
}

export interface Dropped {
  readonly name: string;
  readonly date: string;
  readonly files: readonly NamedFile[];
  readonly answers: Answers;
  /** The open plan with its files, which new fields join. */
  readonly joins: { readonly plan: Plan; readonly files: readonly NamedFile[] } | null;
}

/** A saved plan opens with the files it names; loose files make a new one or join the open one. */
export function recognise(dropped: Dropped): Recognised {
  const files = sortedOut(dropped.files);
  const saved = files.find(([path]) => isPlanFile(path));
  if (saved) return openSaved(saved, files, dropped.joins?.files ?? []);
  return dropped.joins ? joined(dropped, dropped.joins, files) : made(dropped, files);
}

function openSaved(
  [planPath, planBytes]: NamedFile,
  files: readonly NamedFile[],
  before: readonly NamedFile[],
): Recognised {
  const plan = readPlan(planBytes, planPath);
  const folder = planPath.slice(0, -"plan.json".length);
  const given = files.filter(([path]) => path !== planPath);
  const hashes = new Map([...given, ...before].map((file) => [sha256Hex(file[1]), file] as const));
  const taken: NamedFile[] = [];
  for (const source of uniquePaths(plan.sources)) {
    const named = given.find(([path]) => path === folder + source.path || path === source.path);
    const same = hashes.get(source.sha256);
    const file = named ?? same ?? given.find(([path]) => base(path) === base(source.path));
    if (!file) {
      throw new InputError(
        "source-missing",
        `${planPath} names ${source.path} (${source.as}), which is not among the files.`,
        "Drop it together with the plan.",
      );
    }
    taken.push([source.path, file[1]]);
  }
  const ledger = given.find(([path]) => path === folder + LEDGER_PATH);
  if (ledger) taken.push([LEDGER_PATH, ledger[1]]);
  return { plan, files: taken, notices: [], asSaved: true };
}

const base = (path: string): string => path.slice(path.lastIndexOf("/") + 1);

function uniquePaths(sources: readonly PlanSource[]): PlanSource[] {
  const seen = new Set<string>();
  return sources.filter(({ path }) => !seen.has(path) && seen.add(path));
}

function made({ name, date, answers }: Dropped, dropped: readonly NamedFile[]): Recognised {
  const { read, other } = readAndOther(dropped.filter(([path]) => path !== LEDGER_PATH));
  // With nothing else to go by, each says for itself what it is not.
  const files = read.length > 0 ? read : other;
  const { plan, notices } = newPlan(
    name,
    date,
    files.map(([path, bytes]) => ({ path, bytes })),
    answers,
  );
  const ledger = dropped.filter(([path]) => path === LEDGER_PATH);
  const passedOver = other.map(
    ([path]): Notice => ({
      code: "file-ignored",
      message: `${path} is not read and is no part of the plan.`,
      where: path,
    }),
  );
  return {
    plan,
    notices: [...passedOver, ...notices],
    files: [...files, ...ledger],
    asSaved: false,
  };
}

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

/** A field with zones or rates of its own from a file dropped now; else as it was. */
function withNeedFrom(field: PlanField, made: readonly PlanField[], dropped: ReadonlySet<string>): PlanField {
  const from = made.find(({ id }) => id === field.id)?.needFrom;
  return from && "source" in from && dropped.has(from.source) ? { ...field, needFrom: from } : field;
}

/** New fields beside those of the open plan; what was answered for it holds for them unless answered anew. */
function joined(
  dropped: Dropped,
  { plan, files: old }: NonNullable<Dropped["joins"]>,
  fresh: readonly NamedFile[],
): Recognised {
  const names = new Set(fresh.map(([path]) => path));
  const all = [...old.filter(([path]) => !names.has(path)), ...fresh];
  const standing = Object.assign({}, ...plan.sources.map((source) => source.answers));
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
  const result = made({ ...dropped, answers: { ...standing, ...choices, ...dropped.answers } }, all);
  const known = new Set(plan.fields.map((field) => field.id));
  const added = result.plan.fields.filter((field) => !known.has(field.id));
  const kept = plan.fields.map((field) => withNeedFrom(field, result.plan.fields, names));
  const { exclusions = [] } = plan;
  const places = (result.plan.exclusions ?? []).filter(({ source }) => source && names.has(source));
  const clear = [...exclusions.filter(({ source }) => !source || !names.has(source)), ...places];
  return {
    ...result,
    plan: {
      ...plan,
      sources: result.plan.sources,
      fields: [...kept, ...added],
      ...(clear.length > 0 ? { exclusions: clear } : {}),
    },
  };
}
