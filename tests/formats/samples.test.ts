// Whole files of tests/data/formats against what an independent reader (GDAL, geodesic areas) finds in them; the files
// that must be refused, against the rule that refuses them.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Feature, Layer } from "../../src/formats/index.ts";
import { ellipsoidArea, type Geometry, type Point } from "../../src/geo/index.ts";
import { readGeoJson, readShapefileZip } from "../support/read-layers.ts";
import { refusal, sample } from "./support.ts";

interface ExpectedFeature {
  readonly type: string | null;
  readonly acres: number | null;
  readonly first: Point | null;
  readonly properties: Feature["properties"];
}
interface ExpectedLayer {
  readonly layer: string;
  readonly features: readonly ExpectedFeature[] | number;
}

const EXPECTED = JSON.parse(
  readFileSync(join(import.meta.dirname, "../data/formats/expected-shp.json"), "utf8"),
) as Record<string, ExpectedLayer[]>;
const M2_PER_AC = 43_560 * 0.3048 ** 2;

const acresOf = ({ geometry }: Feature) =>
  geometry?.kind === "polygon" ? ellipsoidArea(geometry.polygons) / M2_PER_AC : null;
const read = (path: string): Layer[] =>
  path.startsWith("shp/") ? readShapefileZip(sample(path), path) : [readGeoJson(sample(path), path)];

function typeOf({ geometry }: Feature): string | null {
  if (geometry === null) return null;
  if (geometry.kind === "point") return "POINT";
  if (geometry.kind === "line") return geometry.parts.length === 1 ? "LINESTRING" : "MULTILINESTRING";
  return geometry.polygons.length === 1 ? "POLYGON" : "MULTIPOLYGON";
}

/** Calls `visit` with every vertex of a shape, in order. */
function visitPoints(geometry: Geometry, visit: (point: Point) => void): void {
  if (geometry.kind === "point") visit(geometry.at);
  else if (geometry.kind === "line") for (const part of geometry.parts) part.forEach(visit);
  else for (const polygon of geometry.polygons) for (const ring of polygon) ring.forEach(visit);
}

function hasVertex(feature: Feature, [x, y]: Point): boolean {
  let found = false;
  if (feature.geometry === null) return false;
  visitPoints(feature.geometry, ([a, b]) => {
    if (Math.abs(a - x) < 1e-6 && Math.abs(b - y) < 1e-6) found = true;
  });
  return found;
}

describe("shapefiles that are read", () => {
  const refused = ["11-", "13-"].map((start) => `shp/${start}`);
  const paths = Object.keys(EXPECTED).filter(
    (path) => path.startsWith("shp/") && !refused.some((start) => path.startsWith(start)),
  );

  it.each(paths)("%s", (path) => {
    const layers = read(path);
    const expected = EXPECTED[path]!;
    expect(layers.map((layer) => layer.name)).toEqual(expected.map(({ layer }) => layer));
    layers.forEach((layer, i) => {
      const wanted = expected[i]!.features;
      if (typeof wanted === "number") {
        expect(layer.features).toHaveLength(wanted);
        return;
      }
      expect(layer.features.map(typeOf)).toEqual(wanted.map(({ type }) => type));
      expect(layer.features.map(({ properties }) => properties)).toEqual(
        wanted.map(({ properties }) => properties),
      );
      layer.features.forEach((feature, n) => {
        const { acres, first } = wanted[n]!;
        if (acres !== null) expect(Math.abs(acresOf(feature)! - acres)).toBeLessThan(0.002);
        if (first !== null) expect(hasVertex(feature, first)).toBe(true);
      });
    });
  });

  it("finds as many files to read as there are", () => expect(paths).toHaveLength(18));

  it("belongs each hole to the part around it", () => {
    const holes = read("shp/02-multipolygon.zip")[0]!.features.map(({ geometry }) =>
      geometry?.kind === "polygon" ? geometry.polygons.map((polygon) => polygon.length - 1) : [],
    );
    expect(holes).toEqual([[1, 0], [0]]);
  });

  it("keeps record numbers past a deleted record and names it", () => {
    const [layer] = read("shp/20-deleted-record.zip");
    expect(layer!.features.map(({ record }) => record)).toEqual([1, 3, 4]);
    expect(layer!.notices.map(({ message }) => message)).toEqual([
      "record 2 is marked deleted and was skipped",
    ]);
  });

  it("keeps attributes with their own record beside a null shape", () => {
    const [layer] = read("shp/12-null-geometry.zip");
    expect(layer!.features.map(({ record, properties }) => [record, properties.P2O5_LBAC])).toEqual([
      [1, 160],
      [2, 55],
      [3, 90.5],
    ]);
  });

  it("ignores junk, and reads capitals in a sub-folder", () => {
    const [layer] = read("shp/15-folder-junk-uppercase.zip");
    expect(layer).toMatchObject({ name: "ZONES", notices: [] });
    expect(layer!.features.map(({ properties }) => properties.P2O5_LBAC)).toEqual([160, 90.5, 0, 120.25]);
  });

  it("tells the encoding: .cpg, byte 29, .cpg", () => {
    const encodings = ["05-latin1-cpg", "06-latin1-ldid-no-cpg", "07-utf8-cpg"].map(
      (stem) => read(`shp/${stem}.zip`)[0]!.encoding,
    );
    expect(encodings).toEqual(["windows-1252", "windows-1252", "UTF-8"]);
  });

  it("gives no notice where there is nothing doubtful", () => {
    const noisy = paths.filter((path) => read(path).some(({ notices }) => notices.length > 0));
    expect(noisy.map((path) => path.slice(4, 6))).toEqual(["03", "04", "20", "22"]);
  });
});

describe("GeoJSON files that are read", () => {
  it.each([
    ["01-boundary-rfc7946.geojson", [73.64]],
    ["02-wrong-ring-order.geojson", [73.64]],
    ["04-three-d.geojson", [73.64]],
    ["05-null-geometry.geojson", [27.7, null, 33.48]],
    ["07-old-crs84-member.geojson", [73.64]],
    ["08-bare-polygon.geojson", [73.64]],
    ["09-geometrycollection.geojson", [73.64]],
    ["14-newline-delimited.geojsonl", [27.7, 33.48, 5.19, 5.93]],
    ["15-utf8-bom.geojson", [73.64]],
    ["17-multipolygon.geojson", [92.34]],
  ])("%s", (file, acres) => {
    const [layer] = read(`geojson/${file}`);
    const found = layer!.features.map(acresOf);
    expect(found).toHaveLength(acres.length);
    acres.forEach((wanted, i) => {
      if (wanted === null) expect(found[i]).toBeNull();
      else expect(Math.abs(found[i]! - wanted)).toBeLessThan(0.01);
    });
  });

  it("strips the byte-order mark, keeps texts, numbers as text and no value apart", () => {
    expect(read("geojson/15-utf8-bom.geojson")[0]!.features[0]!.properties).toEqual({ field: "Peña" });
    const rates = read("geojson/12-rates-as-strings.geojson")[0]!.features.map(
      ({ properties }) => properties.rate,
    );
    expect(rates).toEqual(["160", "90,5", null]);
  });

  it("says how the coordinate system is known, and what was ignored", () => {
    expect(read("geojson/07-old-crs84-member.geojson")[0]).toMatchObject({
      coordinateSystemFrom: "crs member",
    });
    expect(read("geojson/09-geometrycollection.geojson")[0]!.notices).toEqual([
      {
        code: "shape-ignored",
        message: "a point was ignored; the polygons of this feature are read",
        where: "geojson/09-geometrycollection.geojson, feature 1",
      },
    ]);
  });
});

describe("files that nobody was asked about", () => {
  it.each([
    ["shp/11-empty-layer.zip", "no-shapes", "no shapes in this file"],
    ["shp/13-no-prj-lonlat.zip", "coordinate-system", "no noprj_ll.prj"],
    ["shp/14-no-prj-metres.zip", "coordinate-system", "448000, 4647000"],
    ["geojson/03-lat-lon-swapped.geojson", "swap-lon-lat", "latitude -93.6"],
    ["geojson/10-unclosed-ring.geojson", "close-ring", "feature 1"],
    ["geojson/16-web-mercator-metres.geojson", "coordinate-system", "-10422579"],
  ])("%s", (path, code, named) => {
    const error = refusal(() => read(path));
    expect(error.code).toBe(code);
    expect(error.message).toContain(path);
    expect(error.message).toContain(named);
    expect(error.remedy).not.toBe("");
  });
});
