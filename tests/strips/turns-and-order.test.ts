import { describe, expect, test } from "vitest";
import {
  headlandNeeded,
  type Pattern,
  type Run,
  turnBetween,
  type WorkStep,
  workingOrder,
} from "../../src/strips/index.ts";
import { expectedBoundaries } from "../geo/boundaries.ts";

describe("a turn", () => {
  /** A path of arcs of radius 1 and straights: where it leads, how long it is and how far up it goes. */
  const walk = (steps: readonly (readonly [kind: "left" | "right" | "straight", amount: number])[]) => {
    let [x, y, heading, length, highest] = [0, 0, Math.PI / 2, 0, 0];
    for (const [kind, amount] of steps) {
      const pieces = 2_000;
      for (let i = 0; i < pieces; i++) {
        const turn = kind === "straight" ? 0 : ((kind === "left" ? 1 : -1) * amount) / pieces;
        x += Math.cos(heading + turn / 2) * (amount / pieces);
        y += Math.sin(heading + turn / 2) * (amount / pieces);
        heading += turn;
        highest = Math.max(highest, y);
      }
      length += amount;
    }
    return { x, y, heading, length, highest };
  };

  test.each([0.2, 0.6, 1, 1.5, 1.9])(
    "a bulb %f radii wide leads to the next pass, by its length and depth",
    (d) => {
      const turn = turnBetween(d, 1);
      expect(turn.kind).toBe("bulb");
      // Left by a, right round the bulb, left by a again: a from the triangle of the three centres.
      const a = Math.acos((2 + d) / 4);
      const path = walk([
        ["left", a],
        ["right", Math.PI + 2 * a],
        ["left", a],
      ]);
      expect(path.x).toBeCloseTo(d, 4);
      expect(path.y).toBeCloseTo(0, 4);
      expect(path.length).toBeCloseTo(turn.lengthM, 9);
      expect(path.highest).toBeCloseTo(turn.depthM, 4);
    },
  );

  test("a U is two quarter circles and a straight; at two radii bulb and U meet", () => {
    const path = walk([
      ["right", Math.PI / 2],
      ["straight", 3],
      ["right", Math.PI / 2],
    ]);
    expect(path.x).toBeCloseTo(5, 4);
    expect(turnBetween(5, 1)).toEqual({ kind: "u", lengthM: path.length, depthM: 1 });
    expect(turnBetween(2 - 1e-9, 1).lengthM).toBeCloseTo(turnBetween(2, 1).lengthM, 3);
  });

  test("headland needed: depth and half the width", () => {
    expect(headlandNeeded(turnBetween(20, 9), 12)).toBe(9 + 6);
  });

  // Work over work and turns, 9 m radius, each run one turn: worked out from the centrelines and runs that GEOS gives.
  test.each([
    ["02", 1, 0.835],
    ["02", 2, 0.906],
    ["03", 1, 0.967],
    ["07", 1, 0.73],
  ] as const)("%s, turns of %i widths: efficiency %f", (file, widths, efficiency) => {
    const { interior, implement_width_m } = expectedBoundaries().find((one) => one.file.startsWith(file))!;
    const turn = turnBetween(widths * implement_width_m, 9).lengthM;
    const turns = (interior.runs_over_20_m2 - 1) * turn;
    expect(interior.centreline_m! / (interior.centreline_m! + turns)).toBeCloseTo(efficiency, 2);
  });
});

describe("the working order", () => {
  const plan = { widthM: 10, turnRadiusM: 12, pattern: "back-and-forth" as Pattern };
  const box = (count: number): Run[] =>
    Array.from({ length: count }, (_, pass) => ({ pass, startM: 0, endM: 100 }));
  const passesOf = (steps: readonly WorkStep[], runs: readonly Run[]): number[] =>
    steps.map(({ run }) => runs[run]!.pass);

  test("a box: neighbour after neighbour, each the other way", () => {
    const steps = workingOrder(box(5), plan);
    expect(steps.map(({ run }) => run)).toEqual([0, 1, 2, 3, 4]);
    expect(steps.map(({ forward }) => forward)).toEqual([true, false, true, false, true]);
    expect(steps.map(({ turnM }) => turnM > 0)).toEqual([false, true, true, true, true]);
    expect(steps.every(({ moveM, block }) => moveM === 0 && block === 0)).toBe(true);
  });

  test("every second one out, the others back: all turns but one are two widths", () => {
    const runs = box(6);
    const steps = workingOrder(runs, { ...plan, pattern: "every-second" });
    expect(passesOf(steps, runs)).toEqual([0, 2, 4, 5, 3, 1]);
  });

  test("skip: m on, m - 1 back, and every turn of a full block has room", () => {
    const runs = box(8);
    const steps = workingOrder(runs, { ...plan, pattern: "skip" });
    expect(passesOf(steps, runs)).toEqual([0, 4, 1, 5, 2, 6, 3, 7]);
    for (const { turnM } of steps.slice(1)) {
      expect([turnBetween(40, 12).lengthM, turnBetween(30, 12).lengthM]).toContain(turnM);
    }
    expect(turnBetween(30, 12).kind).toBe("u");
  });

  test.each(["back-and-forth", "every-second", "skip"] as const)(
    "%s: every run once, whatever their number",
    (pattern) => {
      for (let count = 0; count < 40; count++) {
        const steps = workingOrder(box(count), { ...plan, pattern });
        expect(steps.map(({ run }) => run).sort((a, b) => a - b)).toEqual(box(count).map(({ pass }) => pass));
      }
    },
  );

  test("a hole in the middle makes four blocks, each worked through before the next", () => {
    const runs: Run[] = [
      { pass: 0, startM: 0, endM: 100 },
      { pass: 1, startM: 0, endM: 40 },
      { pass: 1, startM: 60, endM: 100 },
      { pass: 2, startM: 0, endM: 40 },
      { pass: 2, startM: 60, endM: 100 },
      { pass: 3, startM: 0, endM: 100 },
    ];
    const steps = workingOrder(runs, plan);
    // From the end of pass 0 at 100 m the pair up there is nearest; from its end the last pass, then the other pair.
    expect(steps.map(({ run }) => run)).toEqual([0, 2, 4, 5, 3, 1]);
    expect(steps.map(({ block }) => block)).toEqual([0, 1, 1, 2, 3, 3]);
  });

  test("within one pass there is no turn, only the way across the gap", () => {
    const runs: Run[] = [
      { pass: 0, startM: 0, endM: 40 },
      { pass: 0, startM: 70, endM: 100 },
    ];
    expect(workingOrder(runs, plan)[1]).toEqual({ run: 1, forward: true, block: 1, turnM: 0, moveM: 30 });
  });
});
