import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { M2_PER_AC } from "../../src/units/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { describeWithTools } from "../support/system-tool.ts";

// GDAL (gdal.org), which shares no code with the writers: every file of the shipped sample opens, is valid, and
// its area times rate is the total in result.json. Areas by the equal-area projection EPSG:6933, which GDAL
// computes on the WGS 84 ellipsoid.

interface Entry {
  readonly totalLb: number;
  readonly areaAc: number;
  readonly polygons: number;
  readonly files: readonly { readonly path: string; readonly format: string }[];
}

describeWithTools(["ogr2ogr", "ogrinfo"], "GDAL on every written prescription", (run) => {
  let base: string;
  let entries: readonly Entry[];

  beforeAll(async () => {
    base = mkdtempSync(join(tmpdir(), "gdal-test-"));
    const built = await cli("build", "sample-data/single-field", "--out", join(base, "out"));
    expect(built.exit).toBe(0);
    entries = JSON.parse(readFileSync(join(base, "out", "result.json"), "utf8")).prescriptions;
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));

  const opened = () =>
    entries.flatMap((entry) =>
      entry.files
        .filter((file) => file.path.endsWith(".shp") || file.path.endsWith(".geojson"))
        .map((file) => ({ entry, path: join(base, "out", file.path) })),
    );

  it("opens every shapefile and GeoJSON with valid polygons and the pounds of result.json", () => {
    expect(opened()).toHaveLength(6);
    for (const { entry, path } of opened()) {
      const equalArea = join(base, `${basename(path)}.csv`);
      const layer = basename(path).replace(/\.[^.]*$/, "");
      const sql = `SELECT RATE_LBAC, ST_IsValid(geometry) AS valid, geometry FROM "${layer}"`;
      const projected = join(base, `${basename(path)}.gpkg`);
      run.ogr2ogr("-t_srs", "EPSG:6933", projected, path, "-nln", "tiles", "-dialect", "sqlite", "-sql", sql);
      const sums = "SELECT RATE_LBAC, valid, OGR_GEOM_AREA AS areaM2 FROM tiles";
      run.ogr2ogr("-f", "CSV", equalArea, projected, "-sql", sums, "-dialect", "OGRSQL");
      const rows = readFileSync(equalArea, "utf8").trim().split("\n").slice(1);
      const records = rows.map((row) => row.split(",").map((cell) => Number(cell.replaceAll('"', ""))));
      expect(records).toHaveLength(entry.polygons);
      expect(records.every(([, valid]) => valid === 1)).toBe(true);
      const lb = records.reduce((sum, [rate, , area]) => sum + (rate! * area!) / M2_PER_AC, 0);
      const acres = records.reduce((sum, [, , area]) => sum + area! / M2_PER_AC, 0);
      expect(Math.abs(lb / entry.totalLb - 1)).toBeLessThan(1e-5);
      expect(Math.abs(acres / entry.areaAc - 1)).toBeLessThan(1e-5);
    }
  });

  it("strip files hold at least ten different rates", () => {
    for (const { path } of opened().filter((one) => one.path.includes("/strip/"))) {
      const layer = basename(path).replace(/\.[^.]*$/, "");
      const sql = `SELECT COUNT(DISTINCT RATE_LBAC) AS n FROM "${layer}"`;
      const told = run.ogrinfo("-q", path, "-sql", sql);
      expect(Number(/n \(Integer\) = (\d+)/.exec(told)![1])).toBeGreaterThanOrEqual(10);
    }
  });
});
