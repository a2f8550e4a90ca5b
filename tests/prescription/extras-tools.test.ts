import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildFiles } from "../../src/publish/index.ts";
import { KG_PER_HA_PER_LB_PER_AC, M2_PER_AC } from "../../src/units/index.ts";
import { runWithForms } from "../support/extra-forms.ts";
import { describeWithTools } from "../support/system-tool.ts";

// GDAL (gdal.org) and xmllint (libxml2), which share no code with the writers: every file of every other form opens. Pounds
// of shapefiles and KML by GDAL's areas in the equal-area projection EPSG:6933.

interface Entry {
  readonly totalLb: number;
  readonly extras: readonly { readonly path: string; readonly form: string; readonly totalLb: number }[];
}

describeWithTools(["ogr2ogr", "ogrinfo", "xmllint"], "other programs on every other form", (run) => {
  let base: string;
  let entries: readonly Entry[];

  beforeAll(async () => {
    base = mkdtempSync(join(tmpdir(), "extras-test-"));
    const files = buildFiles(await runWithForms(), "0.0.1", new Map());
    for (const [path, bytes] of files) {
      mkdirSync(dirname(join(base, path)), { recursive: true });
      writeFileSync(join(base, path), bytes);
    }
    entries = JSON.parse(readFileSync(join(base, "result.json"), "utf8")).prescriptions;
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));

  const ending = (end: string) =>
    entries.flatMap(({ extras }) =>
      extras
        .filter(({ path }) => path.endsWith(end))
        .map((extra) => ({ ...extra, file: join(base, extra.path) })),
    );

  /** Area times a column, summed by GDAL. */
  function placed(file: string, column: string): { readonly sum: number; readonly count: number } {
    const layer = run.ogrinfo("-q", "-ro", file).match(/^1: ([^(]+?)(?: \(|$)/m)![1]!;
    const projected = join(base, `${basename(file)}.gpkg`);
    const sql = `SELECT CAST("${column}" AS float) AS rate, geometry FROM "${layer}"`;
    run.ogr2ogr("-t_srs", "EPSG:6933", projected, file, "-nln", "tiles", "-dialect", "sqlite", "-sql", sql);
    const csv = `${projected}.csv`;
    run.ogr2ogr(
      "-f",
      "CSV",
      csv,
      projected,
      "-sql",
      "SELECT rate, OGR_GEOM_AREA AS m2 FROM tiles",
      "-dialect",
      "OGRSQL",
    );
    const rows = readFileSync(csv, "utf8").trim().split("\n").slice(1);
    const sum = rows.reduce((total, row) => {
      const [rate, m2] = row.split(",").map((cell) => Number(cell.replaceAll('"', "")));
      return total + (rate! * m2!) / M2_PER_AC;
    }, 0);
    return { sum, count: rows.length };
  }

  it("GDAL finds the pounds of kg/ha maps, fallbacks and KML", () => {
    const wanted = [
      ...ending(".shp").map((one) => ({ ...one, column: one.form === "kg-ha" ? "RATE_KGHA" : "RATE_LBAC" })),
      ...ending(".kml")
        .slice(0, 1)
        .map((one) => ({ ...one, column: "RATE_LBAC" })),
    ];
    expect(wanted).toHaveLength(9);
    for (const { file, column, totalLb } of wanted) {
      const { sum, count } = placed(file, column);
      expect(count, file).toBeGreaterThan(0);
      const lb = column === "RATE_KGHA" ? sum / KG_PER_HA_PER_LB_PER_AC : sum;
      expect(Math.abs(lb - totalLb), file).toBeLessThan(2e-5 * totalLb + 1e-6);
    }
  });

  it("GDAL opens every table of zones", () => {
    for (const { file, totalLb } of ending(".csv")) {
      const sql = `SELECT SUM(CAST(lb AS float)) AS lb FROM "${basename(file, ".csv")}"`;
      const told = run.ogrinfo("-q", "-ro", file, "-dialect", "sqlite", "-sql", sql);
      expect(Math.abs(Number(/lb \(Real\) = ([\d.]+)/.exec(told)![1]) - totalLb)).toBeLessThan(1e-3);
    }
  });

  it("xmllint finds all task data and KML well-formed", () => {
    const texts = [...ending("TASKDATA.XML"), ...ending(".kml")];
    expect(texts.length).toBeGreaterThanOrEqual(10);
    expect(run.xmllint("--noout", "--nonet", ...new Set(texts.map(({ file }) => file)))).toBe("");
  });
});
