import { readFileSync } from "node:fs";

/** The version in package.json, two folders above this file both in src and in dist. */
export function toolVersion(): string {
  const text = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
  return (JSON.parse(text) as { version: string }).version;
}
