import { InputError } from "../errors/index.ts";
import { checkFiles, type Manifest, manifestPath, readManifest } from "../publish/index.ts";
import type { OpenedSource } from "./open-source.ts";

/** Whether what was opened is a folder or zip that build wrote. */
const isBuild = (paths: readonly string[]): boolean =>
  paths.includes(manifestPath) && paths.includes("result.json");

/** Whether it is of a build though not all of it is there: a manifest, results or maps beside the build's own copy of its plan. */
export const isOfABuild = (paths: readonly string[]): boolean =>
  paths.includes("plan/plan.json") &&
  !paths.includes("plan.json") &&
  paths.some((path) => path === manifestPath || path === "result.json" || path.startsWith("prescriptions/"));

/** The manifest of a build of which every file is as written. Throws `no-build`, `not-as-written`; `nothing`: what was therefore not done. */
export async function wholeBuild(build: OpenedSource, dir: string, nothing: string): Promise<Manifest> {
  if (!isBuild(await build.list())) {
    const message = `${dir} is no whole build: it has no ${manifestPath} with a result.json`;
    throw new InputError(
      "no-build",
      message,
      `Give the folder that build wrote, or build it again; ${nothing}.`,
    );
  }
  const manifest = readManifest(await build.read(manifestPath), `${dir}/${manifestPath}`);
  const problems = await checkFiles(manifest, build);
  if (problems.length > 0) {
    const lines = problems.map((problem) => `  ${problem.message}`).join("\n");
    throw new InputError(
      "not-as-written",
      `${dir} is not as written:\n${lines}`,
      `Build it again; ${nothing}.`,
    );
  }
  return manifest;
}
