import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { sum } from "../../src/numeric/index.ts";
import {
  ASSUMED_RESPONSE_S,
  ASSUMED_SPEED_M_PER_S,
  LEAD_CAUTION,
  leadRates,
  meetLimits,
  type RatedPiece,
  shortestStretchM,
  splitRun,
  stretchRates,
} from "../../src/strips/index.ts";

const piece = (lbPerAc: number, lengthM = 15, areaAc = lengthM / 330): RatedPiece => ({
  lbPerAc,
  lengthM,
  areaAc,
});
const poundsOf = (pieces: readonly RatedPiece[]): number => sum(pieces.map((p) => p.areaAc * p.lbPerAc));

test("three times speed by response; both assumed figures can be typed over", () => {
  expect(shortestStretchM({ speedMPerS: ASSUMED_SPEED_M_PER_S, responseS: ASSUMED_RESPONSE_S })).toBeCloseTo(
    42.9,
    1,
  );
  expect(shortestStretchM({ speedMPerS: 3, responseS: 2 })).toBe(18);
});

describe("where a run is split", () => {
  test("at the step of the rates, not at equal lengths", () => {
    const pieces = [100, 100, 100, 100, 200, 200, 200].map((rate) => piece(rate));
    expect(splitRun(pieces, 45)).toContain(4);
  });

  test("a run shorter altogether is one stretch", () => {
    expect(splitRun([piece(100), piece(300)], 45)).toEqual([0]);
  });

  /** Every way to split, tried out. */
  const leastMisfit = (pieces: readonly RatedPiece[], shortestM: number): number => {
    const misfit = (part: readonly RatedPiece[]): number => {
      const area = sum(part.map((p) => p.areaAc));
      const mean = poundsOf(part) / area;
      return sum(part.map((p) => p.areaAc * (p.lbPerAc - mean) ** 2));
    };
    let least = Number.POSITIVE_INFINITY;
    for (let cuts = 0; cuts < 2 ** (pieces.length - 1); cuts++) {
      const parts: RatedPiece[][] = [[]];
      pieces.forEach((one, i) => {
        if (i > 0 && (cuts >> (i - 1)) & 1) parts.push([]);
        parts.at(-1)!.push(one);
      });
      if (parts.every((part) => sum(part.map((p) => p.lengthM)) >= shortestM * (1 - 1e-9)))
        least = Math.min(least, sum(parts.map(misfit)));
    }
    return least;
  };

  test("no other split fits better: against trying every one", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 4, max: 15 })), {
          minLength: 3,
          maxLength: 10,
        }),
        (raw) => {
          const pieces = raw.map(([rate, length]) => piece(rate, length));
          fc.pre(sum(pieces.map((p) => p.lengthM)) >= 30);
          const starts = splitRun(pieces, 30);
          const parts = starts.map((start, i) => pieces.slice(start, starts[i + 1]));
          const own = sum(
            parts.map((part) => {
              const mean = poundsOf(part) / sum(part.map((p) => p.areaAc));
              return sum(part.map((p) => p.areaAc * (p.lbPerAc - mean) ** 2));
            }),
          );
          expect(parts.every((part) => sum(part.map((p) => p.lengthM)) >= 30 - 1e-6)).toBe(true);
          expect(own).toBeLessThanOrEqual(leastMisfit(pieces, 30) * (1 + 1e-9) + 1e-6);
        },
      ),
      { seed: 20_261, numRuns: 150, endOnFailure: true },
    );
  });
});

describe("rates in steps", () => {
  const run = fc.array(
    fc.record({
      lbPerAc: fc.double({ min: 0, max: 400, noNaN: true }),
      lengthM: fc.oneof(
        { weight: 6, arbitrary: fc.constant(15) },
        fc.double({ min: 0.01, max: 15, noNaN: true }),
      ),
      share: fc.oneof(
        { weight: 6, arbitrary: fc.constant(1) },
        fc.double({ min: 1e-4, max: 1, noNaN: true }),
      ),
    }),
    { minLength: 1, maxLength: 60 },
  );
  const field = fc
    .array(run, { minLength: 20, maxLength: 40 })
    .map((runs) =>
      runs.map((own) =>
        own.map(({ lbPerAc, lengthM, share }) => piece(lbPerAc, lengthM, (lengthM * share) / 330)),
      ),
    );

  test("whole steps near what is wanted; each run to half a step on its largest stretch; the map to 0.1 %", () => {
    fc.assert(
      fc.property(field, (runs) => {
        const shortestM = 45;
        const { stretches, wantedLb, ratedLb } = stretchRates(runs, { shortestM, stepLbPerAc: 10 });
        expect(wantedLb).toBeCloseTo(sum(runs.map(poundsOf)), 6);
        expect(ratedLb).toBeCloseTo(sum(stretches.map((s) => s.areaAc * s.rateLbPerAc)), 6);
        const wholeAc = sum(runs.flat().map((p) => p.areaAc));
        if (wantedLb > 100 * wholeAc) expect(Math.abs(ratedLb / wantedLb - 1)).toBeLessThan(1e-3);
        for (const [number, pieces] of runs.entries()) {
          const own = stretches.filter((s) => s.run === number);
          // They cover the run once.
          expect(own[0]!.first).toBe(0);
          expect(own.map((s) => s.end)).toEqual([...own.slice(1).map((s) => s.first), pieces.length]);
          expect(own.every((s) => s.rateLbPerAc % 10 === 0 && s.rateLbPerAc >= 0)).toBe(true);
          // Equal neighbours are one.
          expect(own.slice(1).every((s, i) => s.rateLbPerAc !== own[i]!.rateLbPerAc)).toBe(true);
          const runM = sum(pieces.map((p) => p.lengthM));
          expect(own.every((s) => s.lengthM >= Math.min(runM, shortestM) * (1 - 1e-9))).toBe(true);
          const off = sum(own.map((s) => s.areaAc * s.rateLbPerAc)) - poundsOf(pieces);
          const largestAc = Math.max(...own.map((s) => s.areaAc));
          expect(Math.abs(off)).toBeLessThanOrEqual(5 * largestAc + 1e-9);
        }
      }),
      { seed: 7_041, numRuns: 60, endOnFailure: true },
    );
  });

  test("halfway between two steps: one change in a run, not one at every stretch", () => {
    const runs = Array.from({ length: 20 }, () => Array.from({ length: 55 }, () => piece(105)));
    const { stretches, wantedLb, ratedLb } = stretchRates(runs, { shortestM: 45, stepLbPerAc: 10 });
    expect(stretches.length).toBeLessThanOrEqual(40);
    expect(Math.abs(ratedLb / wantedLb - 1)).toBeLessThan(1e-3);
  });

  test("a level map stays level when it is on a step", () => {
    const { stretches, ratedLb, wantedLb } = stretchRates(
      [[piece(110), piece(110), piece(110), piece(110)]],
      {
        shortestM: 15,
        stepLbPerAc: 10,
      },
    );
    expect(stretches).toHaveLength(1);
    expect(ratedLb).toBeCloseTo(wantedLb, 12);
  });

  test("a slope changes rate one way only", () => {
    const slope = Array.from({ length: 60 }, (_, i) => piece(100 + i));
    const { stretches } = stretchRates([slope], { shortestM: 45, stepLbPerAc: 10 });
    const rates = stretches.map((s) => s.rateLbPerAc);
    expect(rates).toEqual(rates.toSorted((a, b) => a - b));
  });

  test("a sliver carries nothing: its pounds go to the next run", () => {
    const sliver = [piece(14, 2, 1e-6)];
    const { stretches } = stretchRates([sliver, [piece(100, 60, 0.5)]], { shortestM: 45, stepLbPerAc: 10 });
    expect(stretches.map((s) => s.rateLbPerAc)).toEqual([10, 100]);
  });

  test("nothing wanted: nothing put down", () => {
    expect(stretchRates([[piece(0), piece(0)], []], { shortestM: 45, stepLbPerAc: 10 })).toMatchObject({
      ratedLb: 0,
      stretches: [{ rateLbPerAc: 0, first: 0, end: 2 }],
    });
  });
});

describe("a lead", () => {
  const pieces = [100, 100, 200, 200, 300].map((rate) => piece(rate));

  test("is off at 0", () => {
    expect(leadRates(pieces, 0)).toEqual(pieces);
  });

  test("tells a rate one lead early, and holds the last one to the end", () => {
    expect(leadRates(pieces, 15).map((p) => p.lbPerAc)).toEqual([100, 200, 200, 300, 300]);
    const half = leadRates(pieces, 7.5).map((p) => p.lbPerAc);
    expect(half).toEqual([100, 150, 200, 250, 300]);
  });

  test("the cab sheet's words name delay and direction", () => {
    expect(LEAD_CAUTION).toMatch(/delay.*to 0/);
    expect(LEAD_CAUTION).toMatch(/arrow/);
  });
});

describe("a controller's limits", () => {
  const mapAt = (shortestM: number) => ({
    polygons: Math.ceil(40_000 / shortestM),
    vertices: 4 * Math.ceil(40_000 / shortestM),
    bytes: 200 * Math.ceil(40_000 / shortestM),
    totalLb: 50_000 + shortestM / 10,
  });

  test("met at once: no word", () => {
    expect(meetLimits({ polygons: 1_000 }, 45, mapAt).notices).toEqual([]);
    expect(meetLimits({}, 45, mapAt).shortestM).toBe(45);
  });

  test.each([[{ polygons: 500 }], [{ vertices: 1_000 }], [{ bytes: 64_000 }]])(
    "%o: coarsened until it fits, with the change in the total",
    (limits) => {
      const { map, shortestM, notices } = meetLimits(limits, 45, mapAt);
      for (const [name, most] of Object.entries(limits))
        expect(map[name as "bytes"]).toBeLessThanOrEqual(most);
      expect(map).toEqual(mapAt(shortestM));
      const change = (map.totalLb - mapAt(45).totalLb).toFixed(1);
      expect(notices).toEqual([
        { code: "map-coarsened", where: "", message: expect.stringContaining(`changed by ${change} lb`) },
      ]);
    },
  );

  test("never met: the user's error", () => {
    expect(() => meetLimits({ polygons: 0 }, 45, mapAt)).toThrow(InputError);
  });
});

test("many short runs that all round one way are made good by runs with room, each still to half a step", () => {
  const short = Array.from({ length: 100 }, () => [piece(23, 9, 0.013)]);
  const wavy = Array.from({ length: 60 }, (_, run) =>
    Array.from({ length: 20 }, (_, i) => piece(40 + 30 * Math.sin(run + i / 2), 15, 0.04 + 0.01 * (i % 3))),
  );
  // The long runs first: when the short ones round down nothing comes after them.
  const { stretches, wantedLb, ratedLb } = stretchRates([...wavy, ...short], {
    shortestM: 45,
    stepLbPerAc: 10,
  });
  expect(Math.abs(ratedLb / wantedLb - 1)).toBeLessThan(1e-3);
  for (let run = 0; run < 160; run++) {
    const own = stretches.filter((stretch) => stretch.run === run);
    const off = sum(
      own.map(({ areaAc, rateLbPerAc, wantedLbPerAc }) => areaAc * (rateLbPerAc - wantedLbPerAc)),
    );
    expect(Math.abs(off)).toBeLessThanOrEqual(5 * Math.max(...own.map(({ areaAc }) => areaAc)) + 1e-9);
  }
});
