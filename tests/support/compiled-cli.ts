import { execFileSync } from "node:child_process";
import { createHash, randomBytes } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { join, resolve } from "node:path";

const project = resolve(import.meta.dirname, "../..");
const cache = join(project, "node_modules/.cache/bermplan-cli");

/**
 * The command line compiled from the sources as they are now: the path of its main.js. Compiled once for a
 * state of the sources, into the cache of node_modules, where packages are found as from dist; dist itself
 * is left alone, since others may be building it. Types are not checked here: `npm run types` does that.
 */
export function compiledCli(): string {
  const folder = join(cache, stateOfSources());
  const main = join(folder, "dist/cli/main.js");
  if (existsSync(main)) return main;
  const making = join(cache, `making-${randomBytes(6).toString("hex")}`);
  mkdirSync(making, { recursive: true });
  copyFileSync(join(project, "package.json"), join(making, "package.json"));
  execFileSync(
    process.execPath,
    [
      ...[join(project, "node_modules/typescript/bin/tsc"), "-p", join(project, "src"), "--noCheck"],
      ...[
        "--composite",
        "false",
        "--incremental",
        "false",
        "--declaration",
        "false",
        "--isolatedDeclarations",
        "false",
        "--sourceMap",
        "false",
      ],
      ...["--outDir", join(making, "dist")],
    ],
    { stdio: "pipe" },
  );
  forgetOlder();
  try {
    renameSync(making, folder);
  } catch (error) {
    rmSync(making, { recursive: true, force: true });
    if (!existsSync(main)) throw error; // otherwise another test file was faster
  }
  return main;
}

function stateOfSources(): string {
  const hash = createHash("sha256");
  for (const entry of readdirSync(join(project, "src"), { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const { mtimeMs, size } = statSync(path);
    hash.update(`${path} ${mtimeMs} ${size}\n`);
  }
  hash.update(`${statSync(join(project, "package.json")).mtimeMs}`);
  return hash.digest("hex").slice(0, 24);
}

/** Drops what was compiled over ten minutes ago. */
function forgetOlder(): void {
  for (const name of readdirSync(cache)) {
    const path = join(cache, name);
    if (Date.now() - statSync(path).mtimeMs > 600_000) rmSync(path, { recursive: true, force: true });
  }
}
