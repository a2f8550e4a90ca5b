import { z } from "zod";
import { InputError } from "../errors/index.ts";
import type { StickRecord } from "./no-sticks.ts";

const Sha256 = z.string().regex(/^([0-9a-f]{64})?$/);
const Pass = z.strictObject({
  revision: z.int().min(0),
  sha256: Sha256,
  maps: z.record(
    z.string(),
    z.strictObject({
      revision: z.int().min(1),
      name: z.string().min(1),
      sha256: Sha256,
      task: z.string().optional(),
      ofMap: z.strictObject({ sha256: Sha256, totalLb: z.number().min(0) }).optional(),
    }),
  ),
  names: z.record(z.string(), z.string()),
  marks: z.record(z.string(), z.enum(["loaded", "done"])),
});
const Schema = z.strictObject({ format: z.literal("stick-record/1"), strip: Pass, broadcast: Pass });

/** Throws `stick-record-damaged`, naming the file. */
export function readStickRecord(bytes: Uint8Array, where: string): StickRecord {
  try {
    return Schema.parse(JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes)));
  } catch (cause) {
    const why = cause instanceof z.ZodError ? z.prettifyError(cause) : String((cause as Error).message);
    throw new InputError(
      "stick-record-damaged",
      `${where} is not the record of sticks it should be: ${why}`,
      "Put it back from a copy, or take it away: letters then go on from those on the stick, and marks are lost.",
      { cause },
    );
  }
}

/** The record as JSON, as `readStickRecord` reads it. */
export const writeStickRecord = (record: StickRecord): Uint8Array =>
  new TextEncoder().encode(`${JSON.stringify(record, null, 2)}\n`);

/** The revision that a letter stands for, the way back of `revisionLetter`; 0 for none. */
export const revisionNumber = (letter: string): number =>
  [...letter.toUpperCase()].reduce((number, one) => number * 26 + one.charCodeAt(0) - 64, 0);

/** 1 is A, 26 is Z, 27 is AA. */
export function revisionLetter(revision: number): string {
  if (!Number.isInteger(revision) || revision < 1) throw new Error(`revision ${revision}`);
  const above = Math.floor((revision - 1) / 26);
  return (above > 0 ? revisionLetter(above) : "") + String.fromCharCode(65 + ((revision - 1) % 26));
}
