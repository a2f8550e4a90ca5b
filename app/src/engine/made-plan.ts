import { type Answers, LEDGER_PATH, type Notice, newPlan, type Plan } from "#core";
import type { NamedFile } from "./drawn-types.ts";
import { readAndOther, saidUnfit } from "./dropped-files.ts";
import type { OpenPlan } from "./same-names.ts";

export interface Recognised {
  readonly plan: Plan;
  /** The plan's files by the paths it names. */
  readonly files: readonly NamedFile[];
  readonly notices: readonly Notice[];
  /** A plan came with the files and everything it names was there. */
  readonly asSaved: boolean;
  /** What joining them does to the open plan, as the edit is named; empty where it does nothing or none is joined. */
  readonly change: string;
}

export interface Dropped {
  readonly name: string;
  readonly date: string;
  readonly files: readonly NamedFile[];
  readonly answers: Answers;
  /** The open plan with its files, which new fields join. */
  readonly joins: OpenPlan | null;
  /** Files of the drop, by the names they were sorted out under, that are not to be read. */
  readonly leftOut?: readonly string[];
}

/** A new plan of loose files. */
export function made(
  { name, date, answers }: Omit<Dropped, "joins" | "files">,
  dropped: readonly NamedFile[],
): Recognised {
  const { read, other } = readAndOther(dropped.filter(([path]) => path !== LEDGER_PATH));
  // With nothing else to go by, each says for itself what it is not.
  const files = read.length > 0 ? read : other;
  const { plan, notices } = newPlan(
    name,
    date,
    files.map(([path, bytes]) => ({ path, bytes })),
    answers,
  );
  const inPlan = new Set(plan.sources.map(({ path }) => path));
  const kept = files.filter((file) => inPlan.has(file[0]) || saidUnfit(file, answers) === "");
  const ledger = dropped.filter(([path]) => path === LEDGER_PATH);
  const passedOver = other.map(
    ([path]): Notice => ({
      code: "file-ignored",
      message: `${path} is not read and is no part of the plan.`,
      where: path,
    }),
  );
  return {
    plan,
    notices: [...passedOver, ...notices],
    files: [...kept, ...ledger],
    asSaved: false,
    change: "",
  };
}
