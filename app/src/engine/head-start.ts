import { type Answers, type FileSource, type Plan, run, StoppedError } from "#core";
import type { NamedFile } from "./drawn-types.ts";
import { type Part, partOptions, Superseded } from "./run-part.ts";

/** The rates of one field of a saved plan, worked out while the page still opens. */
export class HeadStart {
  private readonly done: Promise<void>;
  private readonly text: string;
  private isOver = false;

  constructor(
    plan: Plan,
    source: FileSource,
    field: string | null,
    part: Pick<Part, "cache" | "parallel" | "onProgress">,
  ) {
    this.text = JSON.stringify(plan);
    const named = plan.fields.find(({ id }) => encodeURIComponent(id) === field) ?? plan.fields[0];
    const options = partOptions({
      ...part,
      answers: {},
      only: named ? [named.id] : [],
      files: "later",
      isWanted: () => !this.isOver,
    });
    // What is wrong with the plan is told when it is asked for.
    this.done = run(plan, source, options).then(
      () => {},
      () => {},
    );
  }

  /** Wait for it where the work wants the same; else end it. */
  async joinedBy(plan: Plan, answers: Answers): Promise<void> {
    if (Object.keys(answers).length > 0 || JSON.stringify(plan) !== this.text) this.isOver = true;
    await this.done;
  }

  stop(): void {
    this.isOver = true;
  }
}

/** The same files by the same paths. */
export function areSame(one: ReadonlyMap<string, Uint8Array>, others: readonly NamedFile[]): boolean {
  return (
    one.size === others.length &&
    others.every(([path, bytes]) => {
      const had = one.get(path);
      return had?.length === bytes.length && had.every((byte, i) => byte === bytes[i]);
    })
  );
}

export const isEnded = (error: unknown): boolean =>
  error instanceof Superseded || error instanceof StoppedError;
