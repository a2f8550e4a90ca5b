import { InputError } from "../errors/index.ts";
import {
  type FieldStand,
  fieldStands,
  type LedgerEntry,
  placedIn,
  standingEntries,
} from "../ledger/index.ts";
import { type FileSource, spreadInWords, spreadTooMuchInWords, stripTooMuchInWords } from "../plan/index.ts";
import { remainderOf } from "../prescription/index.ts";
import type { Grade } from "../products/index.ts";
import { standInWords } from "../report/index.ts";
import type { BuiltMap } from "./built-maps.ts";
import type { StickPass } from "./no-sticks.ts";

/** What a plan's ledger makes of the maps that are to go on a stick. */
export interface LedgerLook {
  /** Fields to write; empty stands for all. */
  readonly only: readonly string[];
  /** Fields that lie stripped or part stripped, in words for who loads the maps. */
  readonly said: readonly string[];
  /** Names of fields that are not written, as their pass is finished. */
  readonly finished: readonly string[];
  /** Ids of all fields that are not written. */
  readonly leftOut: readonly string[];
  /** Fields that are not written, as nothing is left to strip in them: words for each. */
  readonly stripped: readonly string[];
}

/** What `lookInLedger` takes. */
export interface LedgerLookInput {
  /** Every line of the ledger, in order. */
  readonly entries: readonly LedgerEntry[];
  /** As messages name it; the plan's ledger where nothing is said. */
  readonly ledgerName?: string;
  readonly build: FileSource;
  /** Maps of the build, of any pass. */
  readonly maps: readonly BuiltMap[];
  readonly pass: StickPass;
  /** Only these fields; all when empty. */
  readonly asked: readonly string[];
  /** Write stripped fields too. */
  readonly reissue: boolean;
}

/**
 * The fields to write. Left out are those whose pass the ledger says is finished: their maps are frozen; and those that lie
 * stripped, unless `reissue`. One that is part stripped is written and told, unless its maps are a remainder's; so is one that
 * something is spread in, for the spreader.
 * Throws `field-finished` or `field-stripped` when none is left.
 */
export async function lookInLedger(input: LedgerLookInput): Promise<LedgerLook> {
  const { entries, ledgerName = "the plan's ledger", pass, asked, reissue } = input;
  const maps = input.maps.filter((map) => map.pass === pass);
  const { fields: names, prescriptions } = await builtFigures(input.build);
  const nameOf = (field: string): string => names.get(field)?.name ?? field;
  const isFrozen = (field: string): boolean =>
    standingEntries(entries).some(
      (entry) => entry.kind === "finished" && entry.pass === pass && entry.fieldId === field,
    );
  const wanted = asked.length > 0 ? asked : [...new Set(maps.map((map) => map.field))];
  const frozen = wanted.filter(isFrozen);
  const finished = frozen.map(nameOf);
  if (wanted.length > 0 && frozen.length === wanted.length) {
    throw new InputError(
      "field-finished",
      `${ledgerName} says that the ${pass} pass is finished in ${finished.join(", ")}`,
      "Take that line of the ledger back first if it is wrong (ledger --void).",
    );
  }
  const open = wanted.filter((field) => !isFrozen(field));
  const openOnly = frozen.length === 0 ? asked : open;
  if (pass !== "strip") {
    const spread = open.flatMap((id) => {
      const words = spreadInWords(placedIn(entries, id));
      return words === ""
        ? []
        : [
            `${nameOf(id)} has ${words} by ${ledgerName}: these maps are of the whole field and lay it there again`,
          ];
    });
    const said = [
      ...spread,
      ...open.flatMap((id) => tooMuchIn(entries, id, names.get(id), prescriptions, pass)),
    ];
    return { only: openOnly, said, finished, leftOut: frozen, stripped: [] };
  }
  const whole = open.filter((field) =>
    maps.some((map) => map.field === field && remainderOf(map.stem) === null),
  );
  const tooMuch = (ids: readonly string[]): string[] =>
    ids.flatMap((id) => tooMuchIn(entries, id, names.get(id), prescriptions, pass));
  const stands = fieldStands(
    entries,
    whole.map((fieldId) => ({
      fieldId,
      ...acresBuilt(names.get(fieldId)),
      plannedStripLb: null,
      stripProducts: maps.filter((map) => map.field === fieldId && map.totalLb > 0).map((map) => map.product),
    })),
  ).filter(({ strippedAc }) => strippedAc > 0);
  const words = (stand: FieldStand): string => standInWords(nameOf(stand.fieldId), stand);
  const stripped = stands.filter(({ state }) => state === "stripped");
  if (reissue || stripped.length === 0)
    return {
      only: openOnly,
      said: [...stands.map(words), ...tooMuch(whole)],
      ...{ finished, leftOut: frozen, stripped: [] },
    };
  const left = open.filter((field) => stripped.every(({ fieldId }) => fieldId !== field));
  if (left.length === 0) {
    throw new InputError(
      "field-stripped",
      `by ${ledgerName} nothing is left to strip: ${stripped.map(words).join("; ")}`,
      "Finish the pass with `ledger --finish FIELD`, take a wrong line back with `ledger --void`, or add --reissue to write the whole field's maps all the same.",
    );
  }
  return {
    only: left,
    said: [
      ...stands.filter(({ state }) => state !== "stripped").map(words),
      ...tooMuch(whole.filter((id) => left.includes(id))),
    ],
    finished,
    leftOut: wanted.filter((field) => !left.includes(field)),
    stripped: stripped.map(words),
  };
}

/** What the maps of a pass would lay of a field besides what the ledger has by the other pass. */
function tooMuchIn(
  entries: readonly LedgerEntry[],
  id: string,
  built: BuiltField | undefined,
  prescriptions: readonly ListedMap[],
  pass: StickPass,
): string[] {
  const own = prescriptions.flatMap(({ analysis, ...map }) =>
    map.field !== id || analysis === undefined ? [] : [{ ...map, analysis }],
  );
  const strip = own.filter(({ pass, totalLb }) => pass === "strip" && totalLb > 0);
  const [stand] = fieldStands(entries, [
    {
      ...{ fieldId: id, ...acresBuilt(built), plannedStripLb: null },
      stripProducts: strip.map(({ product }) => product),
    },
  ]);
  const inWords = pass === "strip" ? stripTooMuchInWords : spreadTooMuchInWords;
  const words = inWords({ field: { id, name: built?.name ?? id }, prescriptions: own }, stand!);
  return words === "" ? [] : [words];
}

/** Names, acres and maps of a build's fields; finished passes are among the maps. */
async function builtFigures(build: FileSource): Promise<{
  readonly fields: ReadonlyMap<string, BuiltField>;
  readonly prescriptions: readonly ListedMap[];
}> {
  const text = new TextDecoder().decode(await build.read("result.json"));
  const { fields, prescriptions } = JSON.parse(text) as {
    readonly fields: readonly (BuiltField & { readonly id: string })[];
    readonly prescriptions: readonly ListedMap[];
  };
  return { fields: new Map(fields.map((field) => [field.id, field])), prescriptions };
}

/** A map of result.json. */
interface ListedMap {
  readonly field: string;
  readonly pass: "strip" | "broadcast";
  readonly product: string;
  readonly totalLb: number;
  readonly maxLbPerAc: number;
  /** Absent in what an earlier version built. */
  readonly analysis?: Grade;
}

/** Acres of a built field as the ledger is held against them; without end where the build does not have it. */
function acresBuilt(built: BuiltField | undefined): { readonly areaAc: number; readonly toStripAc: number } {
  const { areaAc = Number.POSITIVE_INFINITY, toStripAc = areaAc } = built ?? {};
  return { areaAc, toStripAc };
}

/** A field of result.json. */
interface BuiltField {
  readonly name: string;
  readonly areaAc: number;
  /** Absent in what an earlier version built. */
  readonly toStripAc?: number;
}
