import type { Notice } from "../errors/index.ts";
import { assignSamples, type LabTable, type SoilSample, sampleRecords } from "../soil/index.ts";
import type { NamedField } from "./field-shapes.ts";
import type { InputFile } from "./input-file.ts";

/** The sources of a field's samples as the plan names them. */
interface PlacedSamples {
  /** Absent where there is no table at all. */
  readonly samples?: string;
  readonly moreSamples?: readonly string[];
}

interface Table {
  readonly path: string;
  readonly count: number;
  /** Last day of its samples in the field; empty where the table has no readable dates. */
  readonly date: string;
}

/**
 * By field id, the tables with samples in it. Dated tables stand the newest first, so that the newest is read and the
 * others can be chosen; where none is dated the one with the most samples stands alone and a notice names the others.
 * Strays of a file are those that no field takes.
 */
export function placeSamples(
  fields: readonly NamedField[],
  inputs: readonly InputFile[],
  labs: ReadonlyMap<string, LabTable>,
  notices: Notice[],
): ReadonlyMap<string, PlacedSamples> {
  const tables = new Map<string, Table[]>(fields.map((field) => [field.id, []]));
  for (const [path, lab] of labs) {
    notices.push(...lab.notices);
    const placed = assignSamples(path, lab.samples, fields);
    notices.push(...placed.notices);
    const table = inputs.find((input) => input.path === path)?.table;
    const records = table ? sampleRecords(table) : new Map();
    for (const [id, samples] of placed.byField) {
      tables.get(id)!.push({ path, count: samples.length, date: lastDay(samples, records) });
    }
  }
  return new Map(fields.map((field) => [field.id, sourcesOfField(field, tables.get(field.id)!, notices)]));
}

function lastDay(
  samples: readonly SoilSample[],
  records: ReadonlyMap<number, { readonly date: string | null }>,
): string {
  const days = samples.map((sample) => records.get(sample.line)?.date ?? "");
  return days.sort().at(-1) ?? "";
}

function sourcesOfField(field: NamedField, tables: readonly Table[], notices: Notice[]): PlacedSamples {
  if (tables.length === 0) return {};
  const most = tables.reduce((best, table) => (table.count > best.count ? table : best));
  if (most.count === 0) {
    const message = `${field.name}: no soil sample lies in this field; it cannot be worked out as it is.`;
    notices.push({ code: "field-without-samples", message, where: field.id });
    return { samples: most.path };
  }
  const here = tables.filter((table) => table.count > 0);
  const dated = here.filter((table) => table.date !== "");
  if (here.length === 1 || dated.length === 0) {
    const others = here.filter((table) => table !== most).map((table) => table.path);
    if (others.length > 0) {
      const message = `${field.name}: samples of ${others.join(", ")} are left aside; no dates tell which are newer. ${most.path} has the most.`;
      notices.push({ code: "samples-left-aside", message, where: field.id });
    }
    return { samples: most.path };
  }
  const [first, ...more] = here.toSorted((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0));
  return { samples: first!.path, moreSamples: more.map((table) => table.path) };
}
