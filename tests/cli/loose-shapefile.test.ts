// A shapefile as its separate files, as they come on a stick: by name on the command line, dropped on the page.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type Dropped, recognise } from "../../app/src/engine/recognise.ts";
import { packShapefiles, readZip } from "../../src/formats/index.ts";
import { readInput } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";

const SAMPLE = "sample-data/single-field";
const zipped = new Uint8Array(readFileSync(`${SAMPLE}/boundary.zip`));
const parts = [...readZip(zipped, "boundary.zip").files];
const rest = ["guidance.geojson", "soil-tests.csv"];
const answers = {
  rows: "12",
  "row-spacing-in": "30",
  cap: "180",
  crop: "corn",
  yield: "200",
  guide: "tri-state-2020",
};
let base: string;

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "loose-test-"));
  for (const [path, bytes] of parts) writeFileSync(join(base, path), bytes);
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

it("the .shp alone brings its other parts into the plan's folder, as one zip", async () => {
  const given = Object.entries(answers).flatMap(([key, value]) => ["--answer", `${key}=${value}`]);
  const make = async (folder: string, boundary: string) => {
    const files = rest.map((name) => `${SAMPLE}/${name}`);
    const made = await cli("new", join(base, folder), boundary, ...files, ...given, "--json");
    expect(made.exit, made.error).toBe(0);
    return JSON.parse(made.out).plan;
  };
  const shp = parts.find(([path]) => path.endsWith(".shp"))![0];
  const loose = await make("loose", join(base, shp));
  const whole = await make("whole", `${SAMPLE}/boundary.zip`);
  const zip = shp.replace(".shp", ".zip");
  expect(loose.sources.map(({ path }: { path: string }) => path)).toEqual([zip, ...rest]);
  expect({ ...loose.fields[0], boundary: null }).toEqual({ ...whole.fields[0], boundary: null });
  const kept = readZip(new Uint8Array(readFileSync(join(base, "loose", zip))), "kept");
  expect(new Map([...kept.files])).toEqual(new Map(parts));
  expect((await cli("build", join(base, "loose"), "--out", join(base, "built"))).exit).toBe(0);
});

it("parts dropped on the page are one boundary", () => {
  const dropped = (files: readonly (readonly [string, Uint8Array])[]) =>
    recognise({ name: "farm", date: "2027-03-20", files, answers, joins: null } as Dropped);
  const others = rest.map((name) => [name, new Uint8Array(readFileSync(`${SAMPLE}/${name}`))] as const);
  const loose = dropped([...parts, ...others]);
  expect(loose.files).toHaveLength(3);
  expect(loose.plan.fields.map(({ name }) => name)).toEqual(
    dropped([["boundary.zip", zipped], ...others]).plan.fields.map(({ name }) => name),
  );
});

it("other files keep their place and bytes, and parts without their .shp are told", () => {
  const dbf = parts.find(([path]) => path.endsWith(".dbf"))!;
  expect(packShapefiles([["a.csv", dbf[1]], dbf])).toEqual([["a.csv", dbf[1]], dbf]);
  expect(() => readInput("fields.dbf", new Map([["fields.dbf", dbf[1]]]), {})).toThrow(
    expect.objectContaining({ code: "shapefile-part-alone", remedy: expect.stringContaining(".shp") }),
  );
});
