// A short run of the study in scale-study.ts; the full table and what was decided from it stand in docs/scale-of-tests.md.
import { describe, expect, it } from "vitest";
import { type Scale, type ScaleResult, type Shape, scaleStudy } from "./scale-study.ts";

function study(shape: Shape, sigma: number): Record<Scale, ScaleResult> {
  const results = scaleStudy(12, 40, shape, { sigma, nuggetShare: 0.4, range: 0.5 });
  return Object.fromEntries(results.map((r) => [r.scale, r])) as Record<Scale, ScaleResult>;
}

describe("the scale a skewed test is mapped on", () => {
  it.each([0.31, 0.55])(
    "as reported is as good as an unbiased log map, truth lognormal with sigma %d",
    (sigma) => {
      const found = study("lognormal", sigma);
      const reported = found["as reported"];
      expect(reported.relativeError).toBeLessThan(found["log, unbiased return"].relativeError + 0.04);
      expect(Math.abs(reported.relativeError - found["log for the node weights"].relativeError)).toBeLessThan(
        0.03,
      );
      expect(Math.abs(reported.meanBias)).toBeLessThan(0.03);
      // exp of the kriged log is a median map: it loses pounds of soil test.
      expect(found["log, plain return"].meanBias).toBeLessThan(reported.meanBias - 0.02);
    },
  );

  it("where the test is skewed but not lognormal, the log map is no better even with its return corrected", () => {
    const found = study("squared", 0.3);
    expect(found["as reported"].relativeError).toBeLessThan(found["log, unbiased return"].relativeError);
    expect(found["as reported"].relativeError).toBeLessThan(found["log, plain return"].relativeError);
  });

  it("samples spoilt by spots cost more than any scale: pulled back, the map is far nearer the truth", () => {
    const found = study("spots", 0.31);
    const pulled = found["outliers pulled back in the map too"].relativeError;
    expect(pulled).toBeLessThan(0.85 * found["as reported"].relativeError);
  });
});
