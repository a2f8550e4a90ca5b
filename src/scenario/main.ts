#!/usr/bin/env node
/**
 * Writes sample-data/<scenario>/ from every seeds/<scenario>.json: `node dist/scenario/main.js`.
 * With --check nothing is written; exit 2 when a committed file is not what its seed gives.
 */
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { InputError } from "../errors/index.ts";
import { generate, readSeed } from "./index.ts";

const root = join(import.meta.dirname, "../..");

async function main(args: readonly string[]): Promise<number> {
  const unknown = args.find((arg) => arg !== "--check");
  if (unknown !== undefined)
    throw new InputError("unknown-option", `${unknown} is not known`, "Only --check is.");
  const names = (await readdir(join(root, "seeds"))).filter((name) => name.endsWith(".json")).sort();
  let wrong = 0;
  for (const name of names) wrong += await scenario(name, args.includes("--check"));
  return wrong > 0 ? 2 : 0;
}

/** Writes or checks one scenario; the number of files that are not as they should be. */
async function scenario(file: string, checkOnly: boolean): Promise<number> {
  const seed = readSeed(await readFile(join(root, "seeds", file), "utf8"), `seeds/${file}`);
  if (`${seed.name}.json` !== file) {
    throw new InputError(
      "seed-name",
      `seeds/${file} is named ${seed.name}`,
      "Give file and name the same stem.",
    );
  }
  const folder = join(root, "sample-data", seed.name);
  const { files } = generate(seed);
  await mkdir(folder, { recursive: true });
  const strangers = (await readdir(folder)).filter((name) => !files.has(name));
  const faults = strangers.map((name) => `${name} is not from the seed`);
  for (const [path, bytes] of files) {
    const before = await readFile(join(folder, path)).catch(() => undefined);
    if (before?.equals(bytes)) continue;
    if (checkOnly) faults.push(`${path} is not what the seed gives`);
    else await writeFile(join(folder, path), bytes);
  }
  for (const fault of faults) console.error(`sample-data/${seed.name}: ${fault}`);
  console.log(`sample-data/${seed.name}: ${files.size} files`);
  return faults.length;
}

main(process.argv.slice(2)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    if (!(error instanceof InputError)) throw error;
    console.error(`${error.message}\n${error.remedy}`);
    process.exitCode = 2;
  },
);
