import { beforeAll, describe, expect, it } from "vitest";
import { containsPoint } from "../../src/geo/index.ts";
import { type FieldResult, type PlanField, type PlanRig, type RunResult, run } from "../../src/plan/index.ts";
import {
  cabSheet,
  drivingWords,
  layerOf,
  passPaths,
  passRules,
  plat,
  readOutOf,
} from "../../src/report/index.ts";
import { LEAD_CAUTION } from "../../src/strips/index.ts";
import { needPlan } from "../support/need-plan.ts";
import { smallPlan, sourceOf } from "../support/small-farm.ts";

const CURVE = [
  { lonDeg: -93.4989, latDeg: 41.9995 },
  { lonDeg: -93.4986, latDeg: 42.0006 },
  { lonDeg: -93.4984, latDeg: 42.0015 },
  { lonDeg: -93.4985, latDeg: 42.003 },
];

async function driven(rig: Partial<PlanRig>, field: Partial<PlanField> = {}): Promise<RunResult> {
  const { plan, files } = needPlan({ field, plan: { rig: { ...smallPlan().rig, ...rig } } });
  return run(plan, sourceOf(files));
}

describe("headlands and curves on plats and sheets", () => {
  let straight: RunResult;
  let curved: RunResult;

  beforeAll(async () => {
    straight = await driven({ headlandPasses: 2, pattern: "skip", oddYears: "right", leadS: 2 });
    curved = await driven({ headlandPasses: 1 }, { driveAlong: { places: CURVE } });
  });

  const field = (result: RunResult): FieldResult => result.fields[0]!;

  it("every piece is in one rule, and rules of neighbours meet", () => {
    for (const result of [straight, curved]) {
      const one = field(result);
      const rules = passRules(one, layerOf(result.plan, one, "strip/all"));
      expect(rules.flatMap(({ pieces }) => pieces).toSorted((a, b) => a - b)).toEqual(
        one.passes.pieces.map((_, k) => k),
      );
      const paths = passPaths(one.passes);
      const { widthM } = one.passes;
      // Over all pieces a path and its width come to the piece's ground; corners differ a little.
      let [drawn, ground] = [0, 0];
      one.passes.pieces.forEach(({ areaM2 }, k) => {
        const { path, widthM: wide } = paths[k]!;
        const length = path.reduce(
          (sum, [x, y], i) => sum + (i === 0 ? 0 : Math.hypot(x - path[i - 1]![0], y - path[i - 1]![1])),
          0,
        );
        expect(wide).toBeLessThanOrEqual(widthM + 1e-9);
        drawn += length * wide;
        ground += areaM2;
      });
      expect(Math.abs(drawn / ground - 1)).toBeLessThan(0.08);
      // Along the headland and the curve the middles of whole pieces lie on the field.
      one.passes.pieces.forEach(({ polygon, areaM2 }, k) => {
        if (areaM2 < 0.9 * widthM * result.plan.rig.segmentM) return;
        const { path } = paths[k]!;
        if (path.length === 3) expect(containsPoint([polygon], path[1]!)).toBe(true);
      });
    }
  });

  it("the read-out names the headland pass", () => {
    const one = field(straight);
    const readOut = readOutOf(straight.plan, one);
    const k = one.passes.pieces.findIndex(({ kind, areaM2 }) => kind === "headland" && areaM2 > 100);
    const seen = readOut(passPaths(one.passes)[k]!.path[1]!);
    expect(seen!.piece).toBe(k);
    expect(seen!.title).toMatch(/^Headland pass 1, segment \d+$/);
  });

  it("plats have the edge of the headland, arrows, ringed numbers, pass numbers and the line", () => {
    for (const result of [straight, curved]) {
      const one = field(result);
      const layer = layerOf(result.plan, one, "strip/all");
      const options = { width: 700, height: 480, id: "t", lineAB: true, passNumbers: true };
      const bare = plat(result.plan, one, layer, options);
      const marked = plat(result.plan, one, layer, { ...options, workingOrder: true });
      const arrows = /<path d="([^"]*)" stroke-linejoin="round" paint-order="stroke"/.exec(marked)![1]!;
      expect(arrows.split("M").length - 1).toBeGreaterThan(5);
      expect(bare).not.toContain('paint-order="stroke" fill');
      const { lastPass } = one.driving;
      expect(marked).toContain(`>${lastPass}</text>`);
      expect(marked).toContain(">1</text>");
    }
  });

  it("the north arrow gives way to the letters at the line's ends and to marks, and stands as usual else", async () => {
    const level = await driven(
      {},
      {
        driveAlong: {
          places: [
            { lonDeg: -93.4999, latDeg: 42.0001 },
            { lonDeg: -93.4967, latDeg: 42.0001 },
          ],
        },
      },
    );
    const one = field(level);
    const layer = layerOf(level.plan, one, "strip/all");
    const usual: boolean[] = [];
    for (let width = 330; width <= 430; width += 10) {
      const inset = { left: 36, top: 32, right: 44, bottom: 66 };
      const svg = plat(level.plan, one, layer, { width, height: 350, inset, id: "t", lineAB: true });
      const north = /<text x="([\d.]+)" y="([\d.]+)"[^>]*>N</.exec(svg)!;
      // The letter's foot is 11 px below the arrow's top; the arrow is 56 px high and 16 wide, the rings have 9 px.
      const [x, top] = [Number(north[1]), Number(north[2]) - 11];
      const rings = [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="9"/g)];
      expect(rings).toHaveLength(2);
      const meets = (from: number) =>
        rings.some(
          ([, cx, cy]) =>
            Math.abs(Number(cx) - x) < 8 + 9 && Number(cy) > from - 9 && Number(cy) < from + 56 + 9,
        );
      expect([width, meets(top)]).toEqual([width, false]);
      usual.push(meets(350 - 96));
      if (width === 430) expect(top).toBe(350 - 96);
    }
    expect(usual).toContain(true);
  });

  it("the cab sheet says line, shift, order, headland last and what a lead asks for", () => {
    const words = drivingWords(straight.plan, field(straight)).join(" ");
    expect(words).toContain(
      "line.geojson, line 1, heading 0.0° from A to B. Shift the line 15 in. to the right.",
    );
    expect(words).toMatch(/pass 1 to its right \(east\) seen from A to B\. Passes −?\d+ to \d+\./);
    expect(words).toContain("Headland: 2 passes all round, H1 outermost.");
    expect(words).toContain("skipping passes for room to turn; headland last, from the inside out");
    expect(cabSheet(straight)).toContain(LEAD_CAUTION);
    const curve = drivingWords(curved.plan, field(curved)).join(" ");
    expect(curve).toContain("Typed: a curve of 4 points, A 41.999500, -93.498900; B 42.003000, -93.498500");
    expect(curve).toContain("No shift.");
    expect(cabSheet(curved)).toContain("1 headland and ");
    expect(cabSheet(curved)).not.toContain(LEAD_CAUTION);
  });
});
