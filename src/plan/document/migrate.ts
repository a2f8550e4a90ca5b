import { InputError } from "../../errors/index.ts";

/** One step from a format to the next; each is tested on a stored old file. */
type Step = (document: Record<string, unknown>) => Record<string, unknown>;

/** By the format a step starts from. Format 1 is the first, so there is none yet. */
const STEPS: ReadonlyMap<number, Step> = new Map();
const CURRENT = 1;

/**
 * Bring a plan of an older format up to date, in memory. Throws `not-a-plan`, `plan-too-new` of a newer format than this
 * program knows, `plan-too-old` of one from which no step leads on.
 */
export function migrate(document: unknown, name: string): unknown {
  const format = (document as { format?: unknown } | null)?.format;
  const version = typeof format === "string" ? /^plan\/(\d+)$/.exec(format)?.[1] : undefined;
  if (version === undefined) {
    throw new InputError(
      "not-a-plan",
      `${name}: not a plan; its key “format” is ${JSON.stringify(format) ?? "missing"}, not “plan/${CURRENT}”.`,
      "Give the folder, plan.json or zip that the command new has made.",
    );
  }
  let current = document as Record<string, unknown>;
  if (Number(version) > CURRENT) {
    throw new InputError(
      "plan-too-new",
      `${name}: format “${format}” is newer than this program, which knows plan/${CURRENT}.`,
      "Use the newer program that wrote it.",
    );
  }
  for (let from = Number(version); from < CURRENT; from++) {
    const step = STEPS.get(from);
    if (!step)
      throw new InputError(
        "plan-too-old",
        `${name}: format “${format}” is not known.`,
        "Make the plan anew.",
      );
    current = step(current);
  }
  return current;
}
