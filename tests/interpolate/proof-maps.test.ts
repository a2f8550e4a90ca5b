// The automatic map, its uncertainty and the three figures of the need against simulated truth. `npm run proof:maps` runs
// the full study and writes docs/proof-maps.md; here is a short one with the limits asked for.
import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { GUIDES, needProof, SOILS } from "./proof-study.ts";
import { guideProofs, proofPage, SIZES, sizeProofs } from "./proof-tables.ts";

const full = process.env.npm_lifecycle_event === "proof:maps";

if (full) {
  describe("the full study", () => {
    it("keeps its limits, and is written up", { timeout: 3_600_000 }, () => {
      const fields = 400;
      const sizes = sizeProofs(SIZES, fields);
      const guides = guideProofs((n) => (n > 50 ? 40 : 80));
      const counted = "640 fields a figure (320 at 80 samples).";
      const page = proofPage(sizes, fields, guides, counted);
      writeFileSync(resolve(import.meta.dirname, "../../docs/proof-maps.md"), page);
      for (const { n, excess, cover, flat } of sizes) {
        expect(excess, `excess at ${n}`).toBeLessThan(0.06);
        expect(flat.excess, `excess without pattern at ${n}`).toBeLessThan(0.06);
        if (n < 10) continue;
        expect(cover, `cover at ${n}`).toBeGreaterThan(0.85);
        expect(cover, `cover at ${n}`).toBeLessThan(0.93);
      }
      for (const { soil, guide, n, proof } of guides) {
        expect(Math.abs(proof.bias.expected), `${soil}, ${guide}, ${n}`).toBeLessThan(0.02);
      }
    });
  });
}

describe("the automatic map, where the truth is known", () => {
  it.each([
    [5, 15],
    [10, 15],
    [15, 15],
    [30, 15],
    [60, 10],
    [180, 2],
  ])("%d samples: excess error at most 6 % of the variance; cover of 90 % intervals", (n, fields) => {
    const [{ excess, cover }] = sizeProofs([n], fields) as [ReturnType<typeof sizeProofs>[number]];
    expect(excess).toBeLessThan(0.06);
    // 85 to 93 % over many fields; a few dozen leave a standard error of 1 %, and two of them are allowed here.
    expect(cover).toBeGreaterThan(0.83);
    expect(cover).toBeLessThan(0.95);
  });

  it("without any pattern the excess stays small too", () => {
    expect(sizeProofs([30], 30)[0]!.flat.excess).toBeLessThan(0.06);
  });
});

describe("pounds and costs", () => {
  const at30 = Object.fromEntries(
    Object.entries(GUIDES).map(([name, guide]) => [name, needProof(guide, SOILS.normal!, 30, 6, 1)]),
  );

  it("expected need is the field's total, on every guide; the mapped test's need is short on a curve", () => {
    // 2 % over many fields; these few leave a standard error of about 1 %.
    for (const { bias } of Object.values(at30)) expect(Math.abs(bias.expected)).toBeLessThan(0.04);
    expect(at30.curved!.bias.mapped).toBeLessThan(at30.curved!.bias.expected - 0.02);
  });

  it("weighted need is the cheapest rate where a missing pound costs more, and expected need is dear on steps", () => {
    for (const { cost } of Object.values(at30)) {
      for (const r of [1, 2]) {
        const { weighted, ...others } = cost[r]!;
        for (const other of Object.values(others)) expect(weighted).toBeLessThan(other);
      }
    }
    expect(at30.stepped!.cost[0]!.expected).toBeGreaterThan(at30.stepped!.cost[0]!.mapped);
  });
});
