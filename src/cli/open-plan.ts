import { basename, dirname } from "node:path";
import { InputError } from "../errors/index.ts";
import { type OpenedSource, openSource } from "./open-source.ts";

/**
 * Opens a plan given as a folder, as the plan.json in it, or as a zip of the folder. A zip whose files all
 * stand in one folder is taken from there. Throws `no-plan` when there is no plan.json.
 */
export async function openPlan(
  operand: string,
  readStandardInput: () => Promise<Uint8Array>,
): Promise<OpenedSource> {
  const folder = basename(operand) === "plan.json" ? dirname(operand) : operand;
  const source = await openSource(folder, readStandardInput);
  const paths = await source.list();
  if (paths.includes("plan.json")) return source;
  const inside = paths.find((path) => path.split("/").length === 2 && path.endsWith("/plan.json"));
  if (inside !== undefined) return below(source, inside.slice(0, -"plan.json".length));
  throw new InputError(
    "no-plan",
    `${operand}: there is no plan.json`,
    "Give the folder, plan.json or zip that the command new has made.",
  );
}

function below(source: OpenedSource, prefix: string): OpenedSource {
  return {
    notices: source.notices,
    list: async () =>
      (await source.list())
        .filter((path) => path.startsWith(prefix))
        .map((path) => path.slice(prefix.length)),
    read: (path) => source.read(prefix + path),
  };
}
