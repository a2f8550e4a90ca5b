import { InputError, type Notice } from "../errors/index.ts";
import { plainName } from "../formats/index.ts";
import type { Point } from "../geo/index.ts";
import { capital } from "../units/index.ts";

/** The points of another file, by their ids; `field` where that file names one. */
export interface PointFile {
  readonly name: string;
  readonly points: readonly { readonly id: string; readonly field: string | null; readonly at: Point }[];
}

interface Joined {
  /** One a row; null where no point has its id. */
  readonly places: readonly (Point | null)[];
  readonly notices: readonly Notice[];
}

/**
 * The place of each row from a point file, by field and id where both files name fields, else by id. Ids are compared as
 * text; `7` also finds `007` when nothing else does, with a notice. Rows and points left over are named.
 * Throws `repeated-id` when an id stands for several places, as where numbering began again in another field.
 */
export function joinPoints(
  file: string,
  rows: readonly { readonly id: string; readonly field: string | null; readonly line: number }[],
  points: PointFile,
): Joined {
  const byField =
    rows.every((row) => row.field !== null) && points.points.every((point) => point.field !== null);
  const keyOf = ({ id, field }: { id: string; field: string | null }) =>
    JSON.stringify([byField ? plainName(field ?? "") : "", id.trim()]);
  const exact = new Map<string, Point[]>();
  const loose = new Map<string, { id: string; at: Point }[]>();
  for (const point of points.points) {
    exact.set(keyOf(point), [...(exact.get(keyOf(point)) ?? []), point.at]);
    const key = keyOf({ ...point, id: withoutZeros(point.id) });
    loose.set(key, [...(loose.get(key) ?? []), { id: point.id, at: point.at }]);
  }
  refuseRepeats(
    file,
    rows.map((row) => ({ key: keyOf(row), line: row.line })),
    exact,
    points.name,
    byField,
  );
  const zeros: string[] = [];
  const taken = new Set<Point>();
  const places = rows.map((row): Point | null => {
    const found = exact.get(keyOf(row))?.[0];
    const near = found === undefined ? loose.get(keyOf({ ...row, id: withoutZeros(row.id) })) : undefined;
    const at = found ?? (near?.length === 1 ? near[0]!.at : null);
    if (found === undefined && at !== null) zeros.push(`${row.id} by ${near![0]!.id}`);
    if (at !== null) taken.add(at);
    return at;
  });
  const notices: Notice[] = [];
  const add = (code: string, message: string) =>
    notices.push({ code, message: `${file}: ${message}`, where: file });
  add("joined", `places taken from ${points.name} by ${byField ? "field and sample id" : "sample id"}.`);
  if (zeros.length > 0) add("leading-zeros", `ids found only without their leading zeros: ${listed(zeros)}.`);
  const lost = rows
    .filter((_, index) => places[index] === null)
    .map(({ id, line }) => `${id} (line ${line})`);
  if (lost.length > 0) add("unmatched-samples", `no point in ${points.name} for samples ${listed(lost)}.`);
  const unused = points.points.filter((point) => !taken.has(point.at)).map(({ id }) => id);
  if (unused.length > 0) add("unmatched-points", `no sample for points ${listed(unused)} of ${points.name}.`);
  return { places, notices };
}

function refuseRepeats(
  file: string,
  rows: readonly { readonly key: string; readonly line: number }[],
  exact: ReadonlyMap<string, readonly Point[]>,
  pointFile: string,
  byField: boolean,
): void {
  const lines = new Map<string, number[]>();
  for (const { key, line } of rows) lines.set(key, [...(lines.get(key) ?? []), line]);
  const apart = [...exact].filter(([key, places]) => {
    return lines.has(key) && places.some(([x, y]) => x !== places[0]![0] || y !== places[0]![1]);
  });
  const twice = [...lines].filter(([, own]) => own.length > 1);
  const named = twice.map(([key, own]) => `${idOf(key)} (lines ${own.join(", ")})`);
  const faults = [
    ...(apart.length > 0
      ? [`${pointFile} has several places for ${listed(apart.map(([key]) => idOf(key)))}`]
      : []),
    ...(twice.length > 0 ? [`${file} has several rows for ${listed(named)}`] : []),
  ];
  if (faults.length === 0) return;
  const retest =
    twice.length > 0
      ? "Where a sample was tested again, keep one of its rows, or leave one out by its line; "
      : "";
  const begun = byField
    ? "give every sample of a field an id of its own."
    : "where numbers begin again in another field, give both files a column with the field.";
  const remedy = retest + begun;
  throw new InputError(
    "repeated-id",
    `${faults.join("; ")}: ids are repeated or begin again, so samples cannot be given a place by id.`,
    capital(remedy),
  );
}

const idOf = (key: string): string => (JSON.parse(key) as string[])[1]!;
const listed = (texts: readonly string[]): string =>
  `${texts.slice(0, 8).join(", ")}${texts.length > 8 ? ` and ${texts.length - 8} more` : ""}`;
const withoutZeros = (id: string): string => id.trim().replace(/^0+(?=\d)/, "");
