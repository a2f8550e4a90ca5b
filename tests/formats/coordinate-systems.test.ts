// Positions by code against GDAL 3.6 / PROJ (gdaltransform to EPSG:4326, measured), then against the GDAL of this machine.
import { describe, expect, it } from "vitest";
import { systemOfCode } from "../../src/formats/coordinate-system.ts";
import { rawGeoJson, settleLayer } from "../../src/formats/index.ts";
import { readWkt } from "../../src/formats/read-wkt.ts";
import { systemOfWkt } from "../../src/formats/wkt-system.ts";
import type { Point } from "../../src/geo/index.ts";
import { describeWithTools } from "../support/system-tool.ts";
import { bytesOf } from "./support.ts";

const PLACES: readonly (readonly [code: number, from: Point, lonLat: Point])[] = [
  [26915, [448000, 4647000], [-93.6276218514131, 41.9732798359927]],
  [26910, [600000, 5200000], [-121.685969123396, 46.9459883250142]],
  [32615, [448000, 4647000], [-93.6276218514074, 41.9732798349438]],
  [32733, [500000, 7000000], [15, -27.1224696415507]],
  [3857, [-10422579.19, 5156977.73], [-93.6276218632306, 41.9732798157001]],
  [3417, [4810000, 3440000], [-93.9088604388831, 41.9360222357159]], // US survey feet
  [26975, [1500000, 1060000], [-93.5, 42.0401674247228]],
  [2266, [1900000, 400000], [-100.77334702664, 46.7631716534872]], // international feet
  [5070, [200000, 2100000], [-93.5727858089887, 41.8796231374703]],
  [6344, [448000, 4647000], [-93.6276218514131, 41.9732798359927]],
];
/** 0.2 mm of latitude. */
const NEAR_DEG = 2e-9;

describe("coordinate systems by code", () => {
  it.each(PLACES)("EPSG:%i", (code, from, [lon, lat]) => {
    const found = systemOfCode(`EPSG:${code}`)!.toLonLat(from);
    expect(Math.abs(found[0] - lon)).toBeLessThan(NEAR_DEG);
    expect(Math.abs(found[1] - lat)).toBeLessThan(NEAR_DEG);
  });

  it("takes the usual spellings, and nothing it does not know", () => {
    for (const text of ["EPSG:26915", "epsg:26915", "26915", " EPSG::26915 "]) {
      expect(systemOfCode(text)?.code).toBe("EPSG:26915");
    }
    expect(systemOfCode("OGC:CRS84")?.isDegrees).toBe(true);
    for (const text of ["", "EPSG:", "EPSG:1", "EPSG:26999", "EPSG:31467", "UTM 15", "EPSG:99999999"]) {
      expect(systemOfCode(text)).toBeUndefined();
    }
  });

  it("shifts NAD27 by the mean of the contiguous states: some 18 m west in Iowa", () => {
    // -8 160 176 m, DMA TR 8350.2 (from memory); formats/21 was made with it and holds the shift to 1 cm.
    const [lon, lat] = systemOfCode("EPSG:4267")!.toLonLat([-93.6, 42]);
    const eastM = (lon + 93.6) * 111_320 * Math.cos((42 * Math.PI) / 180);
    expect(eastM).toBeGreaterThan(-20);
    expect(eastM).toBeLessThan(-16);
    expect(Math.abs(lat - 42) * 111_000).toBeLessThan(10);
  });
});

describe("coordinate systems by their text", () => {
  const nad83 =
    'GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
  const utm = (geographic: string, lon = "-93.0", unit = 'UNIT["Meter",1.0]') =>
    `PROJCS["x",${geographic},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",${lon}],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],${unit}]`;
  const wgs84 =
    'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

  it.each([
    [nad83, "EPSG:4269"],
    [wgs84, "EPSG:4326"],
    [
      'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]',
      "EPSG:4326",
    ],
    [
      'GEOGCRS["WGS 84",DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563,LENGTHUNIT["metre",1]]],PRIMEM["Greenwich",0],CS[ellipsoidal,2],AXIS["latitude",north],ANGLEUNIT["degree",0.0174532925199433]]',
      "EPSG:4326",
    ],
    [utm(nad83), "EPSG:26915"],
    [utm(wgs84, "-105.0"), "EPSG:32613"],
    [utm(nad83.replace("D_North_American_1983", "D_NAD_1983_2011")), "EPSG:6344"],
    [utm(wgs84, "-93.5"), "x"],
    [`COMPD_CS["both",${utm(nad83)},VERT_CS["h",VERT_DATUM["v",2005]]]`, "EPSG:26915"],
  ])("%s", (text, code) => expect(systemOfWkt(readWkt(text)!)?.code).toBe(code));

  it.each([
    wgs84.replace('UNIT["Degree",0.0174532925199433]', 'UNIT["Grad",0.01570796326794897]'),
    wgs84.replace('["Greenwich",0.0]', '["Paris",2.337229167]'),
    nad83.replace("298.257222101", "294.978698214"),
    wgs84.replace("D_WGS_1984", "D_European_1950"),
    utm(nad83).replace("Transverse_Mercator", "Bonne"),
    utm(nad83, "1e999"),
    utm(nad83, "-93.0", 'UNIT["Meter",0]'),
  ])("does not know %s", (text) => {
    const root = readWkt(text);
    expect(root && systemOfWkt(root)).toBeUndefined();
  });
});

describe("what the numbers contradict", () => {
  const layerAt = (x: number, y: number, crs?: string) => {
    const geometry = { type: "Point", coordinates: [x, y] };
    const stated = crs === undefined ? {} : { crs: { type: "name", properties: { name: crs } } };
    return rawGeoJson(bytesOf(JSON.stringify({ ...geometry, ...stated })), "x.geojson");
  };
  const asked = (x: number, y: number, crs?: string, answers: Record<string, string> = {}) =>
    settleLayer(layerAt(x, y, crs), answers).questions.map(({ key, choices, likely }) => [
      key,
      ...choices,
      ...(likely ? [likely] : []),
    ]);

  it("is asked, with the likely answer where there is one", () => {
    expect(asked(-10422579, 5156977)).toEqual([["coordinate-system", "EPSG:3857"]]);
    expect(asked(448000, 4647000)).toEqual([["coordinate-system"]]);
    expect(asked(-93, 42, "EPSG:26915")).toEqual([["coordinate-system", "EPSG:4326"]]);
    expect(asked(42, -93)).toEqual([["swap-lon-lat", "yes"]]);
    expect(asked(-93, 42)).toEqual([]);
  });

  it("is doubted where no land is farmed and the exchanged numbers lie where land is", () => {
    // Ohio, Maine and Finnmark (70.1 N, 28.2 E): the first two written latitude first.
    expect(asked(41.2, -84.3)).toEqual([["swap-lon-lat", "yes", "no"]]);
    expect(asked(45, -67)).toEqual([["swap-lon-lat", "yes", "no"]]);
    expect(asked(28.2, 70.1)).toEqual([]);
    const answered = (answer: string) => {
      const { layer, located } = settleLayer(layerAt(41.2, -84.3), { "swap-lon-lat": answer });
      const shape = layer.features[0]!.geometry;
      return located && shape?.kind === "point" ? shape.at : null;
    };
    expect([answered("yes"), answered("no"), answered("perhaps")]).toEqual([
      [-84.3, 41.2],
      [41.2, -84.3],
      null,
    ]);
  });

  it("is asked again where the answer does not fit the numbers", () => {
    const answer = (code: string) => asked(448000, 4647000, undefined, { "coordinate-system": code });
    expect(answer("EPSG:26915")).toEqual([]);
    expect(answer("EPSG:4326")).toEqual([["coordinate-system"]]);
    expect(answer("Iowa")).toEqual([["coordinate-system"]]);
  });
});

describe("a shape on both sides of the 180° meridian", () => {
  const square = (west: number, east: number, isExchanged = false) => {
    const ring = [
      [west, -16.8],
      [east, -16.8],
      [east, -16.79],
      [west, -16.79],
      [west, -16.8],
    ].map(([lon, lat]) => (isExchanged ? [lat, lon] : [lon, lat]));
    const geometry = { type: "Polygon", coordinates: [ring] };
    return rawGeoJson(bytesOf(JSON.stringify(geometry)), "x.geojson");
  };

  it("is refused with its record, also where the axes are exchanged", () => {
    const words =
      "x.geojson, feature 1: it lies on both sides of the 180° meridian, with longitudes from -179.998 to 179.998";
    expect(() => settleLayer(square(179.998, -179.998), {})).toThrow(words);
    expect(() => settleLayer(square(179.998, -179.998, true), { "swap-lon-lat": "yes" })).toThrow(words);
  });

  it("is taken up to the meridian", () => {
    expect(settleLayer(square(179.99, 180), {}).questions).toEqual([]);
    expect(settleLayer(square(-180, -179.99), {}).questions).toEqual([]);
  });
});

describeWithTools(["gdaltransform"], "coordinate systems against gdaltransform", (run) => {
  // Zones of the plains; where GDAL knows a grid between NAD83 and WGS84 (Hawaii) it differs by decimetres.
  it.each(["26914", "32614", "3418", "26976", "32104", "2265"])("EPSG:%s", (code) => {
    const from: Point = [500_000, 400_000];
    const out = run.gdaltransform(
      ...[
        "-s_srs",
        `EPSG:${code}`,
        "-t_srs",
        "EPSG:4326",
        "-output_xy",
        "-coord",
        String(from[0]),
        String(from[1]),
      ],
    );
    const [lon, lat] = out.trim().split(/\s+/).map(Number);
    const found = systemOfCode(code)!.toLonLat(from);
    expect(Math.abs(found[0] - lon!)).toBeLessThan(NEAR_DEG);
    expect(Math.abs(found[1] - lat!)).toBeLessThan(NEAR_DEG);
  });
});
