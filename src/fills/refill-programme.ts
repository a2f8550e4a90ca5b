/** Stops and where the tender stood at each. */
export interface Stops {
  readonly afterPass: readonly number[];
  readonly place: readonly number[];
}

export interface RefillProgramme {
  /** Running lb of each bin after pass 0, 1, ... n. */
  readonly runningLb: readonly Float64Array[];
  /** lb at hand from the start and after a full load, per bin, the reserve taken off. */
  readonly firstLb: readonly number[];
  readonly loadLb: readonly number[];
  /** The same after a stop that follows pass k: other than a full load as long as a bin holds more than one. */
  readonly afterStopLb: (k: number) => readonly number[];
  /** Minutes after pass 1 ... n - 1, one list a place; Infinity where there is no stop. */
  readonly minutes: readonly (readonly number[])[];
  readonly mostMoves: number;
  readonly moveMinutes: number;
}

/** Minutes in whole steps of 1e-5, so that equal plans compare equal; the rest of the key counts stops. */
const STEPS_PER_MINUTE = 1e5;
const STOP_KEYS = 2 ** 17;

/**
 * Least minutes of stops, then fewest stops, then the latest ones: F(k) = c_k + min F(j) over the stops j whose load lasts
 * to k. The window only moves on, so a monotone queue for each place and number of moves gives O(n). Null without a plan.
 */
export function leastStops(programme: RefillProgramme): Stops | null {
  const { minutes, mostMoves, moveMinutes } = programme;
  const passes = programme.runningLb[0]!.length - 1;
  if (passes >= STOP_KEYS) throw new Error(`${passes} passes are more than the stop keys hold`);
  const tracks: Track[] = [];
  for (let moves = 0; moves <= mostMoves; moves++) {
    for (let place = 0; place < minutes.length; place++) tracks.push(new Track(place, moves, passes));
  }
  const moveKey = Math.round(moveMinutes * STEPS_PER_MINUTE) * STOP_KEYS;
  let left = 1;
  for (let k = 1; k <= passes; k++) {
    while (left < k && !lasts(programme, left, k)) left++;
    const fromStart = lastsFromStart(programme, k);
    for (const track of tracks)
      track.reach(k, left, fromStart, k === passes ? 0 : stopKey(minutes[track.place]![k - 1]!));
    if (k < passes) for (const track of tracks) track.offer(k, tracks, moveKey);
  }
  const best = tracks.reduce((a, b) => (b.cost[passes]! < a.cost[passes]! ? b : a));
  return best.cost[passes] === Number.POSITIVE_INFINITY ? null : trace(best, passes);
}

const stopKey = (minutes: number): number =>
  minutes === Number.POSITIVE_INFINITY ? minutes : Math.round(minutes * STEPS_PER_MINUTE) * STOP_KEYS + 1;

/** A rounding in the running sums must not cost a pass that fits to the pound. */
const FITS = 1 + 1e-12;

const lasts = ({ runningLb, afterStopLb }: RefillProgramme, from: number, to: number): boolean => {
  const loadLb = afterStopLb(from);
  return runningLb.every((lb, b) => lb[to]! - lb[from]! <= loadLb[b]! * FITS + 1e-9);
};

const lastsFromStart = ({ runningLb, firstLb }: RefillProgramme, to: number): boolean =>
  runningLb.every((lb, b) => lb[to]! <= firstLb[b]! * FITS + 1e-9);

/** One place of the tender after so many moves: the best keys of stops there, and the queue of stops still in reach. */
class Track {
  readonly place: number;
  readonly moves: number;
  /** Best key of a plan whose last stop is after pass k, here. */
  readonly cost: Float64Array;
  /** Stop before that one, 0 for the start, -1 for none; and the track it was on. */
  readonly before: Int32Array;
  readonly beforeTrack: (Track | null)[];
  readonly #queue: { readonly at: number; readonly key: number; readonly track: Track }[] = [];
  #head = 0;

  constructor(place: number, moves: number, passes: number) {
    this.place = place;
    this.moves = moves;
    this.cost = new Float64Array(passes + 1).fill(Number.POSITIVE_INFINITY);
    this.before = new Int32Array(passes + 1).fill(-1);
    this.beforeTrack = new Array(passes + 1).fill(null);
  }

  reach(k: number, left: number, fromStart: boolean, key: number): void {
    while (this.#head < this.#queue.length && this.#queue[this.#head]!.at < left) this.#head++;
    if (key === Number.POSITIVE_INFINITY) return;
    if (fromStart && this.moves === 0) {
      this.cost[k] = key;
      this.before[k] = 0;
      return;
    }
    const first = this.#queue[this.#head];
    if (first === undefined) return;
    this.cost[k] = first.key + key;
    this.before[k] = first.at;
    this.beforeTrack[k] = first.track;
  }

  /** Puts the stop after pass k in the queue: made here, or elsewhere before the tender moved. */
  offer(k: number, tracks: readonly Track[], moveKey: number): void {
    let key = this.cost[k]!;
    let track: Track = this;
    for (const other of tracks) {
      if (other.moves !== this.moves - 1 || other.place === this.place) continue;
      if (other.cost[k]! + moveKey >= key) continue;
      key = other.cost[k]! + moveKey;
      track = other;
    }
    if (key === Number.POSITIVE_INFINITY) return;
    while (this.#queue.length > this.#head && this.#queue.at(-1)!.key >= key) this.#queue.pop();
    this.#queue.push({ at: k, key, track });
  }
}

function trace(end: Track, passes: number): Stops {
  const afterPass: number[] = [];
  const place: number[] = [];
  let track: Track = end;
  let at = passes;
  while (track.before[at]! > 0) {
    const next = track.before[at]!;
    track = track.beforeTrack[at]!;
    afterPass.unshift(next);
    place.unshift(track.place);
    at = next;
  }
  return { afterPass, place };
}
