import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fieldCodes, fileStem, stepCarrying, stepSegment } from "../../src/prescription/index.ts";

const seeded = { seed: 20270315, numRuns: 500 };

describe("stepped rates", () => {
  it("of a segment are the nearest steps, and keep under the most where it limits every place", () => {
    expect(stepSegment([92.4, 57.5], 5, Number.POSITIVE_INFINITY)).toEqual([90, 60]);
    expect(stepSegment([92.5, 57.5], 5, 150)).toEqual([95, 55]);
    expect(stepSegment([152, 0], 5, 150)).toEqual([150, 0]);
  });

  it("never sum above the most, nor below it by a step or more when they had to give way", () => {
    const rate = fc.double({ min: 0, max: 400, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(rate, { minLength: 1, maxLength: 3 }),
        fc.constantFrom(1, 5, 10),
        (rates, step) => {
          const wanted = rates.reduce((sum, one) => sum + one, 0);
          const most = Math.ceil(wanted / step) * step;
          const stepped = stepSegment(rates, step, most);
          expect(stepped.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(most + 1e-9);
          for (const one of stepped) expect(Math.abs(one / step - Math.round(one / step))).toBeLessThan(1e-9);
        },
      ),
      seeded,
    );
  });

  it("carried along a pass keep the pounds to about half a step on one piece, and leave zeros alone", () => {
    const piece = fc.record({
      lbPerAc: fc.oneof(fc.constant(0), fc.double({ min: 3, max: 300, noNaN: true })),
      acres: fc.double({ min: 0.02, max: 0.1, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 200 }), (pieces) => {
        const acres = Float64Array.from(pieces, (one) => one.acres);
        const lb = Float64Array.from(pieces, (one) => one.lbPerAc * one.acres);
        const stepped = stepCarrying(lb, acres, 5);
        const gap =
          stepped.reduce((sum, rate, k) => sum + rate * acres[k]!, 0) - lb.reduce((sum, one) => sum + one, 0);
        expect(Math.abs(gap)).toBeLessThanOrEqual(2.5 * 0.1 + 1e-9);
        pieces.forEach((one, k) => {
          if (one.lbPerAc === 0) expect(stepped[k]).toBe(0);
          else expect(Math.abs(stepped[k]! - one.lbPerAc)).toBeLessThanOrEqual(7.5 + 1e-9);
        });
      }),
      seeded,
    );
  });

  it("a sliver does not take up what its neighbours left", () => {
    const stepped = stepCarrying(Float64Array.of(1.2, 0.0001, 1.2), Float64Array.of(0.1, 0.00001, 0.1), 5);
    expect(stepped[1]).toBeLessThanOrEqual(15);
  });
});

describe("file names", () => {
  it("have letters, digits and underscore, 20 at most, and tell bin and product", () => {
    const codes = fieldCodes(["north-kettle", "creek"]);
    expect(fileStem(codes.get("north-kettle")!, "strip", "L", "11-52-0")).toBe("NORTHKETT_L_1152");
    expect(fileStem(codes.get("creek")!, "broadcast", "R", "0-0-60")).toBe("CREEK_BC_0060");
  });

  it("stay apart without regard to case, however alike the fields' ids", () => {
    const ids = Array.from({ length: 40 }, (_, i) => `north-kettle-field-${i}`);
    const codes = [...fieldCodes(ids).values()];
    expect(new Set(codes.map((code) => code.toLowerCase())).size).toBe(40);
    for (const code of codes) expect(code.length).toBeLessThanOrEqual(9);
  });
});
