import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeZip } from "../../src/formats/index.ts";
import { ellipsoidArea } from "../../src/geo/index.ts";
import { acres } from "../../src/units/index.ts";
import { cli, cliWith } from "../support/in-process-cli.ts";
import { readGeoJson } from "../support/read-layers.ts";
import { ANSWERS, smallFarmFiles } from "../support/small-farm.ts";

let base: string;
let inputs: string[];
const at = (...parts: string[]) => join(base, ...parts);
const answers = Object.entries(ANSWERS).flatMap(([key, value]) => ["--answer", `${key}=${value}`]);

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
}

beforeAll(async () => {
  base = mkdtempSync(join(tmpdir(), "build-test-"));
  inputs = [...smallFarmFiles()].map(([name, bytes]) => {
    writeFileSync(at(name), bytes);
    return at(name);
  });
  const made = await cli("new", at("farm"), ...inputs, ...answers);
  expect(made.exit).toBe(0);
  const built = await cli("build", at("farm"), "--out", at("out"));
  expect(built.error).not.toMatch(/bermplan:/);
  expect(built.exit).toBe(0);
});

afterAll(() => rmSync(base, { recursive: true, force: true }));

const result = () => JSON.parse(readFileSync(at("out", "result.json"), "utf8"));

describe("new", () => {
  it("asks on exit 3, in words or as JSON, and writes nothing", async () => {
    const asked = await cli("new", at("asked"), ...inputs, "--json");
    expect(asked.exit).toBe(3);
    const { questions } = JSON.parse(asked.out);
    expect(questions.map((one: { key: string }) => one.key)).toEqual([
      "rows",
      "row-spacing-in",
      "cap",
      "crop",
      "yield",
      "guide",
    ]);
    expect(questions[3]).toEqual({
      key: "crop",
      text: "Which crop follows?",
      choices: ["corn", "soybean", "wheat"],
      seen: "not answered",
    });
    expect(readdirSync(base)).not.toContain("asked");
  });

  it("refuses an unknown answer key, and ignores a known one that nobody asked", async () => {
    const unknown = await cli("new", at("asked"), ...inputs, ...answers, "--answer", "gide=x");
    expect(unknown.exit).toBe(2);
    expect(unknown.error).toMatch(/gide/);
    const known = await cli("new", at("known"), ...inputs, ...answers, "--answer", "method.P=olsen");
    expect(known.exit).toBe(0);
    expect(readFileSync(at("known", "plan.json"), "utf8")).not.toMatch(/"method": "olsen"/);
  });

  it("does not replace a plan unasked", async () => {
    const again = await cli("new", at("farm"), ...inputs, ...answers);
    expect(again.exit).toBe(2);
    expect(again.error).toMatch(/plan\.json is there already/);
  });

  it("names a file that is not there", async () => {
    const missing = await cli("new", at("asked"), at("nowhere.csv"), ...inputs, ...answers);
    expect(missing.exit).toBe(2);
    expect(missing.error).toMatch(/nowhere\.csv/);
  });
});

describe("build", () => {
  it("prints what a manager orders by: acres, pounds, tons, low, mean and high rates, where the files are", async () => {
    const built = await cli("build", at("farm"), "--out", at("out"), "--overwrite");
    expect(built.out).toMatch(/farm, season \d{4}: 20\.\d ac/);
    expect(built.out).toMatch(/product +pass +acres +lb +tons +lb\/ac low +mean +high/);
    expect(built.out).toMatch(/11-52-0 +strip +20\.\d +[\d,]+ +\d\.\d\d/);
    expect(built.out).toMatch(/P2O5 +[\d,]+/);
    expect(built.out).toContain(`Files in ${at("out")}:`);
  });

  it("gives equal bytes twice, and from a zip of the folder", async () => {
    const zipped = new Map(
      filesIn(at("farm")).map((path) => [`farm/${path}`, readFileSync(at("farm", path))]),
    );
    writeFileSync(at("farm.zip"), writeZip(zipped, "2027-03-20"));
    expect((await cli("build", at("farm.zip"), "--out", at("out-zip"))).exit).toBe(0);
    expect((await cli("build", at("farm", "plan.json"), "--out", at("out-two"))).exit).toBe(0);
    expect(filesIn(at("out-zip"))).toEqual(filesIn(at("out")));
    for (const path of filesIn(at("out"))) {
      const bytes = readFileSync(at("out", path));
      expect(Buffer.compare(bytes, readFileSync(at("out-zip", path)))).toBe(0);
      expect(Buffer.compare(bytes, readFileSync(at("out-two", path)))).toBe(0);
    }
  });

  it("result.json: one entry a file, every pound in the files, products by analysis", () => {
    const { prescriptions, totals, fields, format, incomplete } = result();
    expect(format).toBe("result/1");
    expect(incomplete).toBe("");
    expect(prescriptions).toHaveLength(3);
    const listed = prescriptions.flatMap((one: { files: { path: string }[] }) =>
      one.files.map((file) => file.path),
    );
    expect(listed).toHaveLength(18);
    expect(new Set(listed).size).toBe(18);
    expect(filesIn(at("out")).filter((path) => path.startsWith("prescriptions/"))).toEqual(listed.toSorted());
    for (const one of prescriptions) {
      const path = one.files.find((file: { format: string }) => file.format === "geojson").path;
      const { features } = readGeoJson(readFileSync(at("out", path)), path);
      const lb = features.map(({ geometry, properties }) =>
        geometry?.kind === "polygon"
          ? acres(ellipsoidArea(geometry.polygons)) * Number(properties.RATE_LBAC)
          : Number.NaN,
      );
      const sum = lb.reduce((total, part) => total + part, 0);
      expect(Math.abs(sum - one.totalLb)).toBeLessThan(1e-5 * one.totalLb + 1e-9);
      expect(one.polygons).toBe(features.length);
      expect(one.meanLbPerAc * one.areaAc).toBeCloseTo(one.totalLb, 6);
    }
    for (const product of ["11-52-0", "0-0-60"]) {
      const all = prescriptions.filter((one: { product: string }) => one.product === product);
      const lb = all.reduce((sum: number, one: { totalLb: number }) => sum + one.totalLb, 0);
      const total = totals.find(
        (one: { product: string; pass: string }) => one.product === product && one.pass === "all",
      );
      expect(total.lb).toBeCloseTo(lb, 6);
      expect(total.tons).toBeCloseTo(lb / 2_000, 9);
    }
    for (const balance of fields[0].balance) {
      const { needLb, stripLb, broadcastLb, creditsLb, shortageLb, excessLb } = balance;
      expect(Math.abs(stripLb + broadcastLb + creditsLb + shortageLb - excessLb - needLb)).toBeLessThan(
        0.001 * needLb,
      );
    }
  });

  it("cells.csv: the columns promised, one row a cell, the field's acres", () => {
    const [headings, ...rows] = readFileSync(at("out", "fields/low-forty/cells.csv"), "utf8")
      .trim()
      .split("\r\n");
    expect(headings).toBe(
      "lon,lat,areaM2,p,k,cec,needP2O5LbPerAc,needK2OLbPerAc," +
        "strip11-52-0LbPerAc,broadcast11-52-0LbPerAc,strip0-0-60LbPerAc,broadcast0-0-60LbPerAc",
    );
    const area = rows.reduce((sum, row) => sum + Number(row.split(",")[2]), 0);
    expect(acres(area)).toBeCloseTo(result().fields[0].areaAc, 4);
  });

  it("wants a folder to write into, and knows the fields it is asked for", async () => {
    expect((await cli("build", at("farm"))).error).toMatch(/--out DIR/);
    const none = await cli("build", at("farm"), "--out", at("x"), "--field", "high-forty", "--json");
    expect(none.exit).toBe(2);
    expect(JSON.parse(none.out).error).toEqual({
      code: "no-such-field",
      message: "The plan has no field “high-forty”.",
      remedy: "Name one of: low-forty.",
    });
  });

  it("leaves a folder with a stranger's file alone and names it", async () => {
    writeFileSync(at("out", "notes.txt"), "mine");
    const built = await cli("build", at("farm"), "--out", at("out"), "--overwrite");
    rmSync(at("out", "notes.txt"));
    expect(built.exit).toBe(2);
    expect(built.error).toMatch(/notes\.txt/);
    expect((await cli("check", at("out"))).exit).toBe(0);
  });

  it("writes the good fields, names the bad one, says so in every total, and exits 4", async () => {
    const path = at("farm", "plan.json");
    const plan = JSON.parse(readFileSync(path, "utf8"));
    const bad = {
      ...plan.fields[0],
      id: "ghost",
      name: "Ghost",
      boundary: [{ source: "boundary.geojson", record: 9 }],
    };
    writeFileSync(path, JSON.stringify({ ...plan, fields: [...plan.fields, bad] }));
    const built = await cli("build", at("farm"), "--out", at("out-partly"));
    const alone = await cli("build", at("farm"), "--out", at("out-none"), "--field", "ghost");
    writeFileSync(path, JSON.stringify(plan, null, 2));
    expect(built.exit).toBe(4);
    expect(built.out).toContain("incomplete: 1 of 2 fields");
    expect(built.out).toContain("Not worked out: ghost. boundary.geojson: no record 9; the last is 1.");
    const written = JSON.parse(readFileSync(at("out-partly", "result.json"), "utf8"));
    expect(written.incomplete).toBe("1 of 2 fields");
    expect(written.refused).toHaveLength(1);
    expect(readFileSync(at("out-partly", "order.csv"), "utf8")).toContain("incomplete: 1 of 2 fields");
    expect((await cli("check", at("out-partly"))).exit).toBe(0);
    expect(alone.exit).toBe(2);
    expect(readdirSync(base).filter((name) => name.startsWith("out-none"))).toEqual([]);
  });

  it("a missing source file: exit 2, the file named, nothing written", async () => {
    rmSync(at("known", "lab.csv"));
    const built = await cli("build", at("known"), "--out", at("out-known"));
    expect(built.exit).toBe(2);
    expect(built.error).toMatch(/lab\.csv/);
    expect(readdirSync(base).filter((name) => name.startsWith("out-known"))).toEqual([]);
  });
});

describe("Ctrl-C", () => {
  it("leaves the folder as it was, and says so", async () => {
    const before = readFileSync(at("out", "manifest.json"), "utf8");
    const words = ["build", at("farm"), "--out", at("out"), "--overwrite"];
    const told = await cliWith(words, { signal: AbortSignal.abort() });
    expect([told.exit, told.out]).toEqual([130, ""]);
    expect(told.error).toBe(`${at("out")} is as it was before.\nbermplan: interrupted\n`);
    expect(readFileSync(at("out", "manifest.json"), "utf8")).toBe(before);
  });
});

describe("check", () => {
  it("finds one byte flipped in any written file and names it", async () => {
    expect((await cli("check", at("out"))).exit).toBe(0);
    const paths = filesIn(at("out"));
    expect(paths.length).toBeGreaterThan(25);
    for (const path of paths) {
      const bytes = readFileSync(at("out", path));
      const flipped = Uint8Array.from(bytes);
      flipped[Math.floor(bytes.length / 2)]! ^= 1;
      writeFileSync(at("out", path), flipped);
      const checked = await cli("check", at("out"));
      expect([path, checked.exit]).toEqual([path, 2]);
      expect(checked.error).toContain(path);
      writeFileSync(at("out", path), bytes);
    }
    expect((await cli("check", at("out"))).exit).toBe(0);
  });
});
