import { manifestPath, writeManifest } from "../../src/publish/index.ts";

const utf8 = new TextEncoder();

/** A set of files with its manifest, from texts by path. Invented content. */
export function smallSet(texts: Readonly<Record<string, string>>): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>(
    Object.entries(texts).map(([path, text]) => [path, utf8.encode(text)]),
  );
  const planSha256 = "1".repeat(64);
  files.set(manifestPath, writeManifest({ files, planSha256, toolVersion: "0.0.1" }));
  return files;
}
