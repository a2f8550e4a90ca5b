import { InputError } from "../../errors/index.ts";
import { readText } from "../../formats/index.ts";

/** Files that this tool wrote itself, by the word before the slash in their `format`, and what takes them. */
const OWN: Readonly<Record<string, readonly [what: string, remedy: string]>> = {
  plan: ["a plan", "Give its folder to build, fills, season or order."],
  result: ["the figures of a build", "Read one of the maps in prescriptions/ beside it."],
  manifest: ["the list of a folder's files", "Give the folder to check."],
  stick: ["the list of what is on a stick", "Read one of the maps beside it."],
  "stick-record": ["the record of a build's sticks", "Give the build's folder to stick."],
};

/**
 * The refusal of a JSON file that this tool wrote for itself, no shapes and no samples; null for any other. Only the
 * first member is looked at, where our writers put `format`.
 */
export function ownFile(bytes: Uint8Array, name: string): InputError | null {
  const { text } = readText(bytes.subarray(0, 200));
  const format = /^\s*\{\s*"format"\s*:\s*"([a-z-]+)\/\d+"/.exec(text)?.[1];
  const own = format === undefined ? undefined : OWN[format];
  if (own === undefined) return null;
  const [what, remedy] = own;
  return new InputError("own-file", `${name}: is ${what}, with no shapes or samples to read.`, remedy);
}
