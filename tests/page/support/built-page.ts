import { execFileSync } from "node:child_process";
import { createHash, randomBytes } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { join, resolve } from "node:path";

const project = resolve(import.meta.dirname, "../../..");
const cache = join(project, "node_modules/.cache/bermplan-page");

/**
 * The folder of the page built from the sources as they are now. Built once for a state of the sources, into the cache
 * of node_modules; app/dist is left alone, since others may be building it.
 */
export function builtPage(): string {
  const folder = join(cache, stateOfSources());
  if (existsSync(join(folder, "index.html"))) return folder;
  mkdirSync(cache, { recursive: true });
  const making = join(cache, `making-${randomBytes(6).toString("hex")}`);
  const vite = join(project, "node_modules/vite/bin/vite.js");
  execFileSync(
    process.execPath,
    [vite, "build", join(project, "app"), "--outDir", making, "--emptyOutDir", "--logLevel", "error"],
    { stdio: "pipe" },
  );
  forgetOlder();
  try {
    renameSync(making, folder);
  } catch (error) {
    rmSync(making, { recursive: true, force: true });
    if (!existsSync(join(folder, "index.html"))) throw error; // otherwise another test file was faster
  }
  return folder;
}

function stateOfSources(): string {
  const hash = createHash("sha256");
  for (const part of [
    "src",
    "app/src",
    "app/index.html",
    "app/public",
    "app/vite.config.ts",
    "app/third-party-licences.ts",
    "sample-data",
  ]) {
    const path = join(project, part);
    const files = statSync(path).isDirectory()
      ? readdirSync(path, { recursive: true, encoding: "utf8" }).map((name) => join(path, name))
      : [path];
    for (const file of files.sort()) {
      const { mtimeMs, size } = statSync(file);
      hash.update(`${file} ${mtimeMs} ${size}\n`);
    }
  }
  return hash.digest("hex").slice(0, 24);
}

/** Drops what was built over an hour ago. */
function forgetOlder(): void {
  for (const name of readdirSync(cache)) {
    const path = join(cache, name);
    // What another test file was making may have its name by now.
    const made = statSync(path, { throwIfNoEntry: false });
    if (made && Date.now() - made.mtimeMs > 3_600_000) rmSync(path, { recursive: true, force: true });
  }
}
