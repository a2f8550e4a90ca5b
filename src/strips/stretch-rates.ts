import { M_PER_S_PER_MPH } from "../units/index.ts";
import { type RatedPiece, splitRun } from "./split-run.ts";

/** Speed that is assumed where none is given: 8 mph is usual in strips (common practice), m/s. */
export const ASSUMED_SPEED_M_PER_S: number = 8 * M_PER_S_PER_MPH;
/** Time a dry meter takes to reach a new rate. No published figure for strip-till meters was found: assumed. */
export const ASSUMED_RESPONSE_S = 4;

interface MachineResponse {
  readonly speedMPerS: number;
  readonly responseS: number;
}

/** Shortest stretch worth a rate of its own: a third of it may go by before the meter is there. */
export const shortestStretchM = ({ speedMPerS, responseS }: MachineResponse): number =>
  3 * speedMPerS * responseS;

interface StretchChoice {
  /** Stretches are at least this long, unless their run is shorter. */
  readonly shortestM: number;
  /** Rates are whole multiples of this, lb product/ac. */
  readonly stepLbPerAc: number;
}

/** Pieces of one run that get one rate. */
export interface Stretch {
  readonly run: number;
  /** Places in the run of its first piece and of the one after its last. */
  readonly first: number;
  readonly end: number;
  readonly areaAc: number;
  readonly lengthM: number;
  /** What its pieces want on the average, and what it gets. */
  readonly wantedLbPerAc: number;
  readonly rateLbPerAc: number;
}

interface StretchedRates {
  readonly stretches: readonly Stretch[];
  readonly wantedLb: number;
  readonly ratedLb: number;
}

interface OpenStretch extends Omit<Stretch, "rateLbPerAc"> {
  level: number;
}

/**
 * One rate for each stretch that the machine can follow, from the rates wanted for the pieces of each run (in the order
 * driven; runs in working order). A run is split where its stretches differ most from one another, none under the
 * shortest length; each stretch's mean goes to the nearest step; then the stretches of the run where it does least harm,
 * and makes no flicker, go to the other step until the run has its pounds to half a step on its largest stretch. What is
 * left is carried to the next run, so the map keeps its total. Equal neighbours become one stretch.
 */
export const stretchRates = (
  runs: readonly (readonly RatedPiece[])[],
  { shortestM, stepLbPerAc }: StretchChoice,
): StretchedRates => {
  let carriedLb = 0;
  const opened = runs.map((pieces, run) => {
    const open = openStretches(pieces, run, shortestM, stepLbPerAc);
    settle(open, stepLbPerAc, carriedLb);
    carriedLb += ownLbOf(open, stepLbPerAc);
    return open;
  });
  makeGood(opened, stepLbPerAc, carriedLb);
  const stretches = opened.flatMap((open) => merged(open, stepLbPerAc));
  let wantedLb = 0;
  let ratedLb = 0;
  for (const { areaAc, wantedLbPerAc, rateLbPerAc } of stretches) {
    wantedLb += areaAc * wantedLbPerAc;
    ratedLb += areaAc * rateLbPerAc;
  }
  return { stretches, wantedLb, ratedLb };
};

/** Pounds a run gets beyond what it wants. */
const ownLbOf = (open: readonly OpenStretch[], step: number): number =>
  open.reduce((sum, { areaAc, level, wantedLbPerAc }) => sum + areaAc * (level * step - wantedLbPerAc), 0);

/** Half a step on the largest stretch of a run, lb. */
const halfStepOf = (open: readonly OpenStretch[], step: number): number =>
  (step / 2) * open.reduce((most, { areaAc }) => Math.max(most, areaAc), 0);

/**
 * What no later run could take up, many short runs that all round the same way before all, goes to stretches of any run
 * that still has its own pounds to half a step afterwards; where it does least harm for its pounds first.
 */
const makeGood = (opened: readonly (readonly OpenStretch[])[], step: number, leftLb: number): void => {
  const way = leftLb > 0 ? -1 : 1;
  const moves = opened.flatMap((open) =>
    open.flatMap((stretch, i) => {
      const isNear = Math.abs(stretch.level + way - stretch.wantedLbPerAc / step) < 1 - SAME_STEP;
      if (!isNear || stretch.areaAc === 0 || stretch.level + way < 0) return [];
      const harm = harmOf(open, i, way, step) / stretch.areaAc;
      return [{ open, stretch, harm: Math.round(harm / SAME_HARM) }];
    }),
  );
  let left = leftLb;
  for (const { open, stretch } of moves.sort((a, b) => a.harm - b.harm)) {
    const lb = way * step * stretch.areaAc;
    if (Math.abs(left + lb) >= Math.abs(left) - SAME_LB) continue;
    if (Math.abs(ownLbOf(open, step) + lb) > halfStepOf(open, step) + SAME_LB) continue;
    stretch.level += way;
    left += lb;
  }
};

const openStretches = (
  pieces: readonly RatedPiece[],
  run: number,
  shortestM: number,
  step: number,
): OpenStretch[] => {
  const starts = splitRun(pieces, shortestM);
  return starts
    .map((first, i) => {
      const end = starts[i + 1] ?? pieces.length;
      return { run, first, end, ...together(pieces.slice(first, end)), level: 0 };
    })
    .map((stretch) => ({ ...stretch, level: Math.round(stretch.wantedLbPerAc / step + SAME_STEP) }));
};

const together = (
  pieces: readonly RatedPiece[],
): { areaAc: number; lengthM: number; wantedLbPerAc: number } => {
  let areaAc = 0;
  let lengthM = 0;
  let lb = 0;
  for (const piece of pieces) {
    areaAc += piece.areaAc;
    lengthM += piece.lengthM;
    lb += piece.areaAc * piece.lbPerAc;
  }
  return { areaAc, lengthM, wantedLbPerAc: areaAc > 0 ? lb / areaAc : 0 };
};

/** Means of equal rates differ in their last digit: halfway all go up. */
const SAME_STEP = 1e-9;

/**
 * Nor are pounds or harms that differ by less than this different: where a guide has one rate for much ground choices are
 * alike but for the last digit, which is not the same on every machine. The first of them is taken.
 */
const SAME_LB = 1e-6;
const SAME_HARM = 1e-9;

/** How much a change of rate between neighbours counts against half a step off on one stretch. */
const FLICKER = 1;

/** Puts stretches on the other step until the run has its pounds, then while what was carried to it can be made good. */
const settle = (open: OpenStretch[], step: number, carriedLb: number): void => {
  const halfStepLb = halfStepOf(open, step);
  const moved = new Set<OpenStretch>();
  for (const carried of [0, carriedLb]) {
    for (
      let own = ownLbOf(open, step);
      Math.abs(own + carried) > halfStepLb + SAME_LB;
      own = ownLbOf(open, step)
    ) {
      const way = own + carried > 0 ? -1 : 1;
      let best: OpenStretch | undefined;
      let least = Number.POSITIVE_INFINITY;
      open.forEach((stretch, i) => {
        const { areaAc, level, wantedLbPerAc } = stretch;
        const after = own + way * step * areaAc;
        if (moved.has(stretch) || Math.abs(level + way - wantedLbPerAc / step) >= 1 - SAME_STEP) return;
        if (Math.abs(after + carried) >= Math.abs(own + carried) - SAME_LB) return;
        if (carried !== 0 && Math.abs(after) > halfStepLb + SAME_LB) return;
        const harm = harmOf(open, i, way, step);
        if (harm >= least - SAME_HARM) return;
        least = harm;
        best = stretch;
      });
      if (best === undefined) break;
      best.level += way;
      moved.add(best);
    }
  }
};

/** What moving one stretch by a step adds to the misfit, in squared steps, and to the changes of rate beside it. */
const harmOf = (open: readonly OpenStretch[], i: number, way: 1 | -1, step: number): number => {
  const { level, wantedLbPerAc } = open[i]!;
  const before = level - wantedLbPerAc / step;
  const changes = (value: number): number =>
    [open[i - 1], open[i + 1]].filter((other) => other !== undefined && other.level !== value).length;
  return (before + way) ** 2 - before ** 2 + FLICKER * (changes(level + way) - changes(level));
};

const merged = (open: readonly OpenStretch[], step: number): Stretch[] => {
  const result: Stretch[] = [];
  for (const { level, ...stretch } of open) {
    const rateLbPerAc = level * step;
    const last = result[result.length - 1];
    if (last?.rateLbPerAc !== rateLbPerAc) {
      result.push({ ...stretch, rateLbPerAc });
      continue;
    }
    const areaAc = last.areaAc + stretch.areaAc;
    const lb = last.areaAc * last.wantedLbPerAc + stretch.areaAc * stretch.wantedLbPerAc;
    result[result.length - 1] = {
      ...last,
      end: stretch.end,
      areaAc,
      lengthM: last.lengthM + stretch.lengthM,
      wantedLbPerAc: areaAc > 0 ? lb / areaAc : 0,
    };
  }
  return result;
};
