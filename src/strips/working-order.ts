import { turnBetween } from "./turn-length.ts";

/** A stretch of a pass to be driven without a stop in the work. */
export interface Run {
  readonly pass: number;
  /** Metres along the pass. */
  readonly startM: number;
  readonly endM: number;
}

/**
 * Order of the passes of a block. `back-and-forth`: each after its neighbour. `every-second`: every second one out, the
 * others on the way back. `skip`: m passes on, m - 1 back, with the smallest m that leaves room for a turn.
 */
export type Pattern = "back-and-forth" | "every-second" | "skip";

export interface WorkStep {
  /** Number of the run in the list given. */
  readonly run: number;
  /** Whether it is driven the way metres along it rise. */
  readonly forward: boolean;
  /** Number of the block it belongs to, in the order worked. */
  readonly block: number;
  /** Turn made to get here from the run before, m; 0 for the first, and within a pass. */
  readonly turnM: number;
  /** Way along the passes from the end of the run before to the start of this one, m. */
  readonly moveM: number;
}

export interface WorkPlan {
  readonly widthM: number;
  readonly turnRadiusM: number;
  readonly pattern: Pattern;
}

interface Visit {
  readonly run: number;
  readonly forward: boolean;
}

/**
 * The order in which runs are driven. Runs that lie side by side on following passes, one beside one, make a block, worked
 * through before the next; the first block holds the run of least pass and start, then always the one whose entrance
 * lies nearest. Every run is driven the other way from the one before it in its block.
 */
export const workingOrder = (runs: readonly Run[], plan: WorkPlan): WorkStep[] => {
  const left = new Set<readonly number[]>(blocksOf(runs));
  const steps: WorkStep[] = [];
  let at: { pass: number; alongM: number } | undefined;
  for (let number = 0; left.size > 0; number++) {
    let best: { block: readonly number[]; visits: Visit[]; far: number } | undefined;
    for (const block of left) {
      for (const visits of entrances(block, plan)) {
        const first = visits[0]!;
        const far =
          at === undefined ? 0 : distance(at, entryOf(runs[first.run]!, first.forward), plan.widthM);
        if (best === undefined || far < best.far) best = { block, visits, far };
      }
    }
    left.delete(best!.block);
    for (const { run, forward } of best!.visits) {
      const entry = entryOf(runs[run]!, forward);
      const apart = at === undefined ? 0 : Math.abs(entry.pass - at.pass) * plan.widthM;
      const turnM = apart === 0 ? 0 : turnBetween(apart, plan.turnRadiusM).lengthM;
      const moveM = at === undefined ? 0 : Math.abs(entry.alongM - at.alongM);
      steps.push({ run, forward, block: number, turnM, moveM });
      at = entryOf(runs[run]!, !forward);
    }
  }
  return steps;
};

const entryOf = ({ pass, startM, endM }: Run, forward: boolean): { pass: number; alongM: number } => ({
  pass,
  alongM: forward ? startM : endM,
});

const distance = (
  a: { pass: number; alongM: number },
  b: { pass: number; alongM: number },
  widthM: number,
): number => Math.sqrt(((a.pass - b.pass) * widthM) ** 2 + (a.alongM - b.alongM) ** 2);

/** Chains of runs, each the only one beside the next. By pass, then start, of their first run. */
const blocksOf = (runs: readonly Run[]): number[][] => {
  const order = runs
    .map((_, run) => run)
    .sort((a, b) => runs[a]!.pass - runs[b]!.pass || runs[a]!.startM - runs[b]!.startM || a - b);
  const byPass = new Map<number, number[]>();
  for (const run of order) {
    const list = byPass.get(runs[run]!.pass);
    if (list === undefined) byPass.set(runs[run]!.pass, [run]);
    else list.push(run);
  }
  const beside = (run: number, step: 1 | -1): number[] =>
    (byPass.get(runs[run]!.pass + step) ?? []).filter(
      (other) => runs[other]!.startM < runs[run]!.endM && runs[other]!.endM > runs[run]!.startM,
    );
  const next = (run: number): number | undefined => {
    const [after, ...more] = beside(run, 1);
    return after !== undefined && more.length === 0 && beside(after, -1).length === 1 ? after : undefined;
  };
  const continued = new Set(order.map(next));
  return order
    .filter((run) => !continued.has(run))
    .map((first) => {
      const block: number[] = [];
      for (let run: number | undefined = first; run !== undefined; run = next(run)) block.push(run);
      return block;
    });
};

/** A block entered at either end, either way. */
const entrances = (block: readonly number[], plan: WorkPlan): Visit[][] =>
  [block, block.toReversed()].flatMap((runs) => {
    const places = placesOf(runs.length, plan);
    return [true, false].map((forward) =>
      places.map((place, i): Visit => ({ run: runs[place]!, forward: forward === (i % 2 === 0) })),
    );
  });

/** Places 0 to count - 1 in the order of a pattern. */
const placesOf = (count: number, { pattern, widthM, turnRadiusM }: WorkPlan): number[] => {
  const places = Array.from({ length: count }, (_, place) => place);
  if (pattern === "back-and-forth") return places;
  if (pattern === "every-second") {
    return [
      ...places.filter((place) => place % 2 === 0),
      ...places.filter((place) => place % 2 === 1).reverse(),
    ];
  }
  const skip = Math.ceil((2 * turnRadiusM) / widthM) + 1;
  const result: number[] = [];
  for (let start = 0; start < count; start += 2 * skip) {
    const group = places.slice(start, start + 2 * skip);
    // 0, m, 1, m + 1 ...; a last group that is short skips fewer.
    const half = Math.ceil(group.length / 2);
    for (let i = 0; i < half; i++) {
      result.push(...group.slice(i, i + 1), ...group.slice(half + i, half + i + 1));
    }
  }
  return result;
};
