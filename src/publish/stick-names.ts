import { InputError } from "../errors/index.ts";
import type { Plan } from "../plan/index.ts";
import { FALLBACK_MARK, fieldCodes, KG_HA_MARK, remainderOf, stemWithCode } from "../prescription/index.ts";
import { revisionLetter, revisionNumber } from "./stick-record.ts";

/** A map as its name on a stick needs it. */
export interface NamedMap {
  readonly stem: string;
  readonly field: string;
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
}

/** Letters of a name where the controller says nothing (common practice: under 20 for all but the oldest). */
const USUAL_LENGTH = 20;
const MARKS = `${FALLBACK_MARK}|${KG_HA_MARK}`;

/**
 * Names of all maps of a build on a stick, without the letter of the revision: the stem where that and the letter
 * fit, else code and bin run together and cut. A name stays what it is when fields are left out, and no two are alike.
 * Throws `names-too-short`.
 */
export function stickNames(maps: readonly NamedMap[], nameLength: number | undefined): Map<string, string> {
  // Room for a mark of another form and for the letter with its underscore.
  const most = nameLength ?? USUAL_LENGTH + 3;
  if (maps.every((map) => map.stem.length + 3 <= most)) {
    return new Map(maps.map((map) => [map.stem, `${map.stem}_`]));
  }
  // X: what is left of a field, B: broadcast.
  const tagOf = ({ stem, pass, bin }: NamedMap) =>
    `${remainderOf(stem) === null ? "" : "X"}${pass === "strip" ? bin : `B${bin}`}`.toUpperCase();
  const longest = maps.reduce((length, map) => Math.max(length, tagOf(map).length), 0);
  const room = most - longest - 2;
  if (room < 2) {
    const message = `names of ${most} letters are too short for a field, a bin and the letter of the revision`;
    throw new InputError(
      "names-too-short",
      message,
      "Give the bins shorter ids, or the controller longer names.",
    );
  }
  const codes = new Map<string, string>();
  const taken = new Set<string>();
  for (const { stem, field } of maps) {
    if (codes.has(field)) continue;
    const plain = stem.slice(0, stem.indexOf("_"));
    let code = plain.slice(0, room);
    for (let n = 2; taken.has(code); n++) code = `${plain.slice(0, room - String(n).length)}${n}`;
    taken.add(code);
    codes.set(field, code);
  }
  return new Map(maps.map((map) => [map.stem, `${codes.get(map.field)}${tagOf(map)}`]));
}

/**
 * Begin of the names that a field's maps of a pass have on a stick of the plan's build, where the controller's names are too
 * short for the stems: `NORTL`, with marks and the letter of the revision behind. Empty where the stems fit. `own` are the
 * field's maps. Throws `names-too-short` as a stick does.
 */
export function shortNamesOf(
  plan: Plan,
  fieldId: string,
  own: readonly Omit<NamedMap, "field">[],
  ofPass: NamedMap["pass"],
): string[] {
  return namesOfField(plan, fieldId, own).flatMap(({ pass, name }) =>
    pass === ofPass && !name.endsWith("_") ? [name] : [],
  );
}

/**
 * Whether a map was put on a stick of the plan's build under a name, as the ledger has what was loaded: by its stem, or short where
 * the controller's names are. `own` are the field's maps. Throws `names-too-short` as a stick does.
 */
export function namedOnStick(
  plan: Plan,
  fieldId: string,
  own: readonly Omit<NamedMap, "field">[],
): (stem: string, name: string) => boolean {
  const names = new Map(namesOfField(plan, fieldId, own).map(({ stem, name }) => [stem, name]));
  return (stem, name) => {
    const base = names.get(stem);
    return base !== undefined && highestLetter([`${name}.shp`], [base]) > 0;
  };
}

/** The names of a field's maps on a stick of the plan's build, without the letter of the revision. */
function namesOfField(plan: Plan, fieldId: string, own: readonly Omit<NamedMap, "field">[]) {
  const codes = fieldCodes(plan.fields.map(({ id }) => id));
  // Maps of the other fields matter by their codes alone: they are taken like this field's.
  const maps = plan.fields.flatMap(({ id }) =>
    own.map(
      ({ stem, pass, bin }): NamedMap => ({
        ...{ field: id, pass, bin },
        stem: stemWithCode(stem, codes.get(id)!),
      }),
    ),
  );
  const names = stickNames(maps, plan.controller?.nameLength);
  return maps.flatMap((map) =>
    map.field === fieldId ? [{ stem: map.stem, pass: map.pass, name: names.get(map.stem)! }] : [],
  );
}

/**
 * The highest revision among paths on a stick that have the name of one of these maps, in any form, and a letter; 0 where
 * none has. `names` without their letters, as `stickNames` gives them.
 */
export function highestLetter(paths: readonly string[], names: Iterable<string>): number {
  const bases = [...names].map((base) =>
    base.endsWith("_") ? `${base.slice(0, -1)}(?:${MARKS})?_` : `${base}(?:${MARKS})?`,
  );
  if (bases.length === 0) return 0;
  const ours = new RegExp(`(?:^|/)(?:${bases.join("|")})([A-Z]{1,2})\\.[^./]+$`, "i");
  return paths.reduce((highest, path) => Math.max(highest, revisionNumber(ours.exec(path)?.[1] ?? "")), 0);
}

/** `KETTLE_L_1152_B`, or with the mark of another form `KETTLE_L_1152F_B`; run together where names are short. */
export function nameWithLetter(base: string, mark: string, revision: number): string {
  const letter = revisionLetter(revision);
  return base.endsWith("_") ? `${base.slice(0, -1)}${mark}_${letter}` : `${base}${mark}${letter}`;
}
