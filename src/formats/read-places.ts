import { InputError, type Notice, type Question } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { CRS84 } from "./coordinate-system.ts";
import type { CoordinateSystemFrom, One } from "./feature.ts";
import { isMissingMark } from "./missing-marks.ts";
import type { NumberMarks } from "./number-marks.ts";
import { askSwap, ExtentSurvey, type FileAnswers, settleSystem } from "./settle-system.ts";

/** Columns of a table that hold positions, counted from 0. */
interface PlaceColumns {
  readonly latitude: number;
  readonly longitude: number;
}

/** Rows of a table, each with its number in the file. */
interface PlaceTable {
  readonly path: string;
  readonly one: One;
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

export interface Places {
  /** Longitude and latitude, one a row; null where the row gives none (blank, left out by an answer, or 0, 0). */
  readonly places: readonly (Point | null)[];
  readonly coordinateSystem: string;
  readonly coordinateSystemFrom: CoordinateSystemFrom;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

const LATITUDE = /^(lat|latitude|latdd|latdeg|latwgs84|y|breite|northing|gpslat)$/;
const LONGITUDE =
  /^(lon|lng|long|longitude|londd|longdd|londeg|lonwgs84|x|laenge|länge|easting|gpslon|gpslong)$/;

/** Minutes and seconds of an angle in columns of their own, after its degrees. */
const PARTS_OF = {
  latitude: /^lat(?:itude)?(m|min|mins|minutes|s|sec|secs|seconds)$/,
  longitude: /^(?:lon|lng|long|longitude)(m|min|mins|minutes|s|sec|secs|seconds)$/,
};

/** The one number that is a mark for no value and a longitude all the same. */
const REAL_LONGITUDE = -99;

/** What a heading says of positions (synonyms: common practice); units in brackets do not matter. */
export function placeMeaning(heading: string): "latitude" | "longitude" | null {
  const plain = heading
    .toLowerCase()
    .replace(/\((deg|degrees|dd|wgs ?84|m|ft)\)/, "")
    .replaceAll(/[^\p{L}\d]/gu, "");
  return LATITUDE.test(plain) ? "latitude" : LONGITUDE.test(plain) ? "longitude" : null;
}

/** Whether a heading is of a column with the minutes or seconds of positions. */
export const isPartOfAngle = (heading: string): boolean =>
  PARTS_OF.latitude.test(plainHeading(heading)) || PARTS_OF.longitude.test(plainHeading(heading));

const plainHeading = (heading: string): string => heading.toLowerCase().replaceAll(/[^\p{L}\d]/gu, "");

/** The columns of an angle's degrees and, where a table has them apart, its minutes and seconds. */
function angleColumns(headings: readonly string[], axis: keyof typeof PARTS_OF, degrees: number): number[] {
  const of = (first: "m" | "s") =>
    headings.findIndex((heading) => PARTS_OF[axis].exec(plainHeading(heading))?.[1]?.startsWith(first));
  const [minutes, seconds] = [of("m"), of("s")];
  if (minutes < 0) return [degrees];
  return seconds < 0 ? [degrees, minutes] : [degrees, minutes, seconds];
}

/** An angle as one text; blank where a part of it is. */
function angleText(cells: readonly string[], columns: readonly number[]): string {
  const parts = columns.map((column) => (cells[column] ?? "").trim());
  if (parts.length === 1) return cells[columns[0]!] ?? "";
  return parts.some((part) => isMissingMark(part)) ? "" : parts.join(" ");
}

/** The columns that hold positions; null when either is missing. */
export function placeColumns(headings: readonly string[]): PlaceColumns | null {
  const latitude = headings.findIndex((heading) => placeMeaning(heading) === "latitude");
  const longitude = headings.findIndex((heading) => placeMeaning(heading) === "longitude");
  return latitude < 0 || longitude < 0 ? null : { latitude, longitude };
}

/**
 * Positions of a table's rows: decimal degrees, degrees with minutes and seconds in one
 * column or in several (`Lat Deg`, `Lat Min`), with or without N S E W, or numbers of
 * another coordinate system. Questions: `coordinate-system`, `swap-lon-lat` (also where only the exchanged places lie near a
 * known field), and `west-sign` when every longitude is
 * positive, carries no letter and lies near no known field. Throws `not-a-number`.
 */
export function readPlaces(
  table: PlaceTable,
  columns: PlaceColumns,
  marks: NumberMarks,
  answers: FileAnswers,
  isNearField?: (lonLat: Point) => boolean,
): Places {
  let lettered = false;
  const lonColumns = angleColumns(table.headings, "longitude", columns.longitude);
  const latColumns = angleColumns(table.headings, "latitude", columns.latitude);
  const numbers = table.rows.map(({ line, cells }): Point | null => {
    const [lonText, latText] = [angleText(cells, lonColumns), angleText(cells, latColumns)];
    if (isMissingMark(latText) || (isMissingMark(lonText) && marks.read(lonText) !== REAL_LONGITUDE))
      return null;
    if (marks.read(lonText) === "left-out" || marks.read(latText) === "left-out") return null;
    const [lon, lat] = [readAngle(lonText, "EW", marks), readAngle(latText, "NS", marks)];
    if (lon === null || lat === null) {
      throw new InputError(
        "not-a-number",
        `${table.path}, ${table.one} ${line}: “${lonText}, ${latText}” is not a longitude and a latitude`,
        "Give decimal degrees, or degrees and minutes such as 40° 27.136' N; west and south with W and S or negative.",
      );
    }
    lettered ||= lon.lettered;
    return lon.value === 0 && lat.value === 0 ? null : [lon.value, lat.value];
  });
  if (numbers.every((point) => point === null)) return nowhere(numbers);
  const survey = new ExtentSurvey();
  numbers.forEach((point, index) => {
    if (point !== null) survey.add(point, `${table.path}, ${table.one} ${table.rows[index]!.line}`);
  });
  const found = settleSystem({ system: CRS84, from: "headings" }, survey.extent, table.path, answers);
  const settled = found.settled;
  if (settled === null) return { ...nowhere(numbers), questions: found.questions, notices: found.notices };
  const inDoubt = settled.system.isDegrees && !settled.swap && isNearOnlyExchanged(numbers, isNearField);
  const asked = inDoubt ? askSwap(nearExchanged(numbers, table), ["yes", "no"], answers) : [];
  if (asked.length > 0) return { ...nowhere(numbers), questions: asked, notices: found.notices };
  const swap = settled.swap || (inDoubt && answers["swap-lon-lat"] === "yes");
  const placed = numbers.map((point): Point | null => {
    if (point === null) return null;
    return settled.system.toLonLat(swap ? exchanged(point) : point);
  });
  const west =
    lettered || !settled.system.isDegrees ? null : westSign(placed, table, columns, answers, isNearField);
  return {
    places: west?.isWest ? placed.map((point) => point && [-point[0], point[1]]) : placed,
    coordinateSystem: settled.system.code,
    coordinateSystemFrom: settled.from,
    questions: west?.question ? [west.question] : [],
    notices: found.notices,
  };
}

const exchanged = ([first, second]: Point): Point => [second, first];

/** No place lies near a field as it stands, and one does with its numbers exchanged, a west sign missing or not. */
function isNearOnlyExchanged(
  numbers: readonly (Point | null)[],
  isNearField?: (lonLat: Point) => boolean,
): boolean {
  const points = numbers.filter((point) => point !== null);
  if (isNearField === undefined || points.some(isNearField)) return false;
  return points.map(exchanged).some(([lon, lat]) => isNearField([lon, lat]) || isNearField([-lon, lat]));
}

function nearExchanged(numbers: readonly (Point | null)[], { path, one, rows }: PlaceTable): string {
  const index = numbers.findIndex((point) => point !== null);
  const [lon, lat] = numbers[index]!;
  return `${path}, ${one} ${rows[index]!.line}: ${lon}, ${lat} lies near no field, and exchanged it lies near one; longitude and latitude look swapped.`;
}

function nowhere(places: readonly (Point | null)[]): Places {
  return {
    places,
    coordinateSystem: "unknown",
    coordinateSystemFrom: "headings",
    questions: [],
    notices: [],
  };
}

function westSign(
  placed: readonly (Point | null)[],
  table: PlaceTable,
  columns: PlaceColumns,
  answers: FileAnswers,
  isNearField?: (lonLat: Point) => boolean,
): { isWest: boolean; question: Question | null } {
  const points = placed.filter((point) => point !== null);
  if (points.some(([lon]) => lon <= 0) || points.some((point) => isNearField?.(point))) {
    return { isWest: false, question: null };
  }
  const answer = answers["west-sign"];
  if (answer === "west" || answer === "east") return { isWest: answer === "west", question: null };
  const heading = table.headings[columns.longitude] ?? "";
  const seen = `${table.path}, column “${heading}”: all ${points.length} points lie at ${points[0]![0].toFixed(1)} east; west sign missing?`;
  const text = "Do the points lie west or east of Greenwich?";
  return { isWest: false, question: { key: "west-sign", text, choices: ["west", "east"], seen } };
}

const ANGLE =
  /^([NSEW])?\s*([+-]?\d{1,3}(?:[.,]\d+)?)\s*(?:[°º:d]\s*|\s+)?(?:(\d{1,2}(?:[.,]\d+)?)\s*['′’:m]?\s*)?(?:(\d{1,2}(?:[.,]\d+)?)\s*(?:["″”s]|'')?\s*)?([NSEW])?$/i;

/** A number, or degrees with minutes and seconds; letters are those that fit the axis. */
function readAngle(
  text: string,
  letters: string,
  marks: NumberMarks,
): { value: number; lettered: boolean } | null {
  const number = marks.read(text);
  if (typeof number === "number") return { value: number, lettered: false };
  const found = ANGLE.exec(text.trim());
  if (found === null) return null;
  const [, before, degreeText, minuteText, secondText, after] = found;
  const letter = (before ?? after ?? "").toUpperCase();
  if (letter !== "" && !letters.includes(letter)) return null;
  const [degrees, minutes, seconds] = [degreeText, minuteText, secondText].map((part) =>
    part === undefined ? 0 : Number(part.replace(",", ".")),
  ) as [number, number, number];
  if (minutes >= 60 || seconds >= 60) return null;
  const size = Math.abs(degrees) + minutes / 60 + seconds / 3600;
  const isNegative = degreeText!.startsWith("-") || letter === "W" || letter === "S";
  return { value: isNegative ? -size : size, lettered: letter !== "" };
}
