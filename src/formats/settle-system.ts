import type { Notice, Question } from "../errors/index.ts";
import { isLonLat, type Point } from "../geo/index.ts";
import { type CoordinateSystem, systemOfCode } from "./coordinate-system.ts";
import type { CoordinateSystemFrom } from "./feature.ts";
import type { StatedSystem } from "./raw-layer.ts";

/** Answers to questions, by key; shared by page, command line and `sources[].answers` of a plan. */
export type FileAnswers = Readonly<Record<string, string>>;

/** The numbers of a file: the largest of each axis, and the first that cannot be degrees. */
export interface Extent {
  readonly maxAbsX: number;
  readonly maxAbsY: number;
  /** Whether every position, read as degrees, lies where no land is farmed, and where it is once they are exchanged. */
  readonly isFarmedExchanged: boolean;
  readonly first: Point;
  readonly firstWhere: string;
  /** The first position that is no longitude and latitude, with the words that name it. */
  readonly beyond: { readonly point: Point; readonly where: string } | null;
}

/** Latitudes between which land is farmed (ours): Tierra del Fuego ends at 56 S, the fields of Finnmark at 71 N. */
const FARMED = { south: -56, north: 72 } as const;
const isFarmed = (latitude: number): boolean => latitude > FARMED.south && latitude < FARMED.north;

/** Looks at positions one after the other; `where` names the one at hand. The extent of none is 0. */
export class ExtentSurvey {
  #maxAbsX = 0;
  #maxAbsY = 0;
  #isFarmedExchanged = true;
  #first: Point | null = null;
  #firstWhere = "";
  #beyond: Extent["beyond"] = null;

  add(point: Point, where: string): void {
    if (this.#first === null) [this.#first, this.#firstWhere] = [point, where];
    this.#isFarmedExchanged &&= !isFarmed(point[1]) && isFarmed(point[0]);
    this.#maxAbsX = Math.max(this.#maxAbsX, Math.abs(point[0]));
    this.#maxAbsY = Math.max(this.#maxAbsY, Math.abs(point[1]));
    if (this.#beyond === null && !isLonLat(point)) this.#beyond = { point, where };
  }

  get extent(): Extent {
    const first = this.#first ?? [0, 0];
    return {
      maxAbsX: this.#maxAbsX,
      maxAbsY: this.#maxAbsY,
      isFarmedExchanged: this.#first !== null && this.#isFarmedExchanged,
      first,
      firstWhere: this.#firstWhere,
      beyond: this.#beyond,
    };
  }
}

export interface SettledSystem {
  readonly system: CoordinateSystem;
  readonly from: CoordinateSystemFrom;
  /** Whether the two numbers of each position are to be exchanged. */
  readonly swap: boolean;
}

interface SystemSettlement {
  /** Null while a question is open. */
  readonly settled: SettledSystem | null;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

const LIKELY: Readonly<Record<string, string>> = {
  "EPSG:4326": "WGS84 longitude and latitude (EPSG:4326) is likely: the numbers look like degrees.",
  "EPSG:3857": "Web Mercator (EPSG:3857) is likely: the numbers fit it.",
};

/**
 * The coordinate system of positions: what the file states, unless it states none or its numbers contradict it; then the
 * answer `coordinate-system`. Latitudes beyond 90, or beyond all farm land, that exchanging would mend: `swap-lon-lat`.
 */
export function settleSystem(
  stated: StatedSystem,
  extent: Extent,
  path: string,
  answers: FileAnswers,
): SystemSettlement {
  if (stated.system !== null) {
    const doubt = contradiction(stated.system, extent);
    if (doubt === null) return settled(stated.system, stated.from, false, path);
    if (doubt === "swap") return settleSwap(stated.system, stated.from, extent, path, answers);
    const what = stated.system.isDegrees
      ? `${extent.beyond!.where}: the coordinates are not degrees (${shown(extent.beyond!.point)})`
      : `${path}: ${stated.system.code} is stated, but numbers such as ${shown(extent.first)} ${doubt}`;
    return askSystem(what, extent, path, answers);
  }
  const far = extent.beyond?.point ?? extent.first;
  return askSystem(`${path}: ${stated.why}; numbers such as ${shown(far)}`, extent, path, answers);
}

/** Why the numbers cannot be what is stated; `swap` when exchanging them would mend it; null when they can. */
function contradiction(system: CoordinateSystem, extent: Extent): string | null {
  if (system.isDegrees) {
    if (extent.beyond === null) return extent.isFarmedExchanged ? "swap" : null;
    return extent.maxAbsX <= 90 && extent.maxAbsY <= 180 ? "swap" : "are not degrees";
  }
  if (extent.maxAbsX <= 180 && extent.maxAbsY <= 90) return "look like degrees";
  return isLonLat(system.toLonLat(extent.first)) ? null : "lie nowhere in it";
}

function askSystem(what: string, extent: Extent, path: string, answers: FileAnswers): SystemSettlement {
  const answer = answers["coordinate-system"];
  const system = answer === undefined ? undefined : systemOfCode(answer);
  const doubt = system === undefined ? null : contradiction(system, extent);
  if (system !== undefined && doubt === null) return settled(system, "answer", false, path);
  if (system !== undefined && doubt === "swap") return settleSwap(system, "answer", extent, path, answers);
  const likely = likelySystem(extent);
  const wrong =
    answer === undefined
      ? ""
      : system === undefined
        ? ` “${answer}” is not known.`
        : ` In ${answer} they ${doubt}.`;
  const text =
    `In which coordinate system is ${path}?${wrong} ${likely === null ? "" : `${LIKELY[likely]} `}` +
    "Add the .prj it came with, or answer EPSG: and a number, such as EPSG:26915 for UTM zone 15 of NAD83.";
  const questions: Question[] = [
    { key: "coordinate-system", text, choices: [], ...(likely === null ? {} : { likely }), seen: what },
  ];
  // Degrees the wrong way round: both can be answered at once.
  if (likely === "EPSG:4326" && (extent.beyond !== null || extent.isFarmedExchanged))
    questions.unshift(...swapQuestion(extent, answers));
  return { settled: null, questions, notices: [] };
}

/** The system the numbers point to, when they do. UTM and state planes cannot be told apart by their numbers. */
function likelySystem({ maxAbsX, maxAbsY, first: [x, y], beyond }: Extent): string | null {
  if (beyond === null || (maxAbsX <= 90 && maxAbsY <= 180)) return "EPSG:4326";
  const inMercator = maxAbsX <= 20_037_509 && maxAbsY <= 20_048_967;
  // A negative or large easting with a large northing is on no UTM or state plane grid.
  return inMercator && Math.abs(y) > 100_000 && (x < -100_000 || x > 5_000_000) ? "EPSG:3857" : null;
}

function settleSwap(
  system: CoordinateSystem,
  from: CoordinateSystemFrom,
  extent: Extent,
  path: string,
  answers: FileAnswers,
): SystemSettlement {
  const questions = swapQuestion(extent, answers);
  if (questions.length > 0) return { settled: null, questions, notices: [] };
  return settled(system, from, answers[SWAP] === "yes", path);
}

const SWAP = "swap-lon-lat";

function swapQuestion({ beyond, first, firstWhere }: Extent, answers: FileAnswers): Question[] {
  if (beyond !== null)
    return askSwap(
      `${beyond.where}: latitude ${beyond.point[1]} is impossible; longitude and latitude look swapped.`,
      ["yes"],
      answers,
    );
  return askSwap(
    `${firstWhere}: at latitude ${first[1]} no land is farmed, at ${first[0]} it is; longitude and latitude look swapped.`,
    ["yes", "no"],
    answers,
  );
}

/** The question `swap-lon-lat`; none where one of its choices was answered. */
export function askSwap(seen: string, choices: readonly string[], answers: FileAnswers): Question[] {
  if (choices.includes(answers[SWAP] ?? "")) return [];
  return [{ key: SWAP, text: "Are longitude and latitude to be exchanged?", choices, seen }];
}

function settled(
  system: CoordinateSystem,
  from: CoordinateSystemFrom,
  swap: boolean,
  path: string,
): SystemSettlement {
  const notices: Notice[] = [];
  if (system.datum === "NAD27") {
    const message =
      `${system.code} stands on the old datum NAD27; it was shifted to WGS84 by the mean of the ` +
      "contiguous United States and may be off by several metres";
    notices.push({ code: "old-datum", message, where: path });
  } else if (system.datum !== "WGS84") {
    const message = `${system.datum} is taken as WGS84; the two differ by 1 to 2 m, which matters for guidance lines`;
    notices.push({ code: "datum-taken-as-wgs84", message, where: path });
  }
  return { settled: { system, from, swap }, questions: [], notices };
}

const shown = ([x, y]: Point): string => `${x}, ${y}`;
