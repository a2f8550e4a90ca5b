import { execFileSync } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";
import { describe, it } from "vitest";

/** Runs a tool of the system and gives what it prints; throws when it fails. */
export type Run = (...args: string[]) => string;

/**
 * A group of tests that need tools of the system, such as `ogrinfo`. Where one is missing the group becomes one
 * skipped test whose name says so; with CI=true it becomes a failing one, so that no check is lost unseen.
 */
export function describeWithTools<Tool extends string>(
  tools: readonly Tool[],
  title: string,
  body: (run: Record<Tool, Run>) => void,
): void {
  const paths = tools.map((tool) => [tool, pathOf(tool)] as const);
  const missing = paths.filter(([, path]) => path === undefined).map(([tool]) => tool);
  if (missing.length === 0) {
    const run = Object.fromEntries(paths.map(([tool, path]) => [tool, runner(path ?? tool)]));
    describe(title, () => body(run as Record<Tool, Run>));
  } else if (process.env.CI === "true") {
    it(`${title}: needs ${missing.join(", ")}`, () => {
      throw new Error(`${missing.join(", ")} is not installed, and with CI=true it must be`);
    });
  } else {
    it.skip(`${title}: NOT CHECKED, ${missing.join(", ")} is not installed`, () => {});
  }
}

/** The tool's full path, or undefined when the PATH does not have it. */
export function pathOf(tool: string): string | undefined {
  return (process.env.PATH ?? "")
    .split(delimiter)
    .map((folder) => join(folder, tool))
    .find((path) => {
      try {
        accessSync(path, constants.X_OK);
        return true;
      } catch {
        return false;
      }
    });
}

function runner(path: string): Run {
  return (...args) => execFileSync(path, args, { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
}
