import { readFileSync } from "node:fs";
import { newPlan, type Plan } from "../../src/plan/index.ts";
import { type Expected, readBoundary } from "../geo/boundaries.ts";
import { ANSWERS, labCsv } from "./small-farm.ts";

/** Metres between made-up samples, and of the waves their tests lie on. */
const SAMPLE_M = 150;
const WAVE_M = 230;

/**
 * A plan for one of the awkward boundaries: its own guidance line and rig, made-up samples every 150 m with tests on waves,
 * maps by inverse distance, rates by stretches. Ten pounds a step, segments of 15 m.
 */
export function boundaryPlan(expected: Expected): { plan: Plan; files: Map<string, Uint8Array> } {
  const { file, rows, row_spacing_in: rowSpacingIn, headland_passes: headlandPasses } = expected;
  const { plane, frame } = readBoundary(file);
  const [xs, ys] = [0, 1].map((axis) => plane.flat(2).map((point) => point[axis as 0 | 1])) as [
    number[],
    number[],
  ];
  const samples: (string | number)[][] = [];
  const [west, south] = [least(xs), least(ys)];
  for (let x = west + SAMPLE_M / 2; x < -least(xs.map((value) => -value)); x += SAMPLE_M) {
    for (let y = south + SAMPLE_M / 2; y < -least(ys.map((value) => -value)); y += SAMPLE_M) {
      const [lon, lat] = frame.toLonLat([x, y]);
      const wave = Math.sin(x / WAVE_M) + Math.cos(y / WAVE_M);
      samples.push([
        samples.length + 1,
        lon.toFixed(7),
        lat.toFixed(7),
        (16 + 6 * wave).toFixed(0),
        (135 + 30 * wave).toFixed(0),
        (17 + 3 * wave).toFixed(1),
      ]);
    }
  }
  const files = new Map([
    ["field.geojson", new Uint8Array(readFileSync(`tests/data/boundaries/${file}`))],
    ["lab.csv", new TextEncoder().encode(labCsv(samples))],
  ]);
  const { plan } = newPlan(
    "Awkward",
    "2026-11-25",
    [...files].map(([path, bytes]) => ({ path, bytes })),
    {
      ...ANSWERS,
      rows: String(rows),
      "row-spacing-in": String(rowSpacingIn),
      "repair-boundary": "non-zero",
    },
  );
  return {
    files,
    plan: {
      ...plan,
      rig: {
        ...plan.rig,
        rows,
        rowSpacingIn,
        headlandPasses,
        segmentM: 15,
        rateStepLbPerAc: 10,
        rates: "stretches",
      },
      maps: { cellM: 10, method: "inverse-distance" },
    },
  };
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b));
