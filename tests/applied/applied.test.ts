import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  catchUp,
  cleanLog,
  findLag,
  type LogPoint,
  mapLog,
  meterFactorOfFills,
  placedByHand,
  reconcileTickets,
  remainder,
} from "../../src/applied/index.ts";
import type { MultiPolygon, Point } from "../../src/geo/index.ts";
import { stripSegments } from "../../src/strips/index.ts";
import { acres } from "../../src/units/index.ts";
import { example, near } from "../support/operations.ts";

describe("f2: scale tickets", () => {
  const { inputs, expected } = example("f2");
  const tickets = inputs.tickets.map(([grossLb, tareLb]: [number, number]) => ({ grossLb, tareLb }));
  const stock = { startLb: inputs.startLb, endLb: inputs.endLb, wasteLb: inputs.wasteLb };
  test("delivered, used, factor, error", () => {
    const have = reconcileTickets({
      ...stock,
      tickets,
      loggedLb: inputs.loggedLb,
      scaleErrorLb: inputs.scaleErrorLb,
    });
    expect([have.deliveredLb, have.usedLb]).toEqual([expected.deliveredLb, expected.usedLb]);
    near(have.meterFactor, expected.k);
    near(have.logErrorShare * 100, expected.errPct);
    near(have.meterFactorError, expected.kTol);
    expect([have.mayRescale, have.notices[0]!.code]).toEqual([true, "meter-off"]);
  });
  test("four fills", () => {
    const fills = inputs.fills.map(([loggedLb, trueLb]: [number, number]) => ({ loggedLb, trueLb }));
    near(meterFactorOfFills(fills).ratio, expected.fills.ratio);
    near(meterFactorOfFills(fills).leastSquares, expected.fills.ls);
  });
  test("no warning up to 5 %, no rescaling above 20 % (common practice)", () => {
    const at = (loggedLb: number) => reconcileTickets({ ...stock, tickets, loggedLb });
    expect(at(112_000).notices).toEqual([]);
    expect(at(90_000)).toMatchObject({ mayRescale: false, notices: [{ code: "tickets-do-not-match" }] });
    expect(() =>
      reconcileTickets({ ...stock, tickets: [{ grossLb: 100, tareLb: 300 }], loggedLb: 1 }),
    ).toThrow("ticket 1");
  });
});

test("the same pair of weighings twice is told, the same tare of two loads is not", () => {
  const at = (...pairs: (readonly [number, number])[]) =>
    reconcileTickets({
      ...{ startLb: 0, endLb: 0, wasteLb: 0, loggedLb: 96_320 },
      tickets: pairs.map(([grossLb, tareLb]) => ({ grossLb, tareLb })),
    }).notices;
  expect(at([79_420, 31_260], [79_420, 31_260])).toEqual([
    {
      code: "ticket-twice",
      message:
        "tickets 1 and 2 hold the same weighings, 79,420 and 31,260 lb: was one entered twice? Each is counted",
      where: "tickets",
    },
  ]);
  expect(at([79_440, 31_260], [79_400, 31_260])).toEqual([]);
});

describe("f3: catch-up", () => {
  const { inputs, expected } = example("f3");
  const zones = inputs.zones.map((zone: { id: string; ac: number; need: number[]; logged: number[] }) => ({
    id: zone.id,
    fieldId: "F",
    areaAc: zone.ac,
    need: { p2o5: zone.need[0]!, k2o: zone.need[1]! },
    logged: { p2o5: zone.logged[0]!, k2o: zone.logged[1]! },
  }));
  const input = {
    classes: zones,
    // The factor of f2 in full, not the ten digits printed: the excess is a small difference.
    meterFactor: 116_520 / 110_450,
    minimum: { p2o5: inputs.minP2O5, k2o: 0 },
    productPercent: { p2o5: 52, k2o: inputs.mopK2O * 100 },
  };
  test("classes, totals, tons; it voids the planned broadcast map", () => {
    const have = catchUp(input);
    have.classes.forEach((zone, z) => {
      const want = expected.zones[z];
      near(zone.catchUp.p2o5, want.P);
      near(zone.catchUp.k2o, want.K);
      near(zone.over.p2o5, want.overP);
      near(zone.over.k2o, want.overK);
      near(zone.productLbPerAc.k2o, want.K / inputs.mopK2O);
    });
    near(have.balance.k2o.catchUpLb, expected.K);
    near(have.balance.p2o5.catchUpLb, expected.P);
    near(have.productTons.k2o, expected.mopTons);
    expect(have.voidsBroadcastOf).toEqual(["F"]);
  });
  test("a pass that is not worth a load is dropped and told", () => {
    const have = catchUp({ ...input, minimumFieldLb: 20_000 });
    expect(have.balance.k2o.catchUpLb).toBe(0);
    near(have.balance.k2o.droppedLb, expected.K);
    expect(have.voidsBroadcastOf).toEqual(["F"]);
  });
  test("need = placed + catch-up - over + dropped, 300 random fields", () => {
    const amount = fc.integer({ min: 0, max: 150 });
    const zone = fc.record({
      areaAc: fc.integer({ min: 1, max: 80 }),
      p: amount,
      k: amount,
      lp: amount,
      lk: amount,
    });
    fc.assert(
      fc.property(
        fc.array(zone, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 85, max: 115 }),
        (list, percent) => {
          const have = catchUp({
            ...input,
            meterFactor: percent / 100,
            minimum: { p2o5: 8, k2o: 12 },
            minimumFieldLb: 3_000,
            classes: list.map((one, i) => ({
              id: `${i}`,
              fieldId: `F${i % 2}`,
              areaAc: one.areaAc,
              need: { p2o5: one.p, k2o: one.k },
              logged: { p2o5: one.lp, k2o: one.lk },
            })),
          });
          for (const balance of [have.balance.p2o5, have.balance.k2o]) {
            const { needLb, placedLb, catchUpLb, overLb, droppedLb } = balance;
            expect(placedLb + catchUpLb - overLb + droppedLb).toBeCloseTo(needLb, 6);
          }
          for (const { catchUp: spread, over } of have.classes) {
            expect(spread.p2o5 * over.p2o5 + spread.k2o * over.k2o).toBe(0);
            expect(spread.p2o5 === 0 || spread.p2o5 >= 8).toBe(true);
          }
        },
      ),
      { seed: 12, numRuns: 300 },
    );
  });
});

// A field with a slanted side, worked with a log simulated from a known truth.
describe("an as-applied log with skips, an overlap, a lag and a meter that gives 7 % more than it logs", () => {
  const widthM = 12.192;
  const segmentM = 30;
  const line: [Point, Point] = [
    [10, 5],
    [130, 725],
  ];
  const boundary: MultiPolygon = [
    [
      [
        [0, 0],
        [150, 0],
        [260, 740],
        [90, 760],
      ],
    ],
  ];
  const segments = stripSegments({ boundary, line, widthM, segmentM });
  const rateOf = (pass: number, column: number): number =>
    120 + ((((pass * 53 + column * 97) % 11) + 11) % 11) * 20;
  const length = Math.hypot(120, 720);
  const [east, north] = [120 / length, 720 / length];
  const toPlane = (right: number, along: number): Point => [
    10 + right * north + along * east,
    5 - right * east + along * north,
  ];
  const speed = 3.1;
  const lag = 2.3;
  const [skipPass, skipFrom, skipTo] = [4, 8, 12];
  const log: LogPoint[] = [];
  let clock = 0;
  const drive = (pass: number, from: number, to: number, number: number): void => {
    const start = clock;
    // A reading a second, and one where the rig lifts.
    const steps = Math.ceil((to - from) / speed - 1e-9);
    for (let step = 0; step <= steps; step++) {
      const along = Math.min(to, from + step * speed);
      const seconds = start + (along - from) / speed;
      const metered = Math.max(from, along - lag * speed);
      log.push({
        record: log.length,
        at: toPlane(pass * widthM, along),
        seconds,
        appliedLbPerAc: rateOf(pass, Math.floor(metered / segmentM)),
        widthM,
        pass: number,
      });
      clock = seconds;
    }
    clock += 25;
  };
  const passes = [...new Set(segments.map((segment) => segment.pass))].sort((a, b) => a - b);
  let number = 0;
  for (const pass of passes) {
    const own = segments.filter((segment) => segment.pass === pass);
    const from = Math.min(...own.map((segment) => segment.alongStartM));
    const to = Math.max(...own.map((segment) => segment.alongEndM));
    if (pass === skipPass) {
      drive(pass, from, skipFrom * segmentM, number++);
      drive(pass, skipTo * segmentM, to, number++);
    } else drive(pass, from, to, number++);
  }
  // Two segments done twice.
  drive(7, 5 * segmentM, 7 * segmentM, number++);
  const cleaned = cleanLog(log);
  const mapped = mapLog({ pieces: cleaned.pieces, segments, line, widthM, segmentM });

  test("nothing of a clean log is left out, every pound is inside or outside", () => {
    expect(cleaned.notices).toEqual([]);
    const byHand = cleaned.pieces.reduce(
      (sum, { start, end, lbPerAc }) =>
        sum + lbPerAc * acres(Math.hypot(end[0] - start[0], end[1] - start[1]) * widthM),
      0,
    );
    near(mapped.loggedLb, byHand);
    near(mapped.insideLb + mapped.outsideLb, mapped.loggedLb);
    near(
      mapped.segments.reduce((sum, one) => sum + one.placedLb, 0),
      mapped.insideLb,
    );
    // The field's slanted sides: pieces reach over the edge.
    expect(mapped.outsideLb).toBeGreaterThan(0);
  });
  test("the skip and the overlap are found where they are", () => {
    segments.forEach(({ pass, column, areaM2 }, s) => {
      const { skippedShare, overlappedShare } = mapped.segments[s]!;
      const whole = Math.abs(areaM2 - widthM * segmentM) < 0.01;
      if (!whole) return;
      const skipped = pass === skipPass && column >= skipFrom && column < skipTo;
      const doubled = pass === 7 && (column === 5 || column === 6);
      // Test points stand a metre apart: one row of 30 may fall on the other side of an end.
      expect(Math.abs(skippedShare - (skipped ? 1 : 0)), `${pass}/${column}`).toBeLessThan(0.05);
      expect(Math.abs(overlappedShare - (doubled ? 1 : 0)), `${pass}/${column}`).toBeLessThan(0.05);
    });
    near(mapped.skippedM2, (skipTo - skipFrom) * segmentM * widthM, 0.02);
    near(mapped.overlappedM2, 2 * segmentM * widthM, 0.02);
  });
  test("the lag is found to a tenth of a second", () => {
    const planned = (at: Point): number | null => {
      const right = (at[0] - 10) * north - (at[1] - 5) * east;
      const along = (at[0] - 10) * east + (at[1] - 5) * north;
      return rateOf(Math.round(right / widthM), Math.floor(along / segmentM));
    };
    const have = findLag(cleaned.points, planned);
    expect(Math.abs(have.lagSeconds - lag)).toBeLessThanOrEqual(0.15);
    expect(have.explained).toBeGreaterThan(0.98);
    near(have.loggedFactor, 1, 0.01);
  });
  test("the 7 % are found from tickets and put on the map", () => {
    const truth = 1.07 * mapped.loggedLb;
    const loads = 3;
    const tickets = Array.from({ length: loads }, (_, t) => ({
      grossLb: 31_200 + truth / loads + (t - 1) * 20,
      tareLb: 31_200,
    }));
    const have = reconcileTickets({
      startLb: 500,
      endLb: 500,
      wasteLb: 0,
      tickets,
      loggedLb: mapped.loggedLb,
      scaleErrorLb: 20,
    });
    expect(Math.abs(have.meterFactor - 1.07)).toBeLessThan(2 * have.meterFactorError! + 1e-9);
    expect(have.notices.map((notice) => notice.code)).toEqual(["meter-off"]);
    near(mapped.insideLb * have.meterFactor, 1.07 * mapped.insideLb, 0.001);
  });
  test("the remainder is the skip, by log; whole passes, by number; a side, by line", () => {
    const left = segments.map((segment) => ({
      ...segment,
      ratesLbPerAc: [rateOf(segment.pass, segment.column), 10],
    }));
    const byLog = remainder(
      left,
      { by: "log", skippedShare: mapped.segments.map((one) => one.skippedShare) },
      { factors: [0.5, 2] },
    );
    // Slivers at the edge that no test point of a swath met are unworked too; they are small.
    const skipped = byLog.segments.filter(({ index }) => segments[index]!.areaM2 > 100);
    expect(skipped.map(({ index }) => [segments[index]!.pass, segments[index]!.column])).toEqual(
      [8, 9, 10, 11].map((c) => [4, c]),
    );
    near(skipped[0]!.ratesLbPerAc[0]!, rateOf(4, 8) / 2);
    const byPass = remainder(left, { by: "pass", order: passes, doneAfter: passes.length - 1 });
    expect(new Set(byPass.segments.map(({ index }) => segments[index]!.pass))).toEqual(
      new Set([passes.at(-1)]),
    );
    near(byPass.areaAc + byPass.workedAc, acres(segments.reduce((sum, one) => sum + one.areaM2, 0)));
    const byLine = remainder(left, { by: "line", line });
    expect(byLine.segments.every(({ index }) => segments[index]!.pass <= 0)).toBe(true);
    expect(byLine.areaAc).toBeGreaterThan(1);
  });
});

describe("a log that is not clean", () => {
  const point = (record: number, y: number, seconds: number, more: Partial<LogPoint> = {}): LogPoint => ({
    record,
    at: [0, y],
    seconds,
    appliedLbPerAc: 100,
    widthM: 12,
    pass: 0,
    ...more,
  });
  test("what cannot be true is left out and counted, a rate of 0 stays, gaps stay open", () => {
    const have = cleanLog([
      point(1, 0, 0),
      point(2, 3, 1),
      point(3, 3, 2),
      point(4, 6, 1.5, { appliedLbPerAc: 99_999 }),
      point(5, 6, 0.5),
      point(6, 9, 3, { appliedLbPerAc: 0 }),
      point(7, 100, 4),
    ]);
    expect(have.points.map((one) => one.record)).toEqual([1, 2, 6, 7]);
    expect(have.pieces.map((piece) => piece.lbPerAc)).toEqual([100, 0]);
    expect(have.notices.map((notice) => notice.code)).toEqual([
      "readings-left-out",
      "readings-left-out",
      "readings-left-out",
      "gaps-in-log",
    ]);
  });
  test("one reading ahead of its time goes alone, a stretch that is there twice once", () => {
    const hundred = Array.from({ length: 100 }, (_, k) => point(k + 1, 3 * k, k));
    const records = (log: readonly LogPoint[]) => cleanLog(log).points.map(({ record }) => record);
    const all = hundred.map(({ record }) => record);
    const ahead = hundred.with(40, point(41, 120, 9_000));
    const late = hundred.with(40, point(41, 120, -5));
    for (const log of [ahead, late]) expect(records(log)).toEqual(all.filter((record) => record !== 41));
    const twice = [...hundred, ...hundred.slice(50).map((one) => ({ ...one, record: one.record + 50 }))];
    expect(cleanLog(twice).points.length).toBe(100);
    expect(cleanLog(twice).pieces.length).toBe(99);
    expect(cleanLog(twice).notices[0]!.message).toBe("50 of 150 readings left out: the log has them twice");
    expect(cleanLog(late).notices[0]!.message).toBe("1 of 100 readings left out: time does not go on");
  });
  test("a clock set back leaves nothing out; another order than the one driven is refused", () => {
    const hundred = Array.from({ length: 100 }, (_, k) => point(k + 1, 3 * k, k));
    // 40 readings on the clock goes back by an hour, by 30 s, and the second half of the day stands before the first.
    const setBack = (by: number) =>
      hundred.map((one, k) => ({ ...one, seconds: k < 40 ? one.seconds : one.seconds! - by }));
    for (const by of [3_600, 30]) {
      const { points, pieces, notices } = cleanLog(setBack(by));
      expect([points.length, pieces.length]).toEqual([100, 99]);
      expect(points.every(({ seconds }) => seconds === null)).toBe(true);
      expect(notices).toEqual([
        {
          code: "times-go-back",
          message:
            "the times go back at record 41, as where a clock is set: they are not used, the readings count in the order of the file",
          where: "record 41",
        },
      ]);
    }
    const turned = cleanLog([...hundred.slice(50), ...hundred.slice(0, 50)]);
    // Between the halves is no way.
    expect([turned.points.length, turned.pieces.length]).toEqual([100, 98]);
    // 15 passes of 100 readings, 9 m apart and 2 s a reading: a clock set back by any minutes leaves every reading in.
    const passes = Array.from({ length: 1_500 }, (_, k) => {
      const [pass, n] = [Math.floor(k / 100), k % 100];
      const y = 3 * (pass % 2 === 0 ? n : 99 - n);
      return point(k + 1, y, 2 * k, { at: [9 * pass, y], pass, appliedLbPerAc: 100 + 10 * (k % 12) });
    });
    const whole = cleanLog(passes).pieces.length;
    expect(whole).toBe(15 * 99);
    for (const by of [30, 60, 180, 200, 240, 399, 1_000]) {
      const back = passes.map((one, k) => ({ ...one, seconds: one.seconds! - (k < 740 ? 0 : by) }));
      expect([by, cleanLog(back).pieces.length]).toEqual([by, whole]);
    }
    // The same sorted by its rates, in each of them by time.
    const byRate = passes.toSorted((a, b) => a.appliedLbPerAc - b.appliedLbPerAc);
    expect(() => cleanLog(byRate)).toThrow("are not in the order of their times");
    // Every seventh reading, seven times over, so that times go back at 6 places. The longest rise changes over at each of
    // them, by 1 s, and has steps of 7 s else: 6 + (99 - 6) / 7 = 19 steps, 20 readings.
    const mixed = [0, 1, 2, 3, 4, 5, 6].flatMap((k) => hundred.filter((_, at) => at % 7 === k));
    expect(() => cleanLog(mixed)).toThrow(
      "the log's readings are not in the order of their times: 80 of 100 go back, the first is record ",
    );
  });
  test("no log: worked passes at one factor, so that the pounds used come out", () => {
    const have = placedByHand([1_000, 3_000, 2_000], [true, true, false], 4_400);
    near(have.factor, 1.1);
    expect(have.placedLb.map((lb) => Math.round(lb))).toEqual([1_100, 3_300, 0]);
  });
});

test("the first reading of a pass has the way told for it, straight back; a way told over a turn is none", () => {
  const reading = (x: number, pass: number, wayM?: number): LogPoint => ({
    record: x,
    at: [x, 0],
    seconds: null,
    appliedLbPerAc: 100,
    widthM: 10,
    pass,
    ...(wayM === undefined ? {} : { wayM }),
  });
  const ends = (log: readonly LogPoint[]) => cleanLog(log).pieces.map(({ start, end }) => [start[0], end[0]]);
  expect(ends([reading(3, 0, 3), reading(6, 0, 3), reading(9, 0, 3)])).toEqual([
    [0, 3],
    [3, 6],
    [6, 9],
  ]);
  expect(ends([reading(3, 0), reading(6, 0)])).toEqual([[3, 6]]);
  // 40 m from the pass before to this one, 3 m from here to the next.
  expect(ends([reading(3, 0, 40), reading(6, 0, 3)])).toEqual([[3, 6]]);
  expect(ends([reading(3, 0, 3), reading(6, 0, 3), reading(16, 1, 3), reading(13, 1, 3)])).toEqual([
    [0, 3],
    [3, 6],
    [19, 16],
    [16, 13],
  ]);
});
