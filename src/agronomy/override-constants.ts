import { InputError } from "../errors/index.ts";
import type { Constant, Guide } from "./types.ts";

/**
 * The guide with figures of the user's in place of its own; each keeps the published figure beside it.
 * Throws `unknown-constant` and `constant-not-usable`.
 */
export function overrideConstants(guide: Guide, values: { readonly [id: string]: number }): Guide {
  const constants: { [id: string]: Constant } = { ...guide.constants };
  for (const [id, value] of Object.entries(values)) {
    const constant = guide.constants[id];
    if (constant === undefined) {
      throw new InputError(
        "unknown-constant",
        `${guide.title} (${guide.id}) has no figure "${id}"`,
        `It has ${Object.keys(guide.constants).join(", ")}.`,
      );
    }
    if (!Number.isFinite(value)) {
      throw new InputError(
        "constant-not-usable",
        `${value} cannot stand for ${id} of ${guide.title}`,
        `Give a number in ${constant.unit}.`,
      );
    }
    constants[id] = {
      ...constant,
      value,
      status: "typed",
      published: constant.published ?? constant.value,
    };
  }
  return { ...guide, constants };
}
