import {
  type Answers,
  InputError,
  type InputReading,
  leaveOutKey,
  mendKey,
  type Notice,
  readInput,
} from "#core";
import { type ColumnReading, columnsInSpite, columnsOf } from "./columns-read.ts";
import type { NamedFile } from "./drawn-types.ts";
import { looseOf, saidOfLoose, sortedOut } from "./dropped-files.ts";
import { standingAnswers } from "./join-plan.ts";
import { isPlanFile } from "./plan-file.ts";
import { type OpenPlan, type Placed, placedBeside } from "./same-names.ts";
import { type Drawable, drawableOf } from "./spots.ts";
import { ROLE_WORDS, whatItIs } from "./what-it-is.ts";

/** How one file was read, whether or not it can be used yet. */
export interface FileReading {
  readonly path: string;
  /** The name it was sorted out under; another where the open plan has one of that name. */
  readonly dropped: string;
  /** The name it was dropped by, where it was packed with others; else `path`. */
  readonly called: string;
  /** That nothing says what it is for, or that it has its place elsewhere; empty where it can be of the plan. */
  readonly unfit: string;
  /** `soil samples`, `boundary`, ..., or what was answered; empty where it could not be read. */
  readonly as: string;
  /** Keys of the questions that reading it asks. */
  readonly asked: readonly string[];
  /** Counts, sizes, coordinate system. */
  readonly found: string;
  /** What becomes of it beside a file of its name or its bytes in the open plan; empty where there is none. */
  readonly beside: string;
  /** It is left out, or the plan has it already or keeps its own: it does not join. */
  readonly isLeft: boolean;
  readonly columns: readonly ColumnReading[];
  readonly bad: readonly BadRow[];
  readonly error: { readonly message: string; readonly remedy: string } | null;
  readonly drawable: Drawable;
  /** What the laboratory could not see, and what is taken in its place. */
  readonly censored: readonly string[];
}

/** A row, or a cell of it, that could not be used as it stands, or was mended. */
export interface BadRow {
  readonly path: string;
  readonly line: number;
  /** Null where it is about the whole row. */
  readonly heading: string | null;
  /** What stands there; empty where nothing does. */
  readonly value: string;
  readonly message: string;
  readonly remedy: string;
  /** The answer that mended it, while there is one. */
  readonly mended: string | null;
  /** One value alone is missing: the sample counts without it. */
  readonly counts: boolean;
}

type LabTests = Extract<NonNullable<InputReading["taken"]>, { role: "samples" }>["lab"]["tests"];

/**
 * Every file by itself: what it was read as, its columns, and the rows that need somebody. What joins an open plan has
 * the name it joins by, and what was answered for the plan's files holds for it.
 */
export function readFiles(
  given: readonly NamedFile[],
  answers: Answers,
  open: OpenPlan | null = null,
  leftOut: readonly string[] = [],
): FileReading[] {
  const files = sortedOut(given).filter(([path]) => !isPlanFile(path));
  const wanted = files.filter(([path]) => !leftOut.includes(path));
  const read = new Map(readWanted(wanted, answers, open).map((one) => [one.dropped, one]));
  return files.map(([path]) => byDroppedName(read.get(path) ?? leftOutReading(path), given));
}

/** Parts of a shapefile are called by the name of their .shp; where they cannot be read they go by it. */
function byDroppedName(reading: FileReading, given: readonly NamedFile[]): FileReading {
  const { dropped, error } = reading;
  const path = looseOf(dropped, given);
  if (path === dropped) return reading;
  if (error === null) return { ...reading, called: path, ...(reading.beside === LEFT_OUT ? { path } : {}) };
  return { ...reading, path, called: path, error: { ...error, message: saidOfLoose(error.message, given) } };
}

const LEFT_OUT = "left out";

const leftOutReading = (path: string): FileReading => ({
  ...{
    path,
    dropped: path,
    called: path,
    unfit: "",
    as: "",
    found: "",
    beside: LEFT_OUT,
    isLeft: true,
    error: null,
  },
  ...NOTHING,
});

function readWanted(files: readonly NamedFile[], answers: Answers, open: OpenPlan | null): FileReading[] {
  if (open === null) return files.map((file) => readFile(file, answers));
  const { placed } = placedBeside(files, open, answers);
  const standing = { ...standingAnswers(open, placed), ...answers };
  return placed.map((one, i): FileReading => {
    const read = readFile([one.path, one.bytes], standing);
    const isLeft = one.state === "held" || one.state === "left";
    return {
      ...read,
      dropped: files[i]![0],
      called: one.path,
      beside: besideWords(one),
      isLeft,
      ...(isLeft ? NOTHING : {}),
    };
  });
}

/** Of a file that does not join nothing is asked or shown. */
const NOTHING = { columns: [], bad: [], asked: [], censored: [], drawable: { rings: [], spots: [] } };

function besideWords({ state, path, of }: Placed): string {
  if (state === "held") return `the plan has this file already${path === of ? "" : ` (dropped as ${of})`}`;
  if (state === "left") return `the plan keeps its own ${of}`;
  if (state === "replaces") return `replaces ${of} of the plan`;
  if (state === "beside") return `the plan keeps its own ${of}; this one is named ${path}`;
  return "";
}

const LOG_ELSEWHERE =
  "A log of work done is not added to the plan: choose it on the sheet Applied of its field, for its product.";

function readFile([path, bytes]: NamedFile, answers: Answers): FileReading {
  const files = new Map([[path, bytes]]);
  const nothing = {
    ...{ path, dropped: path, called: path, unfit: "", as: "", found: "", asked: [], beside: "" },
    isLeft: false,
  };
  try {
    const reading = readInput(path, files, { answers });
    // Values that are no numbers are asked about together; left out in thought, each is named by itself.
    const isAsked = reading.questions.some(({ key }) => key === "unreadable-value");
    const told = isAsked
      ? readInput(path, files, { answers: { ...answers, "unreadable-value": "leave-out" } })
      : reading;
    const tests = told.taken?.role === "samples" ? told.taken.lab.tests : {};
    const bad = told.notices
      .flatMap((notice) => badRow(path, notice, answers, tests))
      .sort((a, b) => a.line - b.line);
    const drawable = drawableOf(path, bytes, answers, told);
    const answered = ROLE_WORDS[answers[`role.${path}`] ?? ""];
    return {
      path,
      dropped: path,
      called: path,
      unfit:
        told.taken?.role === "applied"
          ? LOG_ELSEWHERE
          : (told.notices.find(({ code }) => code === "no-role-fits")?.message ?? ""),
      ...whatItIs(told),
      ...(answered ? { as: answered } : {}),
      asked: reading.questions.map(({ key }) => key),
      columns: columnsOf(reading, path, answers),
      bad,
      error: null,
      beside: "",
      isLeft: false,
      drawable,
      censored: told.notices
        .filter(({ code }) => code === "test-censored")
        .map(({ message }) => message.replace(`${path}, `, "")),
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const { code, message, remedy } = error;
    // Where the whole file cannot be read, leaving the row out changes nothing.
    const isMendable = ({ heading, line }: BadRow) =>
      heading !== null || saidOf(path, bytes, { ...answers, [leaveOutKey(path, line)]: "-" }) !== message;
    // A file that is no such file at all has no rows, whatever line the fault is seen at.
    const rows = code.startsWith("not-") ? [] : badRow(path, { code, message }, answers, {}, true);
    const bad = rows.filter(isMendable).map((row) => ({ ...row, remedy }));
    const columns = columnsInSpite(path, bytes, answers);
    const drawable = drawableOf(path, bytes, answers, null);
    return { ...nothing, columns, bad, error: { message, remedy }, drawable, censored: [] };
  }
}

/** Why a file cannot be read; null where it can. */
function saidOf(path: string, bytes: Uint8Array, answers: Answers): string | null {
  try {
    readInput(path, new Map([[path, bytes]]), { answers });
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

const REMEDIES: Readonly<Record<string, string>> = {
  "value-left-out": "Type it again or leave the row out.",
  "test-missing": "Type it from the lab's slip, or leave it: the sample counts without it.",
  "sample-without-place": "Give its position in the file, or the id of its zone, or leave it out.",
  "sample-without-values": "Type a value, or leave it out.",
};

const MENDED: readonly string[] = ["value-mended", "row-left-out"];

/** The row that a notice is about, if it is about one. */
function badRow(
  path: string,
  { code, message }: Pick<Notice, "code" | "message">,
  answers: Answers,
  tests: LabTests = {},
  isError = false,
): BadRow[] {
  const place = /\b(?:line|record|feature|result) (\d+)(?:, column (.+?): )?/.exec(message);
  const isOurs = code in REMEDIES || MENDED.includes(code) || isError;
  if (place === null || !isOurs || !message.includes(path)) return [];
  const line = Number(place[1]);
  const missing = /no value for (P|K|CEC)\b/.exec(message)?.[1] as "P" | "K" | "CEC" | undefined;
  const heading = place[2] ?? (missing && tests[missing]?.heading) ?? null;
  const value = /“([^”]*)”/.exec(message)?.[1] ?? "";
  const key = heading === null ? leaveOutKey(path, line) : mendKey(path, line, heading);
  const isMended = key in answers && (heading === null || code === "value-mended");
  const remedy = REMEDIES[code] ?? "";
  const said = message.replace(`${path}, `, "");
  const counts = code === "test-missing";
  const asked = code === "value-left-out" ? said.replace(" It is left out.", "") : said;
  return [{ path, line, heading, value, message: asked, remedy, mended: isMended ? key : null, counts }];
}
