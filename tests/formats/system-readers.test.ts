// Written files opened by software that shares no code with this project: GDAL (ogr2ogr, ogrinfo) and unzip.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type Feature, writeGeoJson, writeShapefile, writeZip } from "../../src/formats/index.ts";
import type { Polygon } from "../../src/geo/index.ts";
import { describeWithTools } from "../support/system-tool.ts";
import { comparable, polygonsOf } from "./support.ts";

const nine = (value: number) => Math.round(value * 1e9) / 1e9;

/** 200 strip-like slivers, every tenth with a hole, coordinates of nine decimals. */
const FEATURES = Array.from({ length: 200 }, (_, i): Feature => {
  const [x, y] = [-93.6 + i * 3.1e-6, 41.97 + i * 1.7e-6];
  const at = (dx: number, dy: number): [number, number] => [nine(x + dx), nine(y + dy)];
  const outer = [at(0, 0), at(3e-6, 1e-8), at(3e-6, 7.1234567e-3), at(0, 7e-3)];
  const hole = [at(1e-6, 1e-3), at(1e-6, 2e-3), at(2e-6, 2e-3), at(2e-6, 1e-3)];
  const polygon: Polygon = i % 10 === 0 ? [outer, hole] : [outer];
  return {
    record: i + 1,
    geometry: { kind: "polygon", polygons: [polygon] },
    properties: { RATE_LBAC: i * 1.25, ZONE: i, PRODUCT: `0-46-0, "bin" ${i}` },
  };
});

const folder = mkdtempSync(join(tmpdir(), "formats-"));
const place = (name: string) => join(folder, name);

beforeAll(() => {
  const files = writeShapefile({
    stem: "strips",
    features: FEATURES,
    columns: [
      { name: "RATE_LBAC", type: "N", width: 10, decimals: 2 },
      { name: "ZONE", type: "N", width: 6, decimals: 0 },
      { name: "PRODUCT", type: "C", width: 20 },
    ],
    date: "2026-04-15",
  });
  for (const [name, bytes] of files) writeFileSync(place(name), bytes);
  writeFileSync(place("strips.geojson"), writeGeoJson(FEATURES));
  writeFileSync(place("strips.zip"), writeZip(files, "2026-04-15"));
});
afterAll(() => rmSync(folder, { recursive: true }));

interface Found {
  readonly features: readonly {
    readonly properties: Feature["properties"];
    readonly geometry: { readonly type: string; readonly coordinates: [number, number][][] };
  }[];
}

describeWithTools(["ogr2ogr", "ogrinfo"], "GDAL", (run) => {
  const layout = ["-f", "GeoJSON", "/vsistdout/"];
  const found = (source: string) =>
    JSON.parse(run.ogr2ogr(...layout, source, "-lco", "COORDINATE_PRECISION=17")) as Found;

  it.each(["strips.shp", "strips.geojson"])("finds the same shapes and attributes in %s", (name) => {
    const { features } = found(place(name));
    expect(features.map(({ properties }) => properties)).toEqual(
      FEATURES.map(({ properties }) => properties),
    );
    features.forEach(({ geometry }, i) => {
      expect(geometry.type).toBe("Polygon");
      const rings = geometry.coordinates.map((ring) => ring.slice(0, -1));
      const given = comparable(polygonsOf(FEATURES[i]));
      // GDAL gives shapefile rings as they run in the file: the other way round than the engine's
      const turned = name.endsWith(".shp") ? rings.map((ring) => ring.toReversed()) : rings;
      expect(comparable([turned])).toEqual(given);
    });
  });

  it.each(["strips.shp", "strips.geojson"])("finds every shape of %s valid, in WGS84", (name) => {
    const faults = "SELECT COUNT(*) AS faults FROM strips WHERE NOT ST_IsValid(geometry)";
    expect(run.ogrinfo("-q", "-dialect", "sqlite", "-sql", faults, place(name))).toContain(
      "faults (Integer) = 0",
    );
    const summary = run.ogrinfo("-so", place(name), "strips");
    expect(summary).toContain("Geometry: Polygon");
    expect(summary).toContain("Feature Count: 200");
    expect(summary).toMatch(/GEOGCRS\["WGS 84"/);
  });

  it("finds the columns as they were meant", () => {
    const summary = run.ogrinfo("-so", "-mdd", "SHAPEFILE", place("strips.shp"), "strips");
    expect(summary).toContain("RATE_LBAC: Real (10.2)");
    expect(summary).toContain("ZONE: Integer (6.0)");
    expect(summary).toContain("PRODUCT: String (20.0)");
    expect(summary).toContain("DBF_DATE_LAST_UPDATE=2026-04-15");
    expect(summary).toContain("SOURCE_ENCODING=UTF-8");
  });
});

describeWithTools(["unzip"], "unzip", (run) => {
  it("finds the archive whole", () => {
    expect(run.unzip("-t", place("strips.zip"))).toContain("No errors detected");
    expect(run.unzip("-Z", "-1", place("strips.zip")).trim().split("\n")).toEqual([
      "strips.cpg",
      "strips.dbf",
      "strips.prj",
      "strips.shp",
      "strips.shx",
    ]);
  });
});
