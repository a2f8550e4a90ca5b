// node tests/bench/read-shapefile.mjs: a shapefile of 16,000 polygons and 52 MB read by us and by shpjs, each in a process
// of its own; processor time of the reading, of looking at every vertex once after it, and peak memory. Build first.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [reader, folder] = process.argv.slice(2);
const formats = pathToFileURL(join(import.meta.dirname, "../../dist/formats/index.js")).href;

if (reader === undefined) {
  const made = mkdtempSync(join(tmpdir(), "bench-"));
  await writeBig(made);
  for (const name of ["ours", "shpjs", "ours", "shpjs"]) {
    process.stdout.write(execFileSync(process.execPath, [import.meta.filename, name, made]));
  }
  rmSync(made, { recursive: true });
} else {
  const parts = Object.fromEntries(
    ["shp", "shx", "dbf", "prj", "cpg"].map((ending) => [ending, new Uint8Array(readFileSync(join(folder, `big.${ending}`)))]),
  );
  const read = reader === "ours" ? await ours() : await theirs();
  const begun = processorMs();
  const features = read(parts);
  const readMs = processorMs() - begun;
  let vertices = 0;
  for (const { geometry } of features) {
    for (const ring of geometry.polygons?.flat() ?? geometry.coordinates) for (const [x] of ring) if (x < 0) vertices += 1;
  }
  const lookMs = processorMs() - begun - readMs;
  const peakMb = Math.round(process.resourceUsage().maxRSS / 1024);
  console.log(JSON.stringify({ reader, features: features.length, vertices, readMs, lookMs, peakMb }));
}

function processorMs() {
  const { user, system } = process.cpuUsage();
  return Math.round((user + system) / 1000);
}

async function ours() {
  const { readShapefile } = await import(formats);
  return (parts) => readShapefile({ stem: "big", path: "big.shp", ...parts }, "big.shp").features;
}

async function theirs() {
  const { combine, parseDbf, parseShp } = await import("shpjs");
  return ({ shp, dbf }) => combine([parseShp(shp.buffer, undefined), parseDbf(dbf.buffer)]).features;
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
