import { guideIds } from "../../agronomy/index.ts";
import type { Question } from "../../errors/index.ts";
import { isColumnChoice, isMend } from "../../soil/index.ts";
import { isNumberOfRows, MOST_ROWS } from "./machine-limits.ts";

/** Answers that come with the command, by question key. */
export type Answers = Readonly<Record<string, string>>;

const PLAN_KEYS = ["guide", "crop", "yield", "rows", "row-spacing-in", "cap", "samples"] as const;
const FILE_KEYS = [
  "unit.P",
  "unit.K",
  "unit.CEC",
  "method.P",
  "method.K",
  "depth",
  "same-place",
  "date-order",
  "changed-file",
  "unit.rate",
  "oxide",
  "limit.P",
  "limit.K",
  "censored",
  "unreadable-value",
  "decimal-comma",
  "missing-rate",
  "null-geometry",
  "join-points",
  "coordinate-system",
  "datum-shift",
  "swap-lon-lat",
  "close-ring",
  "west-sign",
  "repair-boundary",
  "rate-column",
  "layer",
  "role",
] as const;
/** About the controller and the stick. */
const CONTROLLER_KEYS = ["zero-rate", "existing-taskdata", "older-build"] as const;
/** Crop, yield goal, guide and lab table can also be given for one field: `crop.north-kettle`. */
const FIELD_KEY = /^(guide|crop|yield|samples)\.[a-z0-9][a-z0-9-]*$/;
/** What a guide wants to know besides test, crop and yield: `option.rotation`; of the crop before for one field: `option.previousCrop.north-kettle`. */
const OPTION_KEY = /^option\.[A-Za-z]+(\.[a-z0-9][a-z0-9-]*)?$/;
/** A way through where guide and test differ, a choice among samplings, a column of rates, how an addition counts. */
const NEED_KEY =
  /^((conversion|critical-level)\.[PK](\.[a-z0-9][a-z0-9-]*)?|(sampling|mix-samplings)\.(P|K|CEC)|rate-(column|of|unit)\.(P2O5|K2O)|addition-counts)$/;

/** About files of polygons of a new plan: what they are (`role.zones.geojson`), and what nobody can read off them. */
const POLYGON_KEY = /^(role\..+|(zone-id-column|exclusion-what|exclusion-method|setback-ft)(\..+)?)$/;

/** What a log of several products calls one of the plan's: `log-product.Potash`. */
const LOG_KEY = /^log-product\..+$/;

/** Keys of questions about one file; its answers are kept with the source in plan.json. */
export const fileKeys: readonly string[] = FILE_KEYS;

/** Of the whole plan, and what a file is, which has its own pattern of keys. */
const NOT_BY_FILE: readonly string[] = ["changed-file", "role"];

/** Whether a question may be answered for one file alone, by its key with the file's path behind it. */
export const isKeyByFile = (key: string): boolean => fileKeys.includes(key) && !NOT_BY_FILE.includes(key);

/** `unit.P.lab.csv`. */
const isKeyOfFile = (key: string): boolean =>
  fileKeys.some((one) => isKeyByFile(one) && key.startsWith(`${one}.`) && key.length > one.length + 1);

/** Those of them about shapes and places, which boundaries and guidance lines keep too. */
export const shapeKeys: readonly string[] = [
  "null-geometry",
  "coordinate-system",
  "swap-lon-lat",
  "close-ring",
  "repair-boundary",
  "layer",
];

/** Those that say how to go on with a faulty file; a run without their answer fails the fields that use the file. */
export const faultKeys: readonly string[] = [
  "unreadable-value",
  "decimal-comma",
  "coordinate-system",
  "swap-lon-lat",
];

/** Whether any question, of any input, has this key. */
export const isKnownAnswerKey = (key: string): boolean =>
  (PLAN_KEYS as readonly string[]).includes(key) ||
  (CONTROLLER_KEYS as readonly string[]).includes(key) ||
  fileKeys.includes(key) ||
  isKeyOfFile(key) ||
  FIELD_KEY.test(key) ||
  NEED_KEY.test(key) ||
  POLYGON_KEY.test(key) ||
  LOG_KEY.test(key) ||
  isMend(key) ||
  isColumnChoice(key) ||
  OPTION_KEY.test(key);

/** What the strip may take of all products together, lb/ac of field. */
interface CapAnswer {
  readonly lbPerAc: number;
  readonly basis: "field-mean" | "most-in-a-cell";
}

/** A field or file that a question is about. */
export interface Asked {
  readonly id: string;
  readonly name: string;
  /** The question names it, so that its answer is not to hold for others: it is asked by a key of its own. */
  readonly isAlone?: boolean;
}

/** Reads answers one by one; what is missing or unreadable becomes a question, collected in `open`. */
export class AnswerReader {
  readonly open: Question[] = [];
  private readonly answers: Answers;

  constructor(answers: Answers) {
    this.answers = answers;
  }

  answered(key: string): string | undefined {
    return this.answers[key];
  }

  text(key: string, field: Asked | null, text: string, choices: readonly string[]): string {
    const answer = (field && this.answers[`${key}.${field.id}`]) ?? this.answers[key];
    if (answer !== undefined && (choices.length === 0 || choices.includes(answer))) return answer;
    this.askOf(key, field, text, choices, answer);
    return "";
  }

  /** A number above 0, or from `least` on. */
  number(key: string, field: Asked | null, text: string, least?: number): number {
    const answer = (field && this.answers[`${key}.${field.id}`]) ?? this.answers[key];
    const value = answer === undefined || answer.trim() === "" ? Number.NaN : Number(answer);
    if (Number.isFinite(value) && (least === undefined ? value > 0 : value >= least)) return value;
    this.askOf(key, field, text, [], answer);
    return 0;
  }

  /** Rows of the rig. */
  rows(): number {
    const answer = this.answers.rows;
    const value = answer === undefined ? Number.NaN : Number(answer);
    if (isNumberOfRows(value)) return value;
    this.ask("rows", `How many rows has the rig? A whole number, ${MOST_ROWS} at most.`, [], answer);
    return 0;
  }

  /** `150` or `field-mean:150`, or `most-in-a-cell:150`. */
  cap(): CapAnswer {
    const read = /^(?:(field-mean|most-in-a-cell):)?(\d+(?:\.\d+)?)$/.exec(this.answers.cap ?? "");
    if (read) return { lbPerAc: Number(read[2]), basis: (read[1] ?? "field-mean") as CapAnswer["basis"] };
    const text =
      "How many lb of all products together may the strip take per acre of field? " +
      "A number is the field's mean; most-in-a-cell:150 limits every place.";
    this.ask("cap", text, [], this.answers.cap);
    return { lbPerAc: 0, basis: "field-mean" };
  }

  /** Any guide there is; asked for, `fitting` are offered. Where rates are an adviser's it tells removal alone. */
  guide(
    field: { id: string; name: string },
    crop: string,
    fitting: readonly string[],
    hasOwnRates: boolean,
  ): string {
    const answer = this.answers[`guide.${field.id}`] ?? this.answers.guide;
    if (answer !== undefined && guideIds().includes(answer)) return answer;
    const name = crop === "" ? "the crop" : crop;
    const text = hasOwnRates
      ? `Which guide says what ${name} takes off, for the balance sheet? The rates are the adviser's own.`
      : `Which guide says what ${name} needs?`;
    return this.text("guide", field, text, fitting);
  }

  addOpen(question: Question): void {
    if (!this.open.some((one) => one.key === question.key)) this.open.push(question);
  }

  /** By the field's own key where that is what was answered: the answer for all changes nothing then. */
  private askOf(
    key: string,
    field: Asked | null,
    text: string,
    choices: readonly string[],
    answer: string | undefined,
  ): void {
    const ownKey = field === null ? key : `${key}.${field.id}`;
    const isOwn = field !== null && this.answers[ownKey] !== undefined;
    const asked = field?.isAlone || isOwn ? ownKey : key;
    this.ask(asked, text, choices, answer, isOwn ? ` for ${field.name}` : "");
  }

  private ask(
    key: string,
    text: string,
    choices: readonly string[],
    answer: string | undefined,
    of = "",
  ): void {
    const seen = answer === undefined ? "not answered" : `answered “${answer}”${of}`;
    this.addOpen({ key, text, choices, seen });
  }
}
