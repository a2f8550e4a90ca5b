import { sha256Hex } from "../../src/formats/index.ts";
import { type FileSource, newPlan, type Plan } from "../../src/plan/index.ts";

const utf8 = new TextEncoder();

/** A made-up field of about 20 ac with a hole, at 42 N, as the files a grower would bring. */
export function smallFarmFiles(): Map<string, Uint8Array> {
  return new Map([
    ["boundary.geojson", utf8.encode(JSON.stringify(boundary(OUTER)))],
    ["line.geojson", utf8.encode(JSON.stringify(lineAB))],
    ["lab.csv", utf8.encode(labCsv(SAMPLES))],
  ]);
}

const OUTER = [
  [-93.5, 42],
  [-93.4965, 42],
  [-93.4965, 42.0026],
  [-93.4995, 42.0027],
  [-93.5, 42.002],
  [-93.5, 42],
];
const HOLE = [
  [-93.498, 42.001],
  [-93.498, 42.0014],
  [-93.4976, 42.0014],
  [-93.4976, 42.001],
  [-93.498, 42.001],
];

export const boundary = (outer: readonly (readonly number[])[], name = "Low Forty") => ({
  type: "FeatureCollection",
  features: [
    {
      type: "Feature",
      properties: { FIELD: name },
      geometry: { type: "Polygon", coordinates: [outer, HOLE] },
    },
  ],
});

const lineAB = {
  type: "FeatureCollection",
  features: [
    {
      type: "Feature",
      properties: { name: "A-B" },
      geometry: {
        type: "LineString",
        coordinates: [
          [-93.4982, 42],
          [-93.4982, 42.0026],
        ],
      },
    },
  ],
};

/** id, lon, lat, P, K, CEC */
export const SAMPLES: readonly (readonly (string | number)[])[] = [
  [1, -93.4995, 42.0004, 8, 95, 14],
  [2, -93.4985, 42.0004, 12, 120, 16],
  [3, -93.497, 42.0004, 22, 150, 18],
  [4, -93.4995, 42.0012, 14, 110, 15],
  [5, -93.4985, 42.0012, 18, 140, 17],
  [6, -93.497, 42.0012, 35, 190, 21],
  [7, -93.4993, 42.0021, 17, 125, 15],
  [8, -93.4985, 42.0021, 26, 160, 19],
  [9, -93.497, 42.0021, 44, 210, 24],
];

export function labCsv(
  rows: readonly (readonly (string | number)[])[],
  headings = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g",
): string {
  return `${[headings, ...rows.map((row) => row.join(","))].join("\r\n")}\r\n`;
}

export const ANSWERS: Readonly<Record<string, string>> = {
  guide: "tri-state-2020",
  crop: "soybean",
  yield: "55",
  rows: "12",
  "row-spacing-in": "30",
  cap: "150",
};

export function sourceOf(files: ReadonlyMap<string, Uint8Array>): FileSource {
  return {
    list: async () => [...files.keys()].sort(),
    read: async (path) => {
      const bytes = files.get(path);
      if (!bytes) throw new Error(`no ${path} among the test's files`);
      return bytes;
    },
  };
}

export const asList = (files: ReadonlyMap<string, Uint8Array>): { path: string; bytes: Uint8Array }[] =>
  [...files].map(([path, bytes]) => ({ path, bytes }));

export const smallPlan = (files = smallFarmFiles()): Plan =>
  newPlan("small farm", "2027-03-20", asList(files), ANSWERS).plan;

/** The plan with the hashes of other files of the same names, as if it had been made from them. */
export const madeFrom = (plan: Plan, files: ReadonlyMap<string, Uint8Array>): Plan => ({
  ...plan,
  sources: plan.sources.map((source) => ({ ...source, sha256: sha256Hex(files.get(source.path)!) })),
});

export const withFile = (
  files: ReadonlyMap<string, Uint8Array>,
  path: string,
  text: string,
): Map<string, Uint8Array> => new Map([...files, [path, utf8.encode(text)]]);
