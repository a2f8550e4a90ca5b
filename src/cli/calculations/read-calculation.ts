import { z } from "zod";
import { InputError } from "../../errors/index.ts";
import { readJson } from "../../formats/index.ts";
import type { Call } from "../command.ts";
import { gatherInput } from "../gather-input.ts";

/** What a file holds, held to a shape; throws `calculation-not-valid` with the path of each wrong or unknown key. */
export type ReadShape = <T>(shape: z.ZodType<T>) => T;

/** The figures that `--input X.json` (or `-`) holds: docs/operations.md has every shape. Throws `not-json`; what comes back throws `calculation-not-valid`. */
export async function readCalculation(call: Call, path: string): Promise<ReadShape> {
  const { name, files } = await gatherInput(path, call.readStandardInput);
  const [bytes] = files.values();
  if (files.size !== 1 || bytes === undefined) {
    throw new InputError("not-json", `${name} is a folder`, "Give one JSON file.");
  }
  const value = readJson(bytes, name);
  return (shape) => {
    const parsed = shape.safeParse(value);
    if (parsed.success) return parsed.data;
    throw new InputError(
      "calculation-not-valid",
      parsed.error.issues
        .map(
          ({ path, message }) => `${name}: ${z.core.toDotPath(path)}${path.length > 0 ? ": " : ""}${message}`,
        )
        .join("\n"),
      "Mend each place named above; docs/operations.md shows the shape, docs/split.md that of capacity.",
    );
  };
}

/** A part that another part of the figures needs. */
export const partMissing = (part: string): InputError =>
  new InputError("part-missing", `the figures lack ${part}`, "docs/operations.md shows the shape.");

/** The result of figures that have parts to choose from; throws `part-missing` where there is none of them. */
export function somePart<Result extends object>(result: Result, parts: string): Result {
  if (Object.keys(result).length > 0) return result;
  throw partMissing(`a part to work out: ${parts}`);
}

/** Either PLAN or --input: throws `plan-or-input` when both or neither are given. */
export function planOrInput(
  call: Call,
  verb: string,
): { readonly plan: string } | { readonly input: string } {
  const [plan] = call.operands;
  const { input } = call.options;
  if (plan !== undefined && input === undefined) return { plan };
  if (plan === undefined && input !== undefined) return { input };
  throw new InputError(
    "plan-or-input",
    `${verb} works on a plan or on the figures of --input, ${plan === undefined ? "and got neither" : "not on both"}`,
    `Write bermplan ${verb} PLAN, or bermplan ${verb} --input X.json.`,
  );
}
