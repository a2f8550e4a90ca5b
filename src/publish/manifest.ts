import { z } from "zod";
import { InputError } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import { faultOfPaths } from "./manifest-paths.ts";
import { sameBytes } from "./same-bytes.ts";

/** Where the manifest stands in a set of written files. It does not list itself. */
export const manifestPath: string = "manifest.json";

/** One file of a set. */
export interface ManifestFile {
  /** Relative to the folder of the set, forward slashes. */
  readonly path: string;
  readonly bytes: number;
  /** 64 lower-case hexadecimal digits, as every hash here. */
  readonly sha256: string;
}

/** What a set of written files consisted of when it was written. */
export interface Manifest {
  readonly format: "manifest/1";
  readonly tool: "bermplan";
  readonly toolVersion: string;
  /** Hash of the plan document the set was made from. */
  readonly planSha256: string;
  /** Sorted by path in code units; no path twice. */
  readonly files: readonly ManifestFile[];
  /** Hash of the manifest's own lines, all but the last two. */
  readonly manifestSha256: string;
}

/** What a manifest is made of. */
export interface ManifestInput {
  /** Everything the set holds except the manifest itself. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly planSha256: string;
  readonly toolVersion: string;
}

const Sha256 = z.string().regex(/^[0-9a-f]{64}$/, "64 lower-case hexadecimal digits");
const Schema = z.strictObject({
  format: z.literal("manifest/1"),
  tool: z.literal("bermplan"),
  toolVersion: z.string().min(1),
  planSha256: Sha256,
  files: z.array(z.strictObject({ path: z.string(), bytes: z.int().min(0), sha256: Sha256 })),
  manifestSha256: Sha256,
});

/**
 * The bytes of manifest.json: UTF-8, two blanks of indent, one line a file, a line feed at the end.
 * The last two lines are `  "manifestSha256": "..."` and `}`; the hash is that of every byte before those
 * two lines, so anybody can check it: `head -n -2 manifest.json | sha256sum`.
 * The same input gives the same bytes. A path no controller could hold is our bug: plain `Error`.
 */
export function writeManifest(input: ManifestInput): Uint8Array {
  const files = [...input.files]
    .map(([path, bytes]) => ({ path, bytes: bytes.length, sha256: sha256Hex(bytes) }))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
  const fault = faultOfPaths(
    files.map((file) => file.path),
    manifestPath,
  );
  if (fault) throw new Error(`manifest: ${fault}`);
  const rest = { format: "manifest/1", tool: "bermplan", ...input, files } as const;
  const bytes = manifestBytes(rest);
  Schema.parse(JSON.parse(new TextDecoder().decode(bytes)));
  return bytes;
}

/**
 * Strict: only the exact bytes that `writeManifest` gives are accepted, so one changed byte anywhere in it
 * is found. `where` names the file in messages.
 * Throws `not-a-manifest` (other content, other tool or format) and `manifest-changed`.
 */
export function readManifest(bytes: Uint8Array, where: string): Manifest {
  let manifest: Manifest;
  try {
    const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    manifest = Schema.parse(JSON.parse(text));
  } catch (error) {
    const why = error instanceof z.ZodError ? z.prettifyError(error) : String((error as Error).message);
    throw new InputError(
      "not-a-manifest",
      `${where} is not a manifest of this tool, or it is damaged: ${why}`,
      remedy,
      {
        cause: error,
      },
    );
  }
  const fault = faultOfPaths(
    manifest.files.map((file) => file.path),
    manifestPath,
  );
  if (fault) throw new InputError("not-a-manifest", `${where}: ${fault}`, remedy);
  if (!sameBytes(bytes, manifestBytes(manifest))) {
    throw new InputError(
      "manifest-changed",
      `${where} was changed after it was written: its own hash does not match`,
      remedy,
    );
  }
  return manifest;
}

const remedy = "Take the set from where it was written once more, or build it again.";

/** Lays out the lines and closes them with their hash; a hash already in `rest` is not looked at. */
function manifestBytes(rest: Omit<Manifest, "manifestSha256">): Uint8Array {
  const text = JSON.stringify;
  const rows = rest.files.map(
    (file) => `    {"path": ${text(file.path)}, "bytes": ${file.bytes}, "sha256": ${text(file.sha256)}}`,
  );
  const lines = [
    "{",
    `  "format": ${text(rest.format)},`,
    `  "tool": ${text(rest.tool)},`,
    `  "toolVersion": ${text(rest.toolVersion)},`,
    `  "planSha256": ${text(rest.planSha256)},`,
    rows.length === 0 ? `  "files": [],` : `  "files": [\n${rows.join(",\n")}\n  ],`,
  ];
  const head = `${lines.join("\n")}\n`;
  const encoder = new TextEncoder();
  return encoder.encode(`${head}  "manifestSha256": "${sha256Hex(encoder.encode(head))}"\n}\n`);
}
