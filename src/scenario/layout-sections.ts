import { boundsOf, type MultiPolygon, mapPoints, multiPolygonArea, type Point } from "../geo/index.ts";
import { acres } from "../units/index.ts";
import { chooseFields } from "./choose-fields.ts";
import { fieldNames } from "./field-names.ts";
import { type HoleKind, withHoles } from "./holes.ts";
import type { Land, LandField } from "./land.ts";
import { centroid, distanceToRings, lineThrough, turned } from "./plane.ts";
import { type Random, randomStream } from "./random.ts";
import { type Candidate, type Crossing, fieldCandidates, SECTION_M } from "./sections.ts";
import type { SectionsLayout, Seed } from "./seed-types.ts";
import { type Survey, surveyed } from "./survey.ts";
import { creekLine, distanceToGraph } from "./wavy-line.ts";

const CREEK_BANK_M = 11;
const RAILROAD_HALF_M = 18;
const RAILROAD_SLOPE = 0.62;
const WITH_HOLES_AC = 48;
const CHANCE_OF_HOLES = 0.34;

/** A farm on sections: two creeks and a diagonal railroad across it, roads on the section lines. */
export function sectionsLayout(seed: Seed, layout: SectionsLayout): Land {
  const half = (layout.columns / 2) * SECTION_M;
  const tall = (layout.rows / 2) * SECTION_M;
  const water = randomStream(seed.seed, "creeks");
  const creeks = [
    creekLine(water, -half - 50, half + 50, {
      atM: 0.46 * tall,
      slope: 0.11,
      valleyM: 120,
      bendM: 22,
      bendEveryM: 115,
    }),
    creekLine(water, -half - 50, half + 50, {
      atM: -0.42 * tall,
      slope: -0.17,
      valleyM: 150,
      bendM: 19,
      bendEveryM: 95,
    }),
  ];
  const crossings: Crossing[] = [
    ...creeks.map((line) => ({ line, halfWidthM: CREEK_BANK_M })),
    { line: (x) => 0.08 * tall + RAILROAD_SLOPE * x, halfWidthM: RAILROAD_HALF_M },
  ];
  const parcels = fieldCandidates(randomStream(seed.seed, "parcels"), layout, crossings);
  const chosen = chooseFields(randomStream(seed.seed, "choice"), parcels, layout.fields, layout.areaAc);
  const survey = randomStream(seed.seed, "survey");
  const straight = chosen.map((candidate) => fieldPolygons(survey, candidate));
  const holes = straight.flat().flatMap(([, ...rings]) => rings);
  const toHoles = distanceToRings(holes);
  return {
    fields: fieldsOf(seed, layout, straight),
    distanceToWater(x, y) {
      const [sx, sy] = turned([x, y], -layout.turnDeg);
      return Math.min(toHoles(sx, sy), ...creeks.map((creek) => distanceToGraph(creek, sx, sy)));
    },
  };
}

/** Driven with a receiver, or drawn from a picture: more or fewer places, more or less error. */
function fieldPolygons(random: Random, { rings, areaM2 }: Candidate): MultiPolygon {
  const survey: Survey = random.chance(0.6)
    ? { everyM: random.between(28, 55), errorM: 0.3, toleranceM: 0.5 }
    : { everyM: random.between(120, 260), errorM: 0.12, toleranceM: 0.9 };
  const wanted = acres(areaM2) > WITH_HOLES_AC && random.chance(CHANCE_OF_HOLES);
  const kinds: HoleKind[] = wanted ? holeKinds(random) : [];
  return rings.map((ring, part) =>
    withHoles(random, [surveyed(random, ring, survey)], part === 0 ? kinds : []),
  );
}

/** One to three, the largest kind first. */
function holeKinds(random: Random): HoleKind[] {
  const kinds: HoleKind[] = [];
  if (random.chance(0.6)) kinds.push("waterway");
  if (random.chance(0.4)) kinds.push("pond");
  if (kinds.length === 0 || random.chance(0.3)) kinds.push("grove");
  return kinds;
}

function fieldsOf(seed: Seed, layout: SectionsLayout, straight: readonly MultiPolygon[]): LandField[] {
  const areas = straight.map((polygons) => acres(multiPolygonArea(polygons)));
  const names = fieldNames(randomStream(seed.seed, "names"), areas);
  const crops = cropsByHalves(randomStream(seed.seed, "crops"), areas);
  const random = randomStream(seed.seed, "lines");
  return straight.map((polygons, i): LandField => {
    const crop = crops[i]!;
    return {
      name: names[i]!,
      polygons: mapPoints(polygons, (point) => turned(point, layout.turnDeg)),
      line: guidanceLine(random, polygons, layout.turnDeg),
      crop,
      yieldBuPerAc: crop === "corn" ? 170 + 5 * random.below(10) : 50 + 2 * random.below(9),
    };
  });
}

/** Corn and soybean, each on about half of the acres. */
function cropsByHalves(random: Random, areas: readonly number[]): ("corn" | "soybean")[] {
  const crops: ("corn" | "soybean")[] = areas.map(() => "corn");
  let ahead = 0;
  for (const i of random.shuffled(areas.map((_, index) => index))) {
    crops[i] = ahead > 0 ? "soybean" : "corn";
    ahead += crops[i] === "corn" ? areas[i]! : -areas[i]!;
  }
  return crops;
}

/** Along the long side, or, one time in nine, along the railroad or at an odd angle; through the middle of the
 * largest part. */
function guidanceLine(random: Random, polygons: MultiPolygon, turnDeg: number): readonly [Point, Point] {
  const largest = polygons[0]!;
  const { minX, minY, maxX, maxY } = boundsOf([largest]);
  const [width, height] = [maxX - minX, maxY - minY];
  const along = (width > height ? 90 : 0) + random.between(-0.35, 0.35);
  const railroad = 90 - (Math.atan(RAILROAD_SLOPE) * 180) / Math.PI;
  const odd = random.uniform();
  const heading = odd < 0.06 ? railroad : odd < 0.11 ? random.between(15, 75) : along;
  const length = odd < 0.11 ? 0.6 * Math.min(width, height) : 0.7 * Math.max(width, height);
  const [a, b] = lineThrough(centroid(largest[0]!), heading, length);
  return [turned(a, turnDeg), turned(b, turnDeg)];
}
