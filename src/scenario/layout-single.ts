import type { Polygon } from "../geo/index.ts";
import { waterway } from "./holes.ts";
import type { Land } from "./land.ts";
import { boxParcel, parcelRings, splitAlong, withoutCorner } from "./parcel.ts";
import { distanceToRings, lineThrough } from "./plane.ts";
import { randomStream } from "./random.ts";
import type { Seed, SingleLayout } from "./seed-types.ts";
import { surveyed } from "./survey.ts";
import { creekLine, distanceToGraph } from "./wavy-line.ts";

const CREEK_BANK_M = 9;
const FARMSTEAD_M = { width: 118, depth: 96 };

/** One field: a creek along its north edge, a farmstead in its south-west corner, a waterway as a hole. */
export function singleLayout(seed: Seed, layout: SingleLayout): Land {
  const { widthM, heightM } = layout;
  const random = randomStream(seed.seed, "layout");
  const creek = creekLine(random, -widthM, widthM, {
    atM: heightM / 2 - 46,
    slope: 0.03,
    valleyM: 16,
    bendM: 21,
    bendEveryM: 78,
  });
  const box = boxParcel(-widthM / 2, -heightM / 2, widthM / 2, heightM / 2);
  const [, southOfCreek] = splitAlong(box, creek, CREEK_BANK_M);
  const field = withoutCorner(southOfCreek, "west", "floor", FARMSTEAD_M.width, FARMSTEAD_M.depth);
  const outline = parcelRings(field)[0]!;
  const grass = waterway(random, [0.14 * widthM, 0.09 * heightM], 330, 14, 1.25);
  const polygon: Polygon = [
    surveyed(random, outline, { everyM: 45, errorM: 0.2, toleranceM: 0.6 }),
    surveyed(random, grass, { everyM: 60, errorM: 0.15, toleranceM: 0.1 }),
  ];
  const toGrass = distanceToRings([polygon[1]!]);
  return {
    distanceToWater: (x, y) => Math.min(distanceToGraph(creek, x, y), toGrass(x, y)),
    fields: [
      {
        name: layout.field,
        polygons: [polygon],
        line: lineThrough([-widthM / 2 + 60, 30], 0.4, heightM - 300),
        crop: layout.crop,
        yieldBuPerAc: layout.yieldBuPerAc,
      },
    ],
  };
}
