import { newPlan, type Plan } from "../../src/plan/index.ts";
import { ANSWERS, asList, boundary, labCsv, SAMPLES, smallFarmFiles } from "./small-farm.ts";

/** Degrees that the second field lies further east: some 830 m. */
const EAST = 0.01;

const utf8 = new TextEncoder();

/** The small farm (invented) and its field again east of it, on ground of its own; bins that need filling on the way. */
export function fieldsApart(): { readonly plan: Plan; readonly files: ReadonlyMap<string, Uint8Array> } {
  const west = smallFarmFiles();
  const moved = (json: unknown) =>
    JSON.parse(JSON.stringify(json), (_, value) =>
      Array.isArray(value) && typeof value[0] === "number" ? [value[0] + EAST, value[1]] : value,
    );
  const own = (path: string) => JSON.parse(new TextDecoder().decode(west.get(path)!));
  const ring = own("boundary.geojson").features[0].geometry.coordinates[0];
  const samples = [0, EAST].flatMap((east, k) =>
    SAMPLES.map(([id, lon, lat, ...rest]) => [Number(id) + 100 * k, Number(lon) + east, lat!, ...rest]),
  );
  const json = (value: unknown) => utf8.encode(JSON.stringify(value));
  const files = new Map([
    ["boundary.geojson", west.get("boundary.geojson")!],
    ["east.geojson", json(moved(boundary(ring, "Far Forty")))],
    ["line.geojson", west.get("line.geojson")!],
    ["east-line.geojson", json(moved(own("line.geojson")))],
    ["lab.csv", utf8.encode(labCsv(samples))],
  ]);
  const { plan } = newPlan("two forties", "2027-03-20", asList(files), {
    ...ANSWERS,
    "yield.far-forty": "55",
    "yield.low-forty": "55",
  });
  return {
    files,
    plan: {
      ...plan,
      rig: {
        ...plan.rig,
        bins: plan.rig.bins.map((bin) => ({ ...bin, volumeFt3: 12 })),
        work: { mph: 6, hoursPerDay: 10 },
      },
    },
  };
}
