import { z } from "zod";
import { InputError } from "../errors/index.ts";

export type StickPass = "strip" | "broadcast";
/** What became of a field's maps: in the display, or worked. */
export type FieldMark = "loaded" | "done";

/** What was put on sticks for one machine. */
export interface PassRecord {
  /** Number of the last revision: 1 is A. */
  readonly revision: number;
  /** Hash of everything that went on the stick in it. */
  readonly sha256: string;
  /** By stem: the revision a map last changed in, the name it has on the stick since, and the hash of its files. */
  readonly maps: Readonly<
    Record<string, { readonly revision: number; readonly name: string; readonly sha256: string }>
  >;
  /** Every name ever given to a map of a field, so that older maps on a stick are told. */
  readonly names: Readonly<Record<string, string>>;
  readonly marks: Readonly<Record<string, FieldMark>>;
}

/** What a build's folder remembers of its sticks; it stands beside that folder, not in it, so that a new build keeps it. */
export interface StickRecord {
  readonly format: "stick-record/1";
  readonly strip: PassRecord;
  readonly broadcast: PassRecord;
}

const Sha256 = z.string().regex(/^([0-9a-f]{64})?$/);
const Pass = z.strictObject({
  revision: z.int().min(0),
  sha256: Sha256,
  maps: z.record(
    z.string(),
    z.strictObject({ revision: z.int().min(1), name: z.string().min(1), sha256: Sha256 }),
  ),
  names: z.record(z.string(), z.string()),
  marks: z.record(z.string(), z.enum(["loaded", "done"])),
});
const Schema = z.strictObject({ format: z.literal("stick-record/1"), strip: Pass, broadcast: Pass });

const EMPTY: PassRecord = { revision: 0, sha256: "", maps: {}, names: {}, marks: {} };

/** Of a folder whose maps never went on a stick. */
export const noSticks: StickRecord = { format: "stick-record/1", strip: EMPTY, broadcast: EMPTY };

/** Throws `stick-record-damaged`, naming the file. */
export function readStickRecord(bytes: Uint8Array, where: string): StickRecord {
  try {
    return Schema.parse(JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes)));
  } catch (cause) {
    const why = cause instanceof z.ZodError ? z.prettifyError(cause) : String((cause as Error).message);
    throw new InputError(
      "stick-record-damaged",
      `${where} is not the record of sticks it should be: ${why}`,
      "Put it back from a copy, or take it away: letters then begin at A again, and marks are lost.",
      { cause },
    );
  }
}

export const writeStickRecord = (record: StickRecord): Uint8Array =>
  new TextEncoder().encode(`${JSON.stringify(record, null, 2)}\n`);

/** 1 is A, 26 is Z, 27 is AA. */
export function revisionLetter(revision: number): string {
  if (!Number.isInteger(revision) || revision < 1) throw new Error(`revision ${revision}`);
  const above = Math.floor((revision - 1) / 26);
  return (above > 0 ? revisionLetter(above) : "") + String.fromCharCode(65 + ((revision - 1) % 26));
}
