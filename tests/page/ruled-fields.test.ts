// The farm's plat: a field's rules end at its own edge, where that slants too.
import { expect, it } from "vitest";
import type { Outline } from "../../app/src/engine/protocol.ts";
import { LINE_SHARE, rulesOf } from "../../app/src/map/ruled-fields.ts";

const DEG_PER_M = 1 / 111_320;

/** A field with its south edge falling one in one to the east, passes running north; metres about its label. */
const slanting = {
  boundary: [
    [
      [
        [-100, 0],
        [100, -200],
        [100, 200],
        [-100, 200],
        [-100, 0],
      ].map(([x, y]) => [x! * DEG_PER_M, y! * DEG_PER_M]),
    ],
  ],
  line: [
    [0, 0],
    [0, DEG_PER_M],
  ],
  label: [0, 0],
} as unknown as Outline;

it("a rule's lines lie side by side over its width and each ends where the edge crosses it", () => {
  const widthM = 16;
  const rules = rulesOf(slanting, 40, widthM);
  const metres = rules.map((rule) => rule.map(([lon, lat]) => [lon / DEG_PER_M, lat / DEG_PER_M] as const));
  for (const [[x, south], [, north]] of metres as [(typeof metres)[0][0], (typeof metres)[0][0]][]) {
    const [low, high] = [Math.min(south, north), Math.max(south, north)];
    expect(low).toBeCloseTo(-100 - x, 0);
    expect(high).toBeCloseTo(200, 0);
  }
  const first = metres.map(([from]) => from![0]).filter((x) => Math.abs(x) < 20);
  const line = widthM * LINE_SHARE;
  expect(Math.min(...first) - line / 2).toBeCloseTo(-widthM / 2, 1);
  expect(Math.max(...first) + line / 2).toBeCloseTo(widthM / 2, 1);
});
