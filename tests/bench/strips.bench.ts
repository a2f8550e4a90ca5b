import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { featureCollection, intersect, multiPolygon, polygon as turfPolygon } from "@turf/turf";
import { expect, it } from "vitest";
import {
  boundsOf,
  insetLand,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  repairBoundary,
  STEPS_PER_METRE,
  snapTiles,
  tilingFaults,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { guidanceFrame, movePolygons } from "../../src/strips/guidance-frame.ts";
import { expectedBoundaries, readBoundary } from "../geo/boundaries.ts";
import { type LatticePiece, latticeCut } from "../geo/tiles.ts";
import { writeSection } from "./bench-page.mjs";

/** Times the direct cut must be faster, median of the fields. */
const GEOS_FLOOR = 3;
const TURF_FLOOR = 30;
const SEGMENT_M = 15;
const RUNS = 7;
const GEOS_RUNS = 3;
/** Turf alone takes three minutes on it. */
const NOT_BY_TURF = ["08"];

interface Job {
  readonly name: string;
  /** Interior in the frame of its line: across, along. */
  readonly land: MultiPolygon;
  readonly widthM: number;
}

const jobs: Job[] = expectedBoundaries()
  .filter(({ file }) => !file.startsWith("09"))
  .map(({ file, implement_width_m: widthM, headland_passes }) => {
    const { plane, line } = readBoundary(file);
    const frame = guidanceFrame(line);
    let land = movePolygons(repairBoundary(plane).repaired, frame.toGuidance);
    for (let k = 0; k < headland_passes; k++) land = insetLand(land, widthM);
    return { name: file.slice(0, 2), land, widthM };
  });

/** CPU milliseconds, so that others on the machine do not count. */
const cpuMs = (work: () => void): number => {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1_000;
};

const ownCut = ({ land, widthM }: Job): { ms: number; pieces: readonly LatticePiece[] } => {
  let pieces: readonly LatticePiece[] = [];
  const times = Array.from({ length: RUNS }, () =>
    cpuMs(() => {
      pieces = latticeCut(land, { widthM, lengthM: SEGMENT_M });
    }),
  );
  return { ms: Math.min(...times), pieces };
};

/** Inner edges without an equal neighbour. */
const unshared = (pieces: readonly LatticePiece[], land: MultiPolygon): number => {
  const tiles = pieces.map((piece): MultiPolygon => [piece.polygon]);
  const outline = snapTiles([...tiles, land], STEPS_PER_METRE).at(-1)!;
  return tilingFaults(tiles, outline).length;
};

interface Rival {
  readonly ms: number;
  readonly areaM2: number;
}

const wkt = (land: MultiPolygon): string => {
  const ring = (points: readonly Point[]): string =>
    `(${[...points, points[0]!].map(([x, y]) => `${x} ${y}`).join(",")})`;
  return `MULTIPOLYGON(${land.map((polygon) => `(${polygon.map(ring).join(",")})`).join(",")})`;
};

const geosCuts = (): Map<string, Rival> => {
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  try {
    const file = join(folder, "jobs.json");
    const rows = jobs.map(({ name, land, widthM }) => {
      return { name, wkt: wkt(land), widthM, lengthM: SEGMENT_M, ...boundsOf(land) };
    });
    writeFileSync(file, JSON.stringify(rows));
    const script = fileURLToPath(new URL("strips-geos.R", import.meta.url));
    const told = execFileSync("Rscript", [script, file, `${GEOS_RUNS}`], { encoding: "utf8" });
    const lines = told.trim().split("\n");
    return new Map(
      lines.map((line) => {
        const [name, seconds, , areaM2] = line.trim().split(/\s+/);
        return [name!, { ms: 1_000 * Number(seconds), areaM2: Number(areaM2) }];
      }),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
};

const geosVersions = (): string[] => {
  const ask =
    'cat(paste0("R ", getRversion(), ", sf ", packageVersion("sf"), ", GEOS ", sf::sf_extSoftVersion()["GEOS"]))';
  return [execFileSync("Rscript", ["-e", ask], { encoding: "utf8" })];
};

type TurfLand = Parameters<typeof intersect>[0]["features"][number];

const turfLand = (land: MultiPolygon): TurfLand =>
  multiPolygon(land.map((polygon) => polygon.map((ring) => [...ring, ring[0]!].map(([x, y]) => [x, y]))));

const turfBox = (x0: number, x1: number, y0: number, y1: number): TurfLand =>
  turfPolygon([
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
      [x0, y0],
    ],
  ]);

/** Slabs first, then columns; plane metres, as turf's clipping does not mind. */
const turfCut = ({ land, widthM }: Job): Rival => {
  const { minX, maxX, minY, maxY } = boundsOf(land);
  let areaM2 = 0;
  const ms = cpuMs(() => {
    const whole = turfLand(land);
    for (let k = Math.floor(minX / widthM + 0.5); k <= Math.floor(maxX / widthM + 0.5); k++) {
      const box = turfBox((k - 0.5) * widthM, (k + 0.5) * widthM, minY - 1, maxY + 1);
      const slab = intersect(featureCollection([whole, box]));
      if (slab === null) continue;
      const along = slab.geometry.coordinates.flat(Number.POSITIVE_INFINITY) as unknown as number[];
      const ys = along.filter((_, i) => i % 2 === 1);
      const least = ys.reduce((a, b) => Math.min(a, b));
      const most = ys.reduce((a, b) => Math.max(a, b));
      for (let j = Math.floor(least / SEGMENT_M); j <= Math.floor(most / SEGMENT_M); j++) {
        const column = turfBox(minX - 1, maxX + 1, j * SEGMENT_M, (j + 1) * SEGMENT_M);
        const piece = intersect(featureCollection([slab, column]));
        if (piece === null) continue;
        const { type, coordinates } = piece.geometry;
        const polygons = (type === "Polygon" ? [coordinates] : coordinates) as unknown as Point[][][];
        areaM2 += multiPolygonArea(polygons.map((polygon) => polygon.map((ring) => ring.slice(0, -1))));
      }
    }
  });
  return { ms, areaM2 };
};

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length / 2;
  return (sorted[Math.floor(half)]! + sorted[Math.ceil(half) - 1]!) / 2;
};

it("the direct cut against GEOS and turf, the same slabs and columns", { timeout: 900_000 }, () => {
  // Warm: the first runs are compiled on the way.
  for (const job of jobs) ownCut(job);
  const geos = geosCuts();
  const rows = jobs.map((job) => {
    const { ms, pieces } = ownCut(job);
    const areaM2 = multiPolygonArea(job.land);
    const own = sum(pieces.map(({ polygon }) => multiPolygonArea([polygon])));
    return {
      name: job.name,
      pieces: pieces.length,
      ms,
      geos: geos.get(job.name)!,
      turf: NOT_BY_TURF.includes(job.name) ? undefined : turfCut(job),
      areaM2,
      off: Math.abs(own / areaM2 - 1),
      unshared: unshared(pieces, job.land),
    };
  });
  const cell = (value: number): string => value.toPrecision(3);
  const lines = rows.map(
    ({ name, pieces, ms, geos: g, turf, off, unshared: open }) =>
      `| ${name} | ${pieces} | ${cell(ms)} | ${cell(g.ms)} | ${cell(g.ms / ms)} | ${turf ? cell(turf.ms) : "-"} | ${turf ? cell(turf.ms / ms) : "-"} | ${off.toExponential(0)} | ${open} |`,
  );
  const overGeos = rows.map(({ ms, geos: g }) => g.ms / ms);
  const overTurf = rows.flatMap(({ ms, turf }) => (turf ? [turf.ms / ms] : []));
  // A row with an unshared edge, or where the rival did another job, is void.
  for (const row of rows) {
    expect(row.unshared).toBe(0);
    expect(Math.abs(row.geos.areaM2 / row.areaM2 - 1)).toBeLessThan(1e-9);
    if (row.turf) expect(Math.abs(row.turf.areaM2 / row.areaM2 - 1)).toBeLessThan(1e-6);
  }
  writeSection(
    "strips",
    `The same job for each: the interior of a field (headlands taken off, turned into the frame of its guidance line) cut into slabs of one width, and these into ${SEGMENT_M} m columns. Ours is the direct cut of \`src/geo/lattice-cut.ts\` **with** the nodes on both sides of every edge and the rounding to 0.1 mm; the others give pieces without either. GEOS through R sf in its faster, two-stage form (slabs, then columns, both through its spatial index); turf \`intersect\` the same way. CPU time in one process, ours the least of ${RUNS} runs after one to warm up, GEOS the least of ${GEOS_RUNS}, turf once. A row is void unless our tiles have no unshared edge and the other's area is the interior's.

| field | pieces | direct, CPU ms | GEOS | times | turf | times | area off | unshared |
|---|---|---|---|---|---|---|---|---|
${lines.join("\n")}
| median | | | | **${cell(median(overGeos))}** | | **${cell(median(overTurf))}** | | |

Floors: ${GEOS_FLOOR} times GEOS, ${TURF_FLOOR} times turf; goals 6 and 100. Field 08 by turf takes three minutes and is left out.`,
    { packages: ["@turf/turf"], programs: geosVersions() },
  );
  expect(median(overGeos)).toBeGreaterThan(GEOS_FLOOR);
  expect(median(overTurf)).toBeGreaterThan(TURF_FLOOR);
});
