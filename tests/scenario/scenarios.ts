import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Feature, readCsv, type Table } from "../../src/formats/index.ts";
import { fieldFrame, frameCentre, type MultiPolygon, type Point } from "../../src/geo/index.ts";
import { PlanDocument } from "../../src/plan/document/document.ts";
import type { Plan } from "../../src/plan/document/document-types.ts";
import { generate, readSeed, type Scenario, type Seed } from "../../src/scenario/index.ts";
import { readGeoJson, readShapefileZip } from "../support/read-layers.ts";

export const SCENARIOS = ["single-field", "home-farm"] as const;
export type ScenarioName = (typeof SCENARIOS)[number];

const root = join(import.meta.dirname, "../..");
const generated = new Map<ScenarioName, Scenario>();

export function seedOf(name: ScenarioName): Seed {
  return readSeed(readFileSync(join(root, "seeds", `${name}.json`), "utf8"), `seeds/${name}.json`);
}

export function scenarioOf(name: ScenarioName): Scenario {
  const scenario = generated.get(name) ?? generate(seedOf(name));
  generated.set(name, scenario);
  return scenario;
}

/** The folder as it is committed. */
export function committed(name: ScenarioName): Map<string, Uint8Array> {
  const folder = join(root, "sample-data", name);
  return new Map(readdirSync(folder).map((file) => [file, new Uint8Array(readFileSync(join(folder, file)))]));
}

export interface ReadField {
  readonly id: string;
  readonly name: string;
  readonly lonLat: MultiPolygon;
  /** In the field's own plane, m. */
  readonly plane: MultiPolygon;
  readonly toPlane: (lonLat: Point) => Point;
  readonly line: readonly Point[];
  readonly samplesPath: string;
}

export interface ReadScenario {
  readonly plan: Plan;
  readonly boundary: readonly Feature[];
  readonly fields: readonly ReadField[];
  readonly tables: ReadonlyMap<string, Table>;
}

/** A scenario as the plan and the committed files say it, read with the readers a user's files go through. */
export function readScenario(name: ScenarioName): ReadScenario {
  const files = committed(name);
  const plan = PlanDocument.parse(JSON.parse(new TextDecoder().decode(files.get("plan.json"))));
  const boundary = readShapefileZip(files.get("boundary.zip")!, "boundary.zip")[0]!.features;
  const guidance = readGeoJson(files.get("guidance.geojson")!, "guidance.geojson").features;
  const fields = plan.fields.map((field): ReadField => {
    const lonLat = field.boundary.flatMap(({ record }) => {
      const { geometry } = boundary.find((feature) => feature.record === record)!;
      return geometry?.kind === "polygon" ? geometry.polygons : [];
    });
    const frame = fieldFrame(...frameCentre(lonLat));
    const line = guidance.find((feature) => feature.record === field.guidance.record)!.geometry;
    return {
      id: field.id,
      name: field.name,
      lonLat,
      plane: lonLat.map((polygon) => polygon.map((ring) => ring.map((point) => frame.toPlane(point)))),
      toPlane: frame.toPlane,
      line: line?.kind === "line" ? line.parts[0]! : [],
      samplesPath: field.samples!,
    };
  });
  const tables = new Map(
    plan.sources
      .filter((source) => source.as === "samples")
      .map(({ path }) => [path, readCsv(files.get(path)!, path)]),
  );
  return { plan, boundary, fields, tables };
}

export interface ReadSample {
  readonly field: string;
  readonly lonLat: Point;
  readonly p: number;
  readonly k: number;
  readonly cec: number;
}

/** The rows of every laboratory's table. */
export function samplesOf({ tables }: ReadScenario): ReadSample[] {
  return [...tables.values()].flatMap(({ headings, rows }) => {
    const at = (start: string): number => headings.findIndex((heading) => heading.startsWith(start));
    const [lon, lat, p, k, cec, field] = ["Lon", "Lat", "P ", "K ", "CEC", "Field"].map(at) as number[];
    return rows.map(({ cells }) => ({
      field: cells[field!]!,
      lonLat: [Number(cells[lon!]), Number(cells[lat!])] as const,
      p: Number(cells[p!]),
      k: Number(cells[k!]),
      cec: Number(cells[cec!]),
    }));
  });
}
