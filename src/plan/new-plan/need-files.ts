import { type Column, plainName } from "../../formats/index.ts";
import type { AnswerReader } from "../document/answers.ts";
import type { Oxide, PlanExclusion, PlanNeedFrom, PlanRateColumn } from "../document/document-need-types.ts";
import type { NamedField } from "../sources/field-shapes.ts";
import type { InputFile } from "../sources/input-file.ts";
import type { PointRole } from "../sources/point-roles.ts";
import { type PolygonRole, polygonsOf, shareGround } from "../sources/polygon-roles.ts";
import { rateQuestions } from "../sources/rate-questions.ts";

/** What a file of shapes other than lines is for. */
export type FileRole = PolygonRole | PointRole;

/** What files of zones, rates and places to keep clear of say, as the plan has it. */
interface NeedFiles {
  /** By field id, where its need comes from other than samples on a grid. */
  readonly needFrom: ReadonlyMap<string, PlanNeedFrom>;
  readonly exclusions: readonly PlanExclusion[];
}

const ZONE_COLUMNS = ["zone", "zoneid", "zonename", "zoneno"];

/** Reads them file by file; columns, methods and distances that nobody stated become questions of `reader`. */
export function needFiles(
  inputs: readonly InputFile[],
  roles: ReadonlyMap<string, FileRole>,
  fields: readonly NamedField[],
  reader: AnswerReader,
): NeedFiles {
  const needFrom = new Map<string, PlanNeedFrom>();
  const exclusions: PlanExclusion[] = [];
  const asked = (path: string, role: FileRole): AskedFile => {
    const isAlone = [...roles.values()].filter((one) => one === role).length > 1;
    return { id: path, name: path, isAlone };
  };
  for (const input of inputs) {
    const role = roles.get(input.path);
    if (role === undefined || role === "boundary" || role === "unused") continue;
    if (role === "exclusions") {
      const isPoints = polygonsOf(input).length === 0;
      exclusions.push(exclusionOf(asked(input.path, role), isPoints, reader));
      continue;
    }
    const from = role === "zones" ? zonesOf(input, asked(input.path, role), reader) : ratesOf(input, reader);
    const land = polygonsOf(input);
    for (const field of fields) if (shareGround(field.boundary, land)) needFrom.set(field.id, from);
  }
  return { needFrom, exclusions };
}

const columnsOf = (input: InputFile): Column[] => input.layers.flatMap((layer) => [...layer.columns]);

/** A file as questions name it; one of several of its role is asked by a key of its own. */
interface AskedFile {
  readonly id: string;
  readonly name: string;
  readonly isAlone: boolean;
}

function zonesOf(input: InputFile, file: AskedFile, reader: AnswerReader): PlanNeedFrom {
  const names = [...new Set(columnsOf(input).map((column) => column.name))];
  const plainly = names.filter((name) => ZONE_COLUMNS.includes(plainName(name)));
  const text = `Which column of ${input.path} holds the zone's id, as the lab's table names it?`;
  const answered = reader.answered("zone-id-column") ?? reader.answered(`zone-id-column.${input.path}`);
  const idColumn =
    answered === undefined && plainly.length === 1
      ? plainly[0]!
      : reader.text("zone-id-column", file, text, names);
  return { kind: "zones", source: input.path, idColumn };
}

/** Columns, what they are of and their units; a nutrient answered with `none` has no column in the file. */
function ratesOf(input: InputFile, reader: AnswerReader): PlanNeedFrom {
  const rates: Partial<Record<Oxide, PlanRateColumn>> = {};
  for (const nutrient of ["P2O5", "K2O"] as const) {
    const asked = rateQuestions(input.path, nutrient, columnsOf(input));
    const ask = (key: keyof typeof asked, more: readonly string[] = []): string =>
      reader.text(`${key}.${nutrient}`, null, asked[key].text, [...asked[key].choices, ...more]);
    const column = ask("rate-column", ["none"]);
    if (column === "none") continue;
    rates[nutrient] = { column, of: ask("rate-of"), unit: ask("rate-unit") } as PlanRateColumn;
  }
  return { kind: "rates", source: input.path, rates };
}

/** What is kept clear of, of which method, and how far: the distance comes from the user's own rules, none is suggested. */
function exclusionOf(file: AskedFile, isPoints: boolean, reader: AnswerReader): PlanExclusion {
  const path = file.id;
  const what = reader.text(
    "exclusion-what",
    file,
    `What do the shapes of ${path} stand for, such as tile inlet or well?`,
    [],
  );
  const methods = ["surface", "strip", "both"];
  const method = reader.text("exclusion-method", file, `What is kept off the shapes of ${path}?`, methods);
  const distance = `Which distance is kept from the shapes of ${path}, ft? ${isPoints ? "Above 0" : "0 keeps the shapes alone clear; local rules say more"}.`;
  const setbackFt = reader.number("setback-ft", file, distance, isPoints ? undefined : 0);
  return { source: path, what, method: method as PlanExclusion["method"], setbackFt };
}
