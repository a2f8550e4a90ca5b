// npm run bench:files: a shapefile of 16,000 polygons and 52 MB read by us and by shpjs, and 16,000 polygons of a map written by
// us, by the usual writer from npm and by GDAL's ogr2ogr; each in a process of its own, in turn.
import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { writeSection } from "./bench-page.mjs";

const ROUNDS = 5;
const [side, folder] = process.argv.slice(2);
const project = join(import.meta.dirname, "../..");
const formats = pathToFileURL(join(project, "dist/formats/index.js")).href;
const sides = { "read ours": readOurs, "read shpjs": readTheirs, "write ours": writeOurs, "write npm": writeNpm };


async function compare() {
  const made = mkdtempSync(join(tmpdir(), "bench-"));
  await writeBig(made);
  await writeRates(made);
  const figures = { "read ours": [], "read shpjs": [], "write ours": [], "write npm": [], ogr2ogr: [] };
  const ogr = spawnSync("ogr2ogr", ["--version"], { encoding: "utf8" });
  for (let round = 0; round < ROUNDS; round++) {
    for (const name of Object.keys(sides)) {
      if (name === "write npm" && round > 0 && figures[name][0].ms > 60_000) continue;
      figures[name].push(JSON.parse(execFileSync(process.execPath, [import.meta.filename, name, made], { encoding: "utf8" })));
    }
    if (ogr.error === undefined) figures.ogr2ogr.push(ogr2ogr(made, round));
  }
  rmSync(made, { recursive: true });
  const median = (list, of) => list.map(of).toSorted((a, b) => a - b)[list.length >> 1];
  const ms = (name) => median(figures[name], (one) => one.ms);
  const mb = (name) => median(figures[name], (one) => one.peakMb);
  const reads = ms("read shpjs") / ms("read ours");
  const memory = mb("read ours") / mb("read shpjs");
  const writes = ms("write npm") / ms("write ours");
  const rows = [
    `| read 16,000 polygons of 200 corners, 52 MB, every corner looked at | ${ms("read ours")} ms | shpjs ${ms("read shpjs")} ms | ${reads.toFixed(1)}x faster | 2x (4x) |`,
    `| its peak memory | ${mb("read ours")} MB | shpjs ${mb("read shpjs")} MB | ${memory.toFixed(2)} | 0.65 (0.5) |`,
    `| write 16,000 polygons of a map | ${ms("write ours")} ms | @mapbox/shp-write ${ms("write npm")} ms | ${writes.toFixed(0)}x faster | 100x |`,
  ];
  let share = 0;
  if (ogr.error === undefined) {
    share = median(figures["write ours"], (one) => one.wholeMs) / ms("ogr2ogr");
    rows.push(
      `| the same to disk, whole process | ${median(figures["write ours"], (one) => one.wholeMs)} ms | ogr2ogr, from a shapefile to a shapefile, ${ms("ogr2ogr")} ms | ${share.toFixed(2)} of its time | at most 2 |`,
    );
  } else console.log("ogr2ogr: NOT MEASURED, GDAL is not installed");
  const text = `Each side in a process of its own, ${ROUNDS} rounds in turn, medians of processor time; compare the ratios.
The writer from npm is handed the same features and makes a zip that is not compressed; it writes points of floating numbers as we do.

| what | here | other | ratio | asked for (goal) |
|---|---|---|---|---|
${rows.join("\n")}`;
  writeSection("files", text, {
    packages: ["shpjs", "@mapbox/shp-write"],
    programs: ogr.error === undefined ? [ogr.stdout.trim()] : [],
  });
  if (reads < 2 || memory > 0.65 || writes < 100 || !(share <= 2)) process.exitCode = 1;
}

function processorMs() {
  const { user, system } = process.cpuUsage();
  return Math.round((user + system) / 1000);
}

/** Time of a piece of work, and the highest memory of this process. */
function measured(work) {
  const begun = processorMs();
  const result = work();
  return { ms: processorMs() - begun, peakMb: Math.round(process.resourceUsage().maxRSS / 1024), ...result };
}

const partsOf = (stem) =>
  Object.fromEntries(
    ["shp", "shx", "dbf", "prj", "cpg"].map((ending) => [ending, new Uint8Array(readFileSync(join(folder, `${stem}.${ending}`)))]),
  );

const cornersWestOfGreenwich = (rings) => {
  let count = 0;
  for (const ring of rings) for (const [x] of ring) if (x < 0) count += 1;
  return count;
};

async function readOurs() {
  const { readShapefile } = await import(formats);
  const parts = partsOf("big");
  return measured(() => {
    const { features } = readShapefile({ stem: "big", path: "big.shp", ...parts }, "big.shp");
    return { corners: features.reduce((sum, { geometry }) => sum + cornersWestOfGreenwich(geometry.polygons.flat()), 0) };
  });
}

async function readTheirs() {
  const { combine, parseDbf, parseShp } = await import("shpjs");
  const { shp, dbf } = partsOf("big");
  return measured(() => {
    const { features } = combine([parseShp(shp.buffer, undefined), parseDbf(dbf.buffer)]);
    return { corners: features.reduce((sum, { geometry }) => sum + cornersWestOfGreenwich(geometry.coordinates), 0) };
  });
}

/** 16,000 oblong segments of a strip map with their rates. */
function rateFeatures() {
  return Array.from({ length: 16_000 }, (_, i) => {
    const [x, y] = [-84.4 + (i % 126) * 0.0003, 40.9 + Math.floor(i / 126) * 0.0001];
    const ring = [
      [x, y],
      [x, y + 0.0001],
      [x + 0.0003, y + 0.0001],
      [x + 0.0003, y],
    ];
    return { ring, rate: (i % 41) * 5 };
  });
}

const COLUMNS = [{ name: "RATE_LBAC", type: "N", width: 10, decimals: 2 }];

const ourFeatures = () =>
  rateFeatures().map(({ ring, rate }, i) => ({
    record: i + 1,
    geometry: { kind: "polygon", polygons: [[ring.toReversed()]] },
    properties: { RATE_LBAC: rate },
  }));

async function writeOurs() {
  const { writeShapefile } = await import(formats);
  const features = ourFeatures();
  let files;
  const figures = measured(() => {
    files = writeShapefile({ stem: "map", features, columns: COLUMNS, date: "2026-04-15" });
    return {};
  });
  const out = join(folder, `ours-${process.pid}`);
  mkdirSync(out);
  for (const [name, bytes] of files) writeFileSync(join(out, name), bytes);
  return { ...figures, bytes: statSync(join(out, "map.shp")).size, wholeMs: processorMs() };
}

async function writeNpm() {
  const { default: writer } = await import("@mapbox/shp-write");
  const features = rateFeatures().map(({ ring, rate }) => ({
    type: "Feature",
    geometry: { type: "Polygon", coordinates: [[...ring, ring[0]]] },
    properties: { RATE_LBAC: rate },
  }));
  const begun = processorMs();
  const zip = await writer.zip({ type: "FeatureCollection", features }, { outputType: "uint8array", compression: "STORE" });
  return { ms: processorMs() - begun, peakMb: Math.round(process.resourceUsage().maxRSS / 1024), bytes: zip.length };
}

/** Processor time of GDAL's own copying of the same map, read from a shapefile; the shell's `times` tells it. */
function ogr2ogr(made, round) {
  const command = `ogr2ogr -f "ESRI Shapefile" "${join(made, `ogr-${round}.shp`)}" "${join(made, "map.shp")}" && times`;
  const [, children] = execFileSync("sh", ["-c", command], { encoding: "utf8" }).trim().split("\n");
  const seconds = children.split(" ").map((time) => {
    const [, minutes, rest] = /(\d+)m([\d.]+)s/.exec(time);
    return 60 * Number(minutes) + Number(rest);
  });
  return { ms: Math.round(1000 * (seconds[0] + seconds[1])) };
}

/** The map as a shapefile, for ogr2ogr to copy. */
async function writeRates(into) {
  const { writeShapefile } = await import(formats);
  const features = ourFeatures();
  for (const [name, bytes] of writeShapefile({ stem: "map", features, columns: COLUMNS, date: "2026-04-15" })) {
    writeFileSync(join(into, name), bytes);
  }
}

async function writeBig(into) {
  const { writeShapefile } = await import(formats);
  const features = Array.from({ length: 16_000 }, (_, i) => {
    const [x, y] = [-93 + (i % 126) * 0.001, 42 + Math.floor(i / 126) * 0.001];
    const ring = Array.from({ length: 200 }, (_, k) => {
      const angle = (2 * Math.PI * k) / 200;
      return [x + 0.0004 * Math.cos(angle), y + 0.0004 * Math.sin(angle)];
    });
    return { record: i + 1, geometry: { kind: "polygon", polygons: [[ring]] }, properties: { RATE: i % 200 } };
  });
  const columns = [{ name: "RATE", type: "N", width: 10, decimals: 2 }];
  for (const [name, bytes] of writeShapefile({ stem: "big", features, columns, date: "2026-04-15" })) {
    writeFileSync(join(into, name), bytes);
  }
}

if (side === undefined) await compare();
else console.log(JSON.stringify(await sides[side]()));
