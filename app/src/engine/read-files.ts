import {
  InputError,
  type InputFacts,
  type InputReading,
  inputFacts,
  type LabMeaning,
  methodInWords,
  type Notice,
  readHeading,
  readInput,
  testMethodFrom,
} from "#core";
import type { NamedFile } from "./drawn-types.ts";

/** How one file was read, whether or not it can be used yet. */
export interface FileReading {
  readonly path: string;
  /** `soil samples`, `boundary`, ...; empty where it could not be read. */
  readonly as: string;
  /** Counts, sizes, coordinate system. */
  readonly found: string;
  readonly columns: readonly ColumnReading[];
  readonly bad: readonly BadRow[];
  readonly error: { readonly message: string; readonly remedy: string } | null;
}

export interface ColumnReading {
  readonly heading: string;
  /** `phosphorus, mehlich-3`; `not used`. */
  readonly takenAs: string;
  readonly unit: string;
  readonly howKnown: string;
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
}

type Answers = Readonly<Record<string, string>>;
type LabTests = Extract<NonNullable<InputReading["taken"]>, { role: "samples" }>["lab"]["tests"];

/** Every file by itself: what it was read as, its columns, and the rows that need somebody. */
export const readFiles = (files: readonly NamedFile[], answers: Answers): FileReading[] =>
  files.filter(([path]) => !/(^|\/)plan\.json$/.test(path)).map((file) => readFile(file, answers));

function readFile([path, bytes]: NamedFile, answers: Answers): FileReading {
  const files = new Map([[path, bytes]]);
  const nothing = { path, as: "", found: "", columns: [], bad: [], error: null };
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
    return { path, ...whatItIs(told), columns: columnsOf(reading), bad, error: null };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const { code, message, remedy } = error;
    const bad = badRow(path, { code, message }, answers, {}, true).map((row) => ({ ...row, remedy }));
    return { ...nothing, bad, error: { message, remedy } };
  }
}

const ROLE_WORDS: Readonly<Record<string, string>> = {
  boundary: "boundary",
  zones: "zones",
  guidance: "guidance line",
  samples: "soil samples",
  applied: "as applied",
  prescription: "prescription",
  several: "several things",
  unclear: "not clear yet",
};

function whatItIs(reading: InputReading): { as: string; found: string } {
  const facts = inputFacts(reading);
  const rows = reading.item?.samples?.rows.length;
  const isOpen = facts.samples === 0 && rows !== undefined;
  const found = [...(isOpen ? [`${rows} rows`] : []), ...foundIn(facts)];
  return { as: ROLE_WORDS[String(facts.role)] ?? String(facts.role), found: found.join(", ") };
}

function foundIn(facts: InputFacts): string[] {
  const parts: string[] = [];
  const many = (count: unknown, one: string, more = `${one}s`) => {
    if (typeof count === "number" && count > 0) parts.push(`${count} ${count === 1 ? one : more}`);
  };
  many(facts.samples, "row read", "rows read");
  if (!("samples" in facts)) many(facts.features, "shape");
  many(facts.holes, "hole");
  many(facts.skipped, "left out", "left out");
  const acres = (facts.acres ?? []) as readonly (number | null)[];
  const area = acres.reduce((sum: number, one) => sum + (one ?? 0), 0);
  if (area > 0) parts.push(`${area.toFixed(2)} ac`);
  if (typeof facts.depth === "string" && facts.depth !== "") parts.push(`depth ${facts.depth}`);
  if (typeof facts.crs === "string" && facts.crs !== "")
    parts.push(`${SYSTEMS[facts.crs] ?? facts.crs}, ${sayer(facts.crsFrom)}`);
  return parts;
}

/** A coordinate system in words where it has a short name. */
const SYSTEMS: Readonly<Record<string, string>> = {
  "OGC:CRS84": "degrees, WGS 84",
  "EPSG:4326": "degrees, WGS 84",
  "EPSG:4269": "degrees, NAD 83",
};

const SAYERS: Readonly<Record<string, string>> = {
  headings: "by the headings",
  answer: "as answered",
  ".prj": "by the .prj",
  standard: "as the format has it",
};
const sayer = (from: unknown): string => SAYERS[String(from)] ?? `by ${String(from)}`;

const MEANINGS: Readonly<Partial<Record<LabMeaning, string>>> = {
  sample: "sample number",
  labNumber: "lab number",
  field: "field",
  latitude: "latitude",
  longitude: "longitude",
  depth: "depth",
  depthTop: "depth, top",
  depthBottom: "depth, bottom",
  date: "date of sampling",
  analyte: "which test",
  value: "result",
  unit: "unit",
  method: "method",
  P: "phosphorus",
  K: "potassium",
  P2O5: "phosphorus, as P2O5",
  K2O: "potassium, as K2O",
  CEC: "exchange capacity",
  pH: "pH",
  bufferPH: "buffer pH",
  OM: "organic matter",
};

/** Columns as they were taken; of shapes their attributes. */
function columnsOf({ taken }: InputReading): ColumnReading[] {
  if (taken === null) return [];
  if (taken.role !== "samples") {
    const layer = "layer" in taken ? taken.layer : null;
    return (layer?.columns ?? []).map(({ name }) => ({
      heading: name,
      takenAs: /^(name|field|fieldname|field_name)$/i.test(name) ? "name" : "kept beside the shape",
      ...{ unit: "", howKnown: "" },
    }));
  }
  const { lab, headings } = taken;
  return headings.map((heading, column): ColumnReading => {
    const { means, unit } = readHeading(heading, column);
    const reading = Object.values(lab.tests).find((test) => test.heading === heading);
    if (reading !== undefined) {
      const { saidBy } = reading;
      const oxide = means === "K" || means === "K2O" ? "K2O" : "P2O5";
      const method = methodWords(reading.method, oxide);
      return {
        heading,
        takenAs: [MEANINGS[means] ?? means, method].filter((word) => word !== "").join(", "),
        unit: reading.unit === "" ? "?" : reading.unit,
        howKnown: reading.unit === "" ? "question below" : saidBy === "answer" ? "as answered" : "heading",
      };
    }
    const isPlace = means === "latitude" || means === "longitude";
    const isUsed = MEANINGS[means] !== undefined && !lab.unused.includes(heading);
    return {
      heading,
      takenAs: isUsed ? MEANINGS[means]! : "not used",
      unit: isPlace ? "degrees" : isUsed ? (unit ?? "") : "",
      howKnown: isUsed ? "heading" : "",
    };
  });
}

/** The extractant in words; a word that no guide knows as it stands. */
function methodWords(method: string, oxide: "P2O5" | "K2O"): string {
  try {
    return method === "" ? "" : methodInWords(testMethodFrom(method, oxide));
  } catch (error) {
    if (error instanceof InputError) return method;
    throw error;
  }
}

const REMEDIES: Readonly<Record<string, string>> = {
  "value-left-out": "Type it again or leave the row out.",
  "test-missing": "Type it from the lab's slip, or leave it: the sample counts without it.",
  "sample-without-place": "Give its position in the file, or leave it out.",
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
  const key = Object.keys(answers).find((one) =>
    heading === null
      ? one === `leave-out:${path}:${line}`
      : one === `mend:${path}:${line}:${heading}` && code === "value-mended",
  );
  const remedy = REMEDIES[code] ?? "";
  const said = message.replace(`${path}, `, "");
  const asked = code === "value-left-out" ? said.replace(" It is left out.", "") : said;
  return [{ path, line, heading, value, message: asked, remedy, mended: key ?? null }];
}
