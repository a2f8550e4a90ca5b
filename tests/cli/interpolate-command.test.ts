// `bermplan interpolate` against the Meuse tables (R gstat 2.1-0; tests/data/meuse/README.md names source and licence),
// with the tolerances stated there: 1e-9, and for blocks 1e-6 of the standard deviation.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { chooseModel } from "../../src/interpolate/index.ts";
import {
  column,
  largestDifference,
  meuse,
  meuseModels,
  nestedModel,
  type Row,
  sd,
  table,
} from "../interpolate/tables.ts";
import { cli } from "../support/in-process-cli.ts";

const folder = mkdtempSync(join(tmpdir(), "interpolate-"));
afterAll(() => rmSync(folder, { recursive: true }));

const samples = meuse();
const targets = resolve(import.meta.dirname, "../data/meuse/predictions.csv");
const predictions = table("meuse/predictions.csv");
const models = meuseModels().set("avg", nestedModel(table("meuse/averaged_model.csv")));
const IDS = [...models.keys()];

function file(name: string, lines: readonly string[]): string {
  const path = join(folder, name);
  writeFileSync(path, `${lines.join("\n")}\n`);
  return path;
}

const lnZinc = file("ln-zinc.csv", [
  "id,x,y,z",
  ...Array.from(samples.value, (z, i) => `${i + 1},${samples.x[i]},${samples.y[i]},${z}`),
]);
const COLUMNS = ["--x", "x", "--y", "y", "--value", "z"] as const;

function json(id: string): string {
  const { nugget, structures, anisotropy: a } = models.get(id)!;
  return JSON.stringify({ nugget, structures, anisotropy: a && { angle: a.angleDeg, ratio: a.ratio } });
}

async function rowsOf(...words: string[]): Promise<Row[]> {
  const told = await cli("interpolate", ...COLUMNS, ...words);
  expect(told.error).toBe("");
  expect(told.exit).toBe(0);
  const [head, ...lines] = told.out.trimEnd().split("\r\n");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(head!.split(",").map((name, i) => [name, cells[i]!]));
  });
}

describe("interpolate --model", () => {
  it.each(IDS)("%s at points, and over blocks of 40 x 40", async (id) => {
    const point = await rowsOf("--samples", lnZinc, "--targets", targets, "--model", json(id));
    expect(Object.keys(point[0]!)).toEqual(["x", "y", "estimate", "variance"]);
    for (const axis of ["x", "y"]) expect(column(point, axis)).toEqual(column(predictions, axis));
    expect(largestDifference(column(point, "estimate"), column(predictions, `${id}_ok`))).toBeLessThan(1e-9);
    expect(largestDifference(column(point, "variance"), column(predictions, `${id}_ok_var`))).toBeLessThan(
      1e-9,
    );
    const block = await rowsOf(
      "--samples",
      lnZinc,
      "--targets",
      targets,
      "--model",
      json(id),
      "--block",
      "40x40",
    );
    const tolerance = 1e-6 * sd(samples.value);
    expect(largestDifference(column(block, "estimate"), column(predictions, `${id}_blk40`))).toBeLessThan(
      tolerance,
    );
    expect(largestDifference(column(block, "variance"), column(predictions, `${id}_blk40_var`))).toBeLessThan(
      tolerance,
    );
  });

  it("from the 24 nearest, with and without a block", async () => {
    const words = ["--samples", lnZinc, "--targets", targets, "--nearest", "24"];
    const turned = await rowsOf(...words, "--model", json("aniso"));
    expect(largestDifference(column(turned, "estimate"), column(predictions, "aniso_n24"))).toBeLessThan(
      1e-9,
    );
    const block = await rowsOf(...words, "--model", json("sph"), "--block=40x40");
    expect(largestDifference(column(block, "estimate"), column(predictions, "sph_blk40_n24"))).toBeLessThan(
      1e-6 * sd(samples.value),
    );
  });

  it.each(IDS)("--leave-one-out with %s", async (id) => {
    const loo = table("meuse/loo.csv");
    const rows = await rowsOf("--samples", lnZinc, "--leave-one-out", "--model", json(id));
    expect(Object.keys(rows[0]!)).toEqual(["x", "y", "observed", "estimate", "variance"]);
    expect(column(rows, "observed")).toEqual(samples.value);
    expect(largestDifference(column(rows, "estimate"), column(loo, `${id}_pred`))).toBeLessThan(1e-9);
    expect(largestDifference(column(rows, "variance"), column(loo, `${id}_var`))).toBeLessThan(1e-9);
  });

  it("--leave-one-out from the 24 nearest", async () => {
    const loo = table("meuse/loo.csv");
    const rows = await rowsOf("--samples", lnZinc, "--leave-one-out", "--nearest=24", "--model", json("sph"));
    expect(largestDifference(column(rows, "estimate"), column(loo, "sph_n24_pred"))).toBeLessThan(1e-9);
  });

  it("on samples, beside one and far outside; the estimate may leave the sampled range", async () => {
    const special = table("meuse/special_targets.csv");
    const path = resolve(import.meta.dirname, "../data/meuse/special_targets.csv");
    const rows = await rowsOf("--samples", lnZinc, "--targets", path, "--model", json("sph"));
    expect(largestDifference(column(rows, "estimate"), column(special, "ok"))).toBeLessThan(1e-9);
    const slope = file("slope.csv", ["x,y,z", "0,0,1", "1,0,2", "2,0,3", "3,0,4", "0,1,1", "3,1,4"]);
    const beyond = file("beyond.csv", ["y,x", "0,3.5", "0.0,-0.5"]);
    const smooth = '{"nugget":0,"structures":[{"type":"gaussian","partialSill":5,"range":2}]}';
    const out = await rowsOf("--samples", slope, "--targets", beyond, "--model", smooth);
    expect(out.map((row) => row.x)).toEqual(["3.5", "-0.5"]);
    expect(Number(out[0]!.estimate)).toBeGreaterThan(4);
    expect(Number(out[1]!.estimate)).toBeLessThan(1);
  });

  it("takes any unit of length: kilometres give what metres give", async () => {
    const thousandth = (v: number): number => v / 1000;
    const inKm = file("km.csv", [
      "x,y,z",
      ...Array.from(
        samples.value,
        (z, i) => `${thousandth(samples.x[i]!)},${thousandth(samples.y[i]!)},${z}`,
      ),
    ]);
    const model = models.get("mat13")!;
    const structures = model.structures.map((s) => ({ ...s, range: s.range / 1000 }));
    const rows = await rowsOf(
      "--samples",
      inKm,
      "--leave-one-out",
      "--model",
      JSON.stringify({ ...model, structures }),
    );
    expect(
      largestDifference(column(rows, "estimate"), column(table("meuse/loo.csv"), "mat13_pred")),
    ).toBeLessThan(1e-9);
  });
});

describe("interpolate --auto", () => {
  it("chooses the averaged model, and tells it with ten decisions on standard error", async () => {
    const told = await cli("interpolate", ...COLUMNS, "--samples", lnZinc, "--leave-one-out", "--auto");
    expect(told.exit).toBe(0);
    const { model } = chooseModel(samples);
    expect(told.error).toContain(`Model: ${JSON.stringify(model)}`);
    for (let step = 1; step <= 10; step++) expect(told.error).toMatch(new RegExp(`^${step}\\. \\S`, "m"));
    const quiet = await cli(
      "interpolate",
      ...COLUMNS,
      "--samples",
      lnZinc,
      "--leave-one-out",
      "--auto",
      "--quiet",
    );
    expect(quiet).toEqual({ ...told, error: "" });
  });

  it("says the same in JSON, and takes its own model back", async () => {
    const words = [...COLUMNS, "--samples", lnZinc, "--targets", targets, "--block", "40x40"];
    const told = await cli("interpolate", ...words, "--auto", "--json");
    const result = JSON.parse(told.out);
    expect(result.source).toBe("averaged");
    expect(result.decisions.map((d: { step: number }) => d.step)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(result.columns).toEqual(["x", "y", "estimate", "variance"]);
    const again = await cli("interpolate", ...words, "--model", JSON.stringify(result.model), "--json");
    expect(JSON.parse(again.out).rows).toEqual(result.rows);
  });

  it("leaves out rows without a value and repeats of a row, and says so", async () => {
    const rows = ["x,y,z", "0,0,5", "10,0,NA", "20,0,7", "0,0,5", "0,30,9", "40,40,", "60,10,4", "10,70,8"];
    const told = await cli(
      "interpolate",
      ...COLUMNS,
      "--samples",
      file("gaps.csv", rows),
      "--leave-one-out",
      "--auto",
    );
    expect(told.error).toContain("gaps.csv: lines 3, 7 left out: no value of z");
    expect(told.error).toContain("1. 5 samples of z used (1 at the place of another merged with it).");
    expect(told.out.trimEnd().split("\r\n")).toHaveLength(6);
  });
});

describe("interpolate reads numbers as a lab table has them", () => {
  it("takes half of what is below a limit, and says how many", async () => {
    const rows = (low: string) => ["x,y,z", `0,0,${low}`, "20,0,7", "0,30,9", "60,10,4", "10,70,>8"];
    const words = [...COLUMNS, "--leave-one-out", "--model", json("sph")];
    const told = await cli("interpolate", ...words, "--samples", file("low.csv", rows("<5")));
    expect(told.error).toContain(
      "low.csv: 2 values are outside what the lab can see: “<5” as 2.5, “>8” as 8",
    );
    const typed = file(
      "typed.csv",
      rows("2.5").map((row) => row.replace(">8", "8")),
    );
    expect(told.out).toBe((await cli("interpolate", ...words, "--samples", typed)).out);
  });

  it("reads decimal commas where every number can have one", async () => {
    const comma = file("comma.csv", ["x;y;z", "0;0;2,5", "20;0;7", "0;30;9", "60;10;4", "10;70;8"]);
    const point = file("point.csv", ["x,y,z", "0,0,2.5", "20,0,7", "0,30,9", "60,10,4", "10,70,8"]);
    const words = [...COLUMNS, "--leave-one-out", "--model", json("sph")];
    const [one, other] = [
      await cli("interpolate", ...words, "--samples", comma),
      await cli("interpolate", ...words, "--samples", point),
    ];
    expect([one.exit, one.out]).toEqual([0, other.out]);
  });
});

describe("interpolate refuses", () => {
  const model = json("sph");
  const all = [...COLUMNS, "--samples", lnZinc];
  it.each([
    ["no samples", [...COLUMNS, "--leave-one-out", "--model", model], "--samples"],
    ["no heading", ["--samples", lnZinc, "--x", "x", "--y", "y", "--leave-one-out", "--auto"], "--value"],
    ["neither targets nor leave-one-out", [...all, "--model", model], "--targets FILE"],
    ["both of them", [...all, "--targets", targets, "--leave-one-out", "--auto"], "--targets FILE"],
    ["neither model nor auto", [...all, "--leave-one-out"], "--auto"],
    ["both of those", [...all, "--leave-one-out", "--auto", "--model", model], "--auto"],
    ["a block of a sample left out", [...all, "--leave-one-out", "--auto", "--block", "4x4"], "--block"],
    ["a block that is none", [...all, "--targets", targets, "--auto", "--block", "40"], "--block 40"],
    ["a count that is none", [...all, "--targets", targets, "--auto", "--nearest", "2.5"], "--nearest 2.5"],
    [
      "an unknown heading",
      [...all, "--value=zn", "--leave-one-out", "--auto"].filter((w) => w !== "--value" && w !== "z"),
      '"zn"',
    ],
    ["a model that is no JSON", [...all, "--leave-one-out", "--model", "{nugget:1}"], "JSON"],
    [
      "a model with an unknown key",
      [...all, "--leave-one-out", "--model", '{"nugget":1,"structures":[],"sill":2}'],
      "sill",
    ],
    [
      "a negative nugget",
      [...all, "--leave-one-out", "--model", '{"nugget":-1,"structures":[]}'],
      "nugget -1",
    ],
    [
      "a cell that is no number",
      [...COLUMNS, "--samples", file("odd.csv", ["x,y,z", "1,2,3", "1,b,4"]), "--leave-one-out", "--auto"],
      "odd.csv, line 3",
    ],
    [
      "two values at one place",
      [
        ...COLUMNS,
        "--samples",
        file("twice.csv", ["x,y,z", "1,2,3", "1,2,4"]),
        "--leave-one-out",
        "--model",
        model,
      ],
      "samples 1 and 2",
    ],
    [
      "a file that is not there",
      [...COLUMNS, "--samples", "nowhere.csv", "--leave-one-out", "--auto"],
      "nowhere.csv",
    ],
  ])("%s", async (_, words, named) => {
    const told = await cli("interpolate", ...words);
    expect(told.exit).toBe(2);
    expect(told.out).toBe("");
    expect(told.error).toContain(named);
  });
});
