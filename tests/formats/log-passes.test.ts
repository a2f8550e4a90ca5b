// Where a pass of a log begins when the turns between passes are not logged. Figures by hand.
import { describe, expect, test } from "vitest";
import { type LoggedPoint, passesByProduct } from "../../src/formats/log-passes.ts";
import { fieldFrame, type Point } from "../../src/geo/index.ts";

const frame = fieldFrame(-84.41, 40.89);
const SWATH_FT = 30;
const STEP_M = 5.5;

const logged = (plane: readonly Point[], told: number): LoggedPoint[] =>
  plane.map((at, k) => ({
    record: k + 1,
    at: frame.toLonLat(at),
    time: "",
    targetLbPerAc: 100,
    appliedLbPerAc: 100,
    widthFt: SWATH_FT,
    distanceFt: told,
    product: "11-52-0",
  }));
const passesOf = (plane: readonly Point[], told: number): number[] =>
  passesByProduct(logged(plane, told)).map(({ pass }) => pass);

/** Up at x = 0 and down a swath beside it, from an end that lies `ahead` metres farther. */
const upAndDown = (ahead: number): Point[] => {
  const up = Array.from({ length: 40 }, (_, k): Point => [0, k * STEP_M]);
  const top = 39 * STEP_M + ahead;
  return [...up, ...Array.from({ length: 40 }, (_, k): Point => [9.144, top - k * STEP_M])];
};

describe.each([
  ["told ways", STEP_M / 0.3048],
  ["no ways", Number.NaN],
])("%s", (_, told) => {
  // The end slants by 0 to 60 degrees: the next pass begins 0 to 15.8 m ahead, 90 to 30 degrees off the way before.
  test.each([0, 5, 9, 12.6, 15.8])("the next pass begins %s m ahead", (ahead) => {
    const found = passesOf(upAndDown(ahead), told);
    expect(found).toEqual([...Array(40).fill(0), ...Array(40).fill(1)]);
  });

  test("readings lost on the way make no pass, nor does a bend", () => {
    const lost = upAndDown(0).slice(0, 40).toSpliced(20, 2);
    expect(new Set(passesOf(lost, told))).toEqual(new Set([0]));
    // A bend of 20 m radius, by 5.5 m ways of 15.8 degrees.
    const bend = Array.from({ length: 20 }, (__, k): Point => {
      const turn = (k * STEP_M) / 20;
      return [20 - 20 * Math.cos(turn), 20 * Math.sin(turn)];
    });
    expect(new Set(passesOf(bend, told))).toEqual(new Set([0]));
  });
});
