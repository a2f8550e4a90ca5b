import type { FlatRing } from "./flat-ring.ts";

/** Bands across one axis: 0 cuts at lines of equal x, 1 at lines of equal y. */
export interface Bands {
  readonly axis: 0 | 1;
  /** Lower line of a band, computed from its number and never by adding up. */
  line(band: number): number;
}

/** An edge's meeting with a line. It ends a chain of one band and begins one of the next. */
interface Crossing {
  /** Place along the line. */
  readonly at: number;
  /** Whether the edge goes to the upper band. */
  readonly up: boolean;
  /** The chain begun here. */
  readonly begins: number;
  mate: Crossing | undefined;
}

/** A stretch of a ring within one band. */
interface Chain {
  readonly band: number;
  readonly coordinates: number[];
  end: Crossing | undefined;
}

/** Crossings out of order by more than this are not rounding. */
const TIE_M = 1e-6;

/** The band a coordinate is in: from its lower line up to, but not on, its upper one. */
const bandOf = (value: number, line: (band: number) => number, guess: number): number => {
  let band = guess;
  while (line(band) > value) band--;
  while (line(band + 1) <= value) band++;
  return band;
};

/**
 * Cuts rings, land on the left, into bands. Result: for each band the rings of its land; zero-width ones may be among
 * them. A vertex on a line belongs to the band above. Every cut point is computed once and serves both bands,
 * and the stretch of a line between two cuts is walked one way by one band and the other way by the other, so bands tile.
 */
export const cutIntoBands = (rings: readonly FlatRing[], { axis, line }: Bands): Map<number, FlatRing[]> => {
  const other = 1 - axis;
  const size = line(1) - line(0);
  const result = new Map<number, FlatRing[]>();
  const chains: Chain[] = [];
  const lines = new Map<number, Crossing[]>();

  const keep = (band: number, ring: FlatRing): void => {
    const kept = result.get(band);
    if (kept === undefined) result.set(band, [ring]);
    else kept.push(ring);
  };
  const begin = (band: number): Chain => {
    const chain = { band, coordinates: [], end: undefined };
    chains.push(chain);
    return chain;
  };

  /** Goes on with `chain` along an edge to another band, and returns the chain that the edge ends in. */
  const cross = (chain: Chain, ring: FlatRing, from: number, to: number, toBand: number): Chain => {
    const up = toBand > chain.band;
    const [low, high] = up ? [from, to] : [to, from];
    const lowAcross = ring[low + axis]!;
    const highAcross = ring[high + axis]!;
    const lowAlong = ring[low + other]!;
    const highAlong = ring[high + other]!;
    let current = chain;
    while (current.band !== toBand) {
      const number = up ? current.band + 1 : current.band;
      const across = line(number);
      let at = highAlong;
      if (across !== highAcross) {
        at = lowAlong + (highAlong - lowAlong) * ((across - lowAcross) / (highAcross - lowAcross));
        at = Math.min(Math.max(at, Math.min(lowAlong, highAlong)), Math.max(lowAlong, highAlong));
      }
      const next = begin(current.band + (up ? 1 : -1));
      const crossing = { at, up, begins: chains.length - 1, mate: undefined };
      current.end = crossing;
      const onLine = lines.get(number);
      if (onLine === undefined) lines.set(number, [crossing]);
      else onLine.push(crossing);
      if (axis === 0) {
        current.coordinates.push(across, at);
        next.coordinates.push(across, at);
      } else {
        current.coordinates.push(at, across);
        next.coordinates.push(at, across);
      }
      current = next;
    }
    return current;
  };

  for (const ring of rings) {
    const bands: number[] = [];
    for (let i = 0; i < ring.length; i += 2) {
      const value = ring[i + axis]!;
      bands.push(bandOf(value, line, Math.floor((value - line(0)) / size)));
    }
    const start = bands.findIndex((band, index) => band !== bands[(index + bands.length - 1) % bands.length]);
    if (start < 0) {
      keep(bands[0]!, ring);
      continue;
    }
    // From the edge that comes into the start vertex, once round, so that every chain begins and ends on a line.
    const before = (start + bands.length - 1) % bands.length;
    const opening: Chain = { band: bands[before]!, coordinates: [], end: undefined };
    let chain = opening;
    let from = before;
    for (let step = 0; step < bands.length; step++) {
      const to = (start + step) % bands.length;
      if (bands[to] !== bands[from]) chain = cross(chain, ring, 2 * from, 2 * to, bands[to]!);
      if (step + 1 < bands.length) chain.coordinates.push(ring[2 * to]!, ring[2 * to + 1]!);
      from = to;
    }
    // The last chain has come back to where the opening one left off: they are one.
    chain.coordinates.push(ring[2 * before]!, ring[2 * before + 1]!);
    for (const value of opening.coordinates) chain.coordinates.push(value);
    chain.end = opening.end;
  }

  for (const crossings of lines.values()) pairAlongLine(crossings, axis === 0);
  followChains(chains, keep);
  return result;
};

/** Mates each crossing that enters land, going along the line, with the next one that leaves it. */
const pairAlongLine = (crossings: Crossing[], entersUpward: boolean): void => {
  crossings.sort((a, b) => a.at - b.at);
  for (let i = 0; i < crossings.length; i++) {
    const wantedUp = (i % 2 === 0) === entersUpward;
    let pick = i;
    while (crossings[pick] !== undefined && crossings[pick]!.up !== wantedUp) pick++;
    const picked = crossings[pick];
    if (picked === undefined || picked.at - crossings[i]!.at > TIE_M) {
      throw new Error(`cutIntoBands: the rings cross themselves near ${crossings[i]!.at} along a line`);
    }
    if (pick !== i) {
      crossings.splice(pick, 1);
      crossings.splice(i, 0, picked);
    }
    if (i % 2 === 1) {
      const enter = crossings[i - 1]!;
      enter.mate = picked;
      picked.mate = enter;
    }
  }
};

/** Joins chain to chain across the mates until each ring is closed. */
const followChains = (chains: readonly Chain[], keep: (band: number, ring: FlatRing) => void): void => {
  const done = new Uint8Array(chains.length);
  for (let first = 0; first < chains.length; first++) {
    if (done[first] === 1) continue;
    const ring: number[] = [];
    let current = first;
    do {
      done[current] = 1;
      const chain = chains[current]!;
      for (let i = 0; i < chain.coordinates.length; i += 2) {
        const x = chain.coordinates[i]!;
        const y = chain.coordinates[i + 1]!;
        const length = ring.length;
        if (length >= 2 && ring[length - 2] === x && ring[length - 1] === y) continue;
        ring.push(x, y);
      }
      current = chain.end!.mate!.begins;
    } while (current !== first);
    if (ring.length >= 6) keep(chains[first]!.band, ring);
  }
};
