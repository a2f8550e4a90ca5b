// A plan made from the files people have: KML, zipped shapefiles, samples as points, places from another file.
import { describe, expect, it } from "vitest";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { writeZip } from "../../src/formats/index.ts";
import { newPlan, run } from "../../src/plan/index.ts";
import {
  ANSWERS,
  asList,
  boundary,
  labCsv,
  SAMPLES,
  smallFarmFiles,
  sourceOf,
  withFile,
} from "../support/small-farm.ts";

const utf8 = (text: string) => new TextEncoder().encode(text);
const make = (files: ReadonlyMap<string, Uint8Array>, answers: Record<string, string> = {}) =>
  newPlan("farm", "2027-03-20", asList(files), { ...ANSWERS, ...answers });
function questionsOf(files: ReadonlyMap<string, Uint8Array>, answers: Record<string, string> = {}): string[] {
  try {
    make(files, answers);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions.map(({ key }) => key);
    throw error;
  }
  return [];
}
function seenBy(files: ReadonlyMap<string, Uint8Array>): string {
  try {
    make(files);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions[0]!.seen;
    throw error;
  }
  return "";
}
const without = (path: string) => new Map([...smallFarmFiles()].filter(([one]) => one !== path));
const OUTER = "-93.5,42 -93.4965,42 -93.4965,42.0026 -93.4995,42.0027 -93.5,42.002 -93.5,42";

describe("a plan from other files", () => {
  it("takes boundary and line from one KML, and samples from points with attributes", async () => {
    const placemark = (name: string, shape: string) => `<Placemark><name>${name}</name>${shape}</Placemark>`;
    const ring = `<outerBoundaryIs><LinearRing><coordinates>${OUTER}</coordinates></LinearRing></outerBoundaryIs>`;
    const line = "<LineString><coordinates>-93.4982,42 -93.4982,42.0026</coordinates></LineString>";
    const kml = `<kml>${placemark("Low Forty", `<Polygon>${ring}</Polygon>`)}${placemark("A-B", line)}</kml>`;
    const points = SAMPLES.map(([id, lon, lat, p, k, cec]) => ({
      type: "Feature",
      properties: { id, "P M3 ppm": p, "K M3 ppm": k, CEC: cec },
      geometry: { type: "Point", coordinates: [lon, lat] },
    }));
    const files = new Map([
      ["farm.kmz", writeZip(new Map([["doc.kml", utf8(kml)]]), "2026-04-15")],
      ["samples.geojson", utf8(JSON.stringify({ type: "FeatureCollection", features: points }))],
    ]);
    const { plan } = make(files);
    expect(plan.sources.map(({ path, as }) => [path, as])).toEqual([
      ["farm.kmz", "boundary"],
      ["farm.kmz", "guidance"],
      ["samples.geojson", "samples"],
    ]);
    const result = await run(plan, sourceOf(files));
    expect(result.fields[0]!.checked.samples).toHaveLength(9);
    expect(result.fields[0]!.field.guidance.record).toBe(2);
  });

  it("asks for places that the lab table lacks, and takes them by id from a file beside it", async () => {
    const rows = SAMPLES.map(([id, , , ...rest]) => [id!, ...rest]);
    const bare = withFile(smallFarmFiles(), "lab.csv", labCsv(rows, "id,P M3 ppm,K M3 ppm,CEC"));
    expect(questionsOf(bare)).toEqual(["join-points"]);
    const places = SAMPLES.map(([id, lon, lat]) => [id!, lon!, lat!]);
    const files = withFile(bare, "points.csv", labCsv(places, "id,lon,lat"));
    expect(questionsOf(files, { "join-points": "other.csv" })).toEqual(["join-points"]);
    expect(make(files, { "join-points": "points.csv" }).plan.fields).toHaveLength(1);
    const named = new Map([...files].filter(([path]) => path !== "points.csv"));
    const { plan } = make(withFile(named, "points.geojson", JSON.stringify(pointsOf(places))), {
      "join-points": "points.geojson",
    });
    expect(plan.sources.find(({ as }) => as === "samples")!.answers).toEqual({
      "join-points": "points.geojson",
    });
    const result = await run(
      plan,
      sourceOf(withFile(named, "points.geojson", JSON.stringify(pointsOf(places)))),
    );
    expect(result.fields[0]!.checked.samples).toHaveLength(9);
    expect(plan.sources.map(({ path, as }) => [path, as])).toContainEqual(["points.geojson", "places"]);
    const moved = JSON.stringify(pointsOf(places.map(([id, lon, lat]) => [id!, lon!, Number(lat) + 1e-6])));
    const changed = run(plan, sourceOf(withFile(named, "points.geojson", moved)));
    await expect(changed).rejects.toMatchObject({
      questions: [{ key: "changed-file", seen: "points.geojson (nothing was answered)" }],
    });
  });

  it("keeps answers about shapes with the file, and works with them", async () => {
    const swapped = JSON.parse(
      JSON.stringify(boundary(OUTER.split(" ").map((pair) => pair.split(",").map(Number)))),
    ) as ReturnType<typeof boundary>;
    const { coordinates } = swapped.features[0]!.geometry;
    swapped.features[0]!.geometry.coordinates = coordinates.map((ring) =>
      ring.map(([lon, lat]) => [lat!, lon!]),
    );
    const files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(swapped));
    expect(questionsOf(files)).toEqual(["swap-lon-lat"]);
    const { plan } = make(files, { "swap-lon-lat": "yes" });
    expect(plan.sources[0]!.answers).toEqual({ "swap-lon-lat": "yes" });
    const right = await run(make(smallFarmFiles()).plan, sourceOf(smallFarmFiles()));
    const result = await run(plan, sourceOf(files));
    expect(result.fields[0]!.checked.areaAc).toBeCloseTo(right.fields[0]!.checked.areaAc, 9);
  });

  it("repairs a boundary when the answer says how, and else names what is wrong", async () => {
    const bowTie = [
      [-93.5, 42],
      [-93.4965, 42.0026],
      [-93.4965, 42],
      [-93.5, 42.0026],
      [-93.5, 42],
    ]; // prettier as one line
    const crossed = boundary(bowTie);
    crossed.features[0]!.geometry.coordinates.length = 1;
    const files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(crossed));
    expect(questionsOf(files)).toEqual(["repair-boundary"]);
    expect(seenBy(files)).toMatch(/crossing at .*non-zero .*ac.*even-odd .*ac/);
    const { plan } = make(files, { "repair-boundary": "non-zero" });
    const result = await run(plan, sourceOf(files));
    expect(result.fields[0]!.checked.boundary).toHaveLength(2);
  });

  it("does not ask on which side of Greenwich samples near a field lie", () => {
    const moved = (ring: readonly (readonly number[])[]) => ring.map(([lon, lat]) => [-lon!, lat!]);
    const outer = moved(OUTER.split(" ").map((pair) => pair.split(",").map(Number)));
    const east = boundary(outer);
    east.features[0]!.geometry.coordinates.length = 1;
    const line = {
      type: "LineString",
      coordinates: [
        [93.4982, 42],
        [93.4982, 42.0026],
      ],
    }; // prettier as one line
    const rows = SAMPLES.map(([id, lon, ...rest]) => [id!, -Number(lon), ...rest]);
    let files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(east));
    files = withFile(files, "line.geojson", JSON.stringify(line));
    expect(questionsOf(withFile(files, "lab.csv", labCsv(rows)))).toEqual([]);
    expect(questionsOf(withFile(smallFarmFiles(), "lab.csv", labCsv(rows)))).toEqual(["west-sign"]);
  });

  it("asks whether samples are the wrong way round where only so they lie near a field", async () => {
    // Latitude 42 under Longitude and longitude 16 under Latitude: both can be, and no field lies there.
    const moved = (ring: readonly (readonly number[])[]) => ring.map(([lon, lat]) => [lon! + 109.5, lat!]);
    const land = boundary(moved(OUTER.split(" ").map((pair) => pair.split(",").map(Number))));
    land.features[0]!.geometry.coordinates.length = 1;
    const line = {
      type: "LineString",
      coordinates: [
        [16.0018, 42],
        [16.0018, 42.0026],
      ],
    }; // prettier as one line
    const rows = SAMPLES.map(([id, lon, lat, ...rest]) => [
      id!,
      lat!,
      (Number(lon) + 109.5).toFixed(4),
      ...rest,
    ]);
    let files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(land));
    files = withFile(files, "line.geojson", JSON.stringify(line));
    files = withFile(files, "lab.csv", labCsv(rows));
    expect(questionsOf(files)).toEqual(["swap-lon-lat"]);
    expect(seenBy(files)).toMatch(/^lab\.csv, line 2: 42\.0004, 16\.0005 lies near no field/);
    const { plan } = make(files, { "swap-lon-lat": "yes" });
    const result = await run(plan, sourceOf(files));
    expect(result.fields[0]!.checked.samples).toHaveLength(SAMPLES.length);
    const asIs = make(files, { "swap-lon-lat": "no", "west-sign": "east" });
    expect(asIs.notices.map(({ code }) => code)).toContain("field-without-samples");
  });

  it("says what is missing where a file holds something else", () => {
    const files = new Map([
      ...without("lab.csv"),
      ["log.csv", utf8("Longitude,Latitude,Target_lb_ac,Applied_lb_ac\n-93,42,1,1\n")] as const,
    ]);
    expect(() => make(files)).toThrow(InputError);
    expect(() => make(files)).toThrow(/no soil samples/);
  });
});

const pointsOf = (rows: readonly (readonly (string | number)[])[]) => ({
  type: "FeatureCollection",
  features: rows.map(([id, lon, lat]) => ({
    type: "Feature",
    properties: { id },
    geometry: { type: "Point", coordinates: [lon, lat] },
  })),
});
