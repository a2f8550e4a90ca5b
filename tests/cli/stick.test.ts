import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { readTaskData, rereadShapefile } from "../../src/formats/index.ts";
import { type Plan, type PlanController, type RunResult, run, writePlan } from "../../src/plan/index.ts";
import {
  buildFiles,
  manifestPath,
  revisionLetter,
  type Stick,
  writeManifest,
} from "../../src/publish/index.ts";
import { planWithForms } from "../support/extra-forms.ts";
import { cli, cliWith } from "../support/in-process-cli.ts";
import { sheetCells } from "../support/sheet-cells.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const OFF = ["--answer", "zero-rate=off"] as const;
let base: string;
let dir: string;
let usb: string;
let first: ReadonlyMap<string, Uint8Array>;

const buildOf = (result: RunResult): Map<string, Uint8Array> =>
  buildFiles(result, "0.0.1", new Map([...smallFarmFiles(), ["plan.json", writePlan(result.plan)]]));

const forms = ["taskdata-4", "fallback", "kg-ha"] as const;
const planOf = (controller: PlanController, more: Partial<Plan> = {}): Plan => ({
  ...planWithForms(controller),
  extras: forms,
  ...more,
});
const build = async (controller: PlanController, more: Partial<Plan> = {}) =>
  buildOf(
    await run(planOf(controller, more), sourceOf(smallFarmFiles()), { answers: { "zero-rate": "off" } }),
  );

function put(folder: string, files: ReadonlyMap<string, Uint8Array>): void {
  rmSync(folder, { recursive: true, force: true });
  for (const [path, bytes] of files) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), bytes);
  }
}

beforeAll(async () => {
  base = mkdtempSync(join(tmpdir(), "stick-test-"));
  [dir, usb] = [join(base, "maps"), join(base, "usb")];
  first = await build({});
});
beforeEach(() => {
  put(dir, first);
  rmSync(`${dir}.stick.json`, { force: true });
  rmSync(usb, { recursive: true, force: true });
  mkdirSync(usb);
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

const paths = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
const stickJson = (): Stick => JSON.parse(readFileSync(join(usb, "stick.json"), "utf8"));
const stepsOf = (sheet: string): string[] =>
  [...(/Order to try:<\/b><ol>(.*?)<\/ol>/.exec(sheet)?.[1] ?? "").matchAll(/<li[^>]*>([^<]*)<\/li>/g)].map(
    ([, text]) => text!,
  );
const keysOf = (out: string): string[] => JSON.parse(out).questions.map(({ key }: { key: string }) => key);

describe("stick", () => {
  test("asks what a rate 0 does, then writes maps, fallbacks, tasks, sheet and manifest, and says what to do", async () => {
    const asked = await cli("stick", dir, "--to", usb, "--json");
    expect([asked.exit, keysOf(asked.out)]).toEqual([3, ["zero-rate"]]);
    expect(paths(usb)).toEqual([]);
    expect(existsSync(`${dir}.stick.json`)).toBe(false);

    const told = await cli("stick", dir, "--to", usb, ...OFF);
    expect(told).toMatchObject({ exit: 0, error: "" });
    expect(told.out).toContain("written and read back; eject before pulling it out; test-load today");
    const five = (name: string) => ["cpg", "dbf", "prj", "shp", "shx"].map((ending) => `${name}.${ending}`);
    expect(paths(usb)).toEqual(
      [
        "CAB_A.html",
        ...five("FALLBACK/LOWFORTY_L_1152F_A"),
        ...five("FALLBACK/LOWFORTY_R_0060F_A"),
        ...five("LOWFORTY_L_1152_A"),
        ...five("LOWFORTY_R_0060_A"),
        "TASKDATA/GRD00010.BIN",
        "TASKDATA/TASKDATA.XML",
        "manifest.json",
        "stick.json",
      ].sort(),
    );
    expect(readFileSync(join(usb, "LOWFORTY_L_1152_A.shp"))).toEqual(
      Buffer.from(first.get("prescriptions/strip/LOWFORTY_L_1152.shp")!),
    );
    const check = await cli("check", usb);
    expect(check.out).toContain("stick of the strip pass, revision A");
    // One way to count: what check says is what was written.
    const [count] = /\d+(?= files, same as written)/.exec(check.out)!;
    expect(told.out).toContain(`\n${count} files and their manifest written`);
    expect(paths(usb)).toHaveLength(Number(count) + 1);
  });

  test("a controller that must not get a rate 0 gets none: refused until a fallback with the small rate is built", async () => {
    const small = ["--answer", "zero-rate=small:5"] as const;
    const refused = await cli("stick", dir, "--to", usb, ...small, "--json");
    expect(JSON.parse(refused.out).error).toMatchObject({
      code: "zero-rate-not-built",
      message: expect.stringContaining("no fallback with 5 lb/ac there goes on the stick"),
    });
    expect(paths(usb)).toEqual([]);
    const withSmall = async (files: Promise<RunResult>): Promise<void> => put(dir, buildOf(await files));
    const answers = { "zero-rate": "small:5" };
    await withSmall(run(planOf({}), sourceOf(smallFarmFiles()), { answers }));
    const told = await cli("stick", dir, "--to", usb, ...small);
    expect(told.exit).toBe(0);
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).toMatch(
      /must not get one; what is to be loaded has none, least \d+ lb\/ac in bin L, 5 lb\/ac in bin R\./,
    );
    // The right bin's map has ground with 0: what is to be loaded stands in the table, with its own least rate.
    expect(told.out).toMatch(
      /FALLBACK\/LOWFORTY_R_0060F_A {2}Low Forty, bin R, 0-0-60, [\d,]+ lb, least 5 lb\/ac/,
    );
    expect(sheet).toMatch(
      /<td>FALLBACK\/LOWFORTY_R_0060F_A<\/td><td class="n">[\d,]+<\/td><td class="n">5<\/td>/,
    );
    expect(sheet).toMatch(/Least rate 11-52-0 \d+, 0-0-60 5 lb\/ac/);
    // The hole of the field is a polygon with 0 in the file: said, and counted among the file's acres.
    const field = (await run(planOf({}), sourceOf(smallFarmFiles()), { answers })).fields[0]!;
    const holesAc = field.extras.find(({ form }) => form === "fallback")!.holesAc ?? 0;
    const holes = holesAc.toFixed(1);
    const fileAc = (field.checked.areaAc + holesAc).toFixed(1);
    expect(holesAc).toBeGreaterThan(0.2);
    expect(sheet).toContain(
      `the file has ${fileAc} ac with the holes, which have rate 0, and the field ${field.checked.areaAc.toFixed(1)} ac;`,
    );
    expect(sheet).toContain("0-0-60 5 lb/ac outside the holes: can the meter do it?");
    expect(sheet).toMatch(
      new RegExp(`class="flag">(<[^>]*>)*Holes of the field, ${holes} ac, have rate 0 in`),
    );
    expect(told.out).toContain(`least 5 lb/ac, 0 in its holes (${holes} ac)`);
    expect(told.out).toContain("do not drive into one with the meters on");
    expect(sheet).toContain("Never load LOWFORTY_R_0060_A, LOWFORTY strip 11-52-0 0-0-60");
    const other = await cli("stick", dir, "--to", usb, "--answer", "zero-rate=small:8", "--json");
    expect(JSON.parse(other.out).error.code).toBe("zero-rate-not-built");
    await withSmall(run(planOf({}, { extras: ["kg-ha"] }), sourceOf(smallFarmFiles()), { answers }));
    const without = await cli("stick", dir, "--to", usb, ...small, "--json");
    expect(JSON.parse(without.out).error.code).toBe("zero-rate-not-built");
  });

  test("the plain fallback alone stands right in the controller's folder, beside maps in a folder of that one", async () => {
    const built = (loads: PlanController["loads"]) =>
      build({ zeroRate: "off", mostPolygons: 100, folder: "RX", loads: loads! });
    const shapes = () => paths(usb).filter((path) => path.endsWith(".shp"));
    put(dir, await built(["fallback"]));
    const alone = await cli("stick", dir, "--to", usb);
    expect(alone).toMatchObject({ exit: 0, error: "" });
    expect(shapes()).toEqual(["RX/LOWFORTY_L_1152F_A.shp", "RX/LOWFORTY_R_0060F_A.shp"]);
    expect(alone.out).toContain("  RX/LOWFORTY_L_1152F_A  Low Forty");
    expect(sheetCells(join(usb, "CAB_A.html"))).toContain("<td>RX/LOWFORTY_L_1152F_A</td>");
    rmSync(usb, { recursive: true });
    mkdirSync(usb);
    rmSync(`${dir}.stick.json`);
    put(dir, await built(["shapefile", "fallback"]));
    const both = await cli("stick", dir, "--to", usb);
    expect(shapes()).toEqual([
      "RX/FALLBACK/LOWFORTY_L_1152F_A.shp",
      "RX/FALLBACK/LOWFORTY_R_0060F_A.shp",
      "RX/LOWFORTY_L_1152_A.shp",
      "RX/LOWFORTY_R_0060_A.shp",
    ]);
    expect(both.out).toContain("  RX/FALLBACK/LOWFORTY_L_1152F_A  Low Forty");
    expect((await cli("check", usb)).exit).toBe(0);
  });

  test("puts the letter on the sheet: every name there is a file on the stick", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).toContain("Stick, revision A.");
    for (const name of ["LOWFORTY_L_1152_A", "LOWFORTY_R_0060_A"]) expect(sheet).toContain(name);
    expect(sheet).not.toMatch(/LOWFORTY_[LR]_(1152|0060)(?!F?_A)/);
    expect(sheet).not.toContain("LOWFORTY_BC");
    expect(sheet).toContain("Rate 0: the meter stops.");
    expect(stepsOf(sheet)).toEqual([
      "as above: the map",
      expect.stringMatching(
        /^FALLBACK\/LOWFORTY_L_1152F_A, FALLBACK\/LOWFORTY_R_0060F_A: the plain fallback/,
      ),
      "LOWFORTY strip 11-52-0 0-0-60: the task, in the folder TASKDATA",
      "the flat rate, by hand",
    ]);
  });

  test("written again it changes nothing; a changed map gets the next letter and the older one is listed", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    const before = readFileSync(join(usb, manifestPath), "utf8");
    await cli("stick", dir, "--to", usb, ...OFF);
    expect(readFileSync(join(usb, manifestPath), "utf8")).toBe(before);

    put(
      dir,
      await build({}, { split: { capLbPerAc: 120, capBasis: "field-mean", within: "first-11-52-0" } }),
    );
    const told = await cli(
      "stick",
      dir,
      "--to",
      usb,
      ...OFF,
      "--answer",
      "existing-taskdata=move-aside",
      "--json",
    );
    const json = JSON.parse(told.out);
    expect(json.revision).toBe("B");
    const changed = json.maps.filter(({ revision }: { revision: string }) => revision === "B");
    expect(changed.length).toBeGreaterThan(0);
    expect(json.olderMaps).toEqual(
      expect.arrayContaining(changed.map(({ name }: { name: string }) => `${name.slice(0, -2)}_A.shp`)),
    );
    expect(existsSync(join(usb, "CAB_B.html"))).toBe(true);
    expect((await cli("check", usb)).exit).toBe(0);
  });

  test("goes on from the letter on the stick when the record is lost", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    rmSync(`${dir}.stick.json`);
    put(dir, await build({}, { split: { capLbPerAc: 100, capBasis: "field-mean", within: "alike" } }));
    await cli("stick", dir, "--to", usb, ...OFF, "--answer", "existing-taskdata=move-aside");
    expect(stickJson().revision).toBe("B");
  });

  test("never overwrites an existing TASKDATA: asks, then moves it whole to a dated folder or lets it be", async () => {
    mkdirSync(join(usb, "Taskdata"));
    writeFileSync(join(usb, "Taskdata/TLG00003.BIN"), "a day of work");
    const asked = await cli("stick", dir, "--to", usb, "--json");
    expect([asked.exit, keysOf(asked.out)]).toEqual([3, ["zero-rate", "existing-taskdata"]]);
    expect(asked.out).toContain("1 of them logs");
    expect(paths(usb)).toEqual(["Taskdata/TLG00003.BIN"]);

    const kept = await cli("stick", dir, "--to", usb, ...OFF, "--answer", "existing-taskdata=keep");
    expect(kept.exit).toBe(0);
    expect(paths(usb).filter((path) => /taskdata/i.test(path))).toEqual(["Taskdata/TLG00003.BIN"]);

    const moved = await cli(
      "stick",
      dir,
      "--to",
      usb,
      ...OFF,
      "--answer",
      "existing-taskdata=move-aside",
      "--json",
    );
    const { movedTaskData } = JSON.parse(moved.out);
    expect(movedTaskData).toMatch(/^TASKDATA_20\d{6}$/);
    expect(readFileSync(join(usb, movedTaskData, "TLG00003.BIN"), "utf8")).toBe("a day of work");
    expect(paths(join(usb, "TASKDATA"))).toEqual(["GRD00010.BIN", "TASKDATA.XML"]);
    expect(readdirSync(usb).filter((name) => name.toUpperCase() === "TASKDATA")).toEqual(["TASKDATA"]);
  });

  test("does not write fields marked as loaded or done again without --reissue", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    const marked = await cli("stick", dir, "--mark", "low-forty=loaded");
    expect(marked.out).toContain("low-forty: loaded");
    const refused = await cli("stick", dir, "--to", usb, ...OFF, "--json");
    expect([refused.exit, JSON.parse(refused.out).error.code]).toEqual([2, "nothing-to-write"]);
    expect((await cli("stick", dir, "--to", usb, ...OFF, "--reissue")).exit).toBe(0);
    await cli("stick", dir, "--mark", "low-forty=open");
    expect((await cli("stick", dir, "--to", usb, ...OFF)).exit).toBe(0);
    expect((await cli("stick", dir, "--mark", "low-forty=gone")).exit).toBe(2);
    expect((await cli("stick", dir, "--mark", "nowhere=done")).exit).toBe(2);
  });

  test("names, folders and forms are as the controller takes them", async () => {
    put(
      dir,
      await build({
        zeroRate: "off",
        nameLength: 8,
        folder: "RX",
        oneMapAFolder: true,
        loads: ["shapefile"],
      }),
    );
    expect((await cli("stick", dir, "--to", usb)).exit).toBe(0);
    const names = stickJson().maps.map(({ name }) => name);
    expect(names).toEqual(["LOWFLA", "LOWFRA"]);
    for (const path of stickJson().maps.flatMap(({ files }) => files))
      expect(path).toMatch(/^RX\/(\w{1,8})\/\1\.\w{3}$/);
    expect(paths(usb).filter((path) => /FALLBACK|TASKDATA/.test(path))).toEqual([]);

    rmSync(usb, { recursive: true });
    mkdirSync(usb);
    put(dir, await build({ zeroRate: "no-data", loads: ["kg-ha"] }));
    await cli("stick", dir, "--to", usb);
    const files = paths(usb).filter((path) => path.includes("_L_"));
    expect(files.every((path) => path.startsWith("LOWFORTY_L_1152K_"))).toBe(true);
    const shapefile = new Map(files.map((path) => [path, new Uint8Array(readFileSync(join(usb, path)))]));
    expect(Object.keys((await rereadShapefile(shapefile))[0]!.properties)).toContain("RATE_KGHA");
    const sheet = sheetCells(join(usb, paths(usb).find((path) => path.startsWith("CAB"))!));
    expect(sheet).toContain("so the default rate must be 0");
    // A display that takes kg/ha for lb/ac lays 12 % too much.
    expect(sheet).toContain("Column <b>RATE_KGHA</b>, unit <b>kg/ha</b>");
    expect(sheet).not.toContain("RATE_LBAC");
    expect(sheet).not.toContain("Unit lb/ac");
    // lb/min = lb/ac x 30 ft x mph / 495, of the rate that stands there: 1 kg/ha is 0.892179 lb/ac.
    for (const product of ["11-52-0", "0-0-60"]) {
      const caught = new RegExp(`<td>${product} at (\\d+) kg/ha</td><td class="n">([\\d.]+) /`).exec(sheet)!;
      const [, kgHa, lbPerMinute] = caught.map(Number);
      expect(lbPerMinute).toBeCloseTo((kgHa! * 0.892179 * 30 * 5) / 495, 1);
    }
    expect(sheet).toMatch(/lb at 5 mph<\/th>.*caught, lb/);
    expect(sheet).toMatch(/the file has 20\.4 ac \(8\.2 ha\);/);
    const rates = (await rereadShapefile(shapefile)).map(({ properties }) => properties.RATE_KGHA as number);
    const name = stickJson().maps.find(({ bin }) => bin === "L")!.name;
    const row = new RegExp(`<td>${name}</td>((?:<td class="n">[^<]*</td>){5})`).exec(sheet)![1]!;
    const [, lb, kg] = /([\d,]+) \(([\d,]+)\)/.exec(row)!.map((text) => Number(text.replace(",", "")));
    expect(kg! / lb!).toBeCloseTo(0.45359, 3);
    const cells = [...row.matchAll(/>([^<]+)<\/td>/g)].map(([, text]) => Number(text!.replace(",", "")));
    expect(cells[1]).toBeCloseTo(Math.min(...rates), -0.1);
    expect(cells[3]).toBeCloseTo(Math.max(...rates), -0.1);
  });

  test("what the controller loads is built without being named among the extras", async () => {
    const { extras: _, ...plan } = planOf({ zeroRate: "off", loads: ["shapefile", "fallback"] });
    put(dir, buildOf(await run(plan, sourceOf(smallFarmFiles()))));
    expect((await cli("stick", dir, "--to", usb)).exit).toBe(0);
    expect(
      paths(usb)
        .filter((path) => path.endsWith(".shp"))
        .map((path) => path.split("/").length),
    ).toEqual([2, 2, 1, 1]);
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(stepsOf(sheet)[1]).toContain("the plain fallback");
    expect(sheet).not.toContain("the folder TASKDATA");
  });

  test("task data alone: command and sheet name the task, and nothing that is not on the stick", async () => {
    put(dir, await build({ zeroRate: "off", loads: ["taskdata-4"] }));
    const { out } = await cli("stick", dir, "--to", usb);
    expect(out).toContain("TASKDATA, task “LOWFORTY strip 11-52-0 0-0-60”");
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).toContain("<td>LOWFORTY strip 11-52-0 0-0-60</td>");
    expect(`${out}${sheet}`).not.toMatch(/LOWFORTY_|RATE_LBAC|FALLBACK/);
  });

  test("a map beyond what the controller takes comes behind its fallback", async () => {
    put(dir, await build({ zeroRate: "off", mostPolygons: 100, loads: ["shapefile", "fallback"] }));
    const { out } = await cli("stick", dir, "--to", usb);
    expect(out).toContain("  FALLBACK/LOWFORTY_L_1152F_A  Low Forty, bin L");
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).toContain("<td>FALLBACK/LOWFORTY_L_1152F_A</td>");
    expect(stepsOf(sheet)).toEqual([
      expect.stringContaining("the plain fallback"),
      expect.stringMatching(/: the map \(\d+ polygons, the controller takes 100\)$/),
      "the flat rate, by hand",
    ]);
  });

  test("the sheet has the folder on the stick, and names with check what else stands there", async () => {
    put(dir, await build({ zeroRate: "off", folder: "Rx", oneMapAFolder: true, loads: ["shapefile"] }));
    mkdirSync(join(usb, "TASKDATA"));
    writeFileSync(join(usb, "TASKDATA", "TASKDATA.XML"), "another's");
    const told = await cli("stick", dir, "--to", usb);
    const sheet = sheetCells(join(usb, "CAB_A.html"));
    expect(sheet).toContain("<td>Rx/LOWFORTY_L_1152_A/LOWFORTY_L_1152_A</td>");
    for (const text of [told.out, sheet, (await cli("check", usb)).out])
      expect(text).toContain("TASKDATA (1 file)");
  });

  test("stopped while it is written it says that the stick is incomplete, and writing it once more mends it", async () => {
    const stop = new AbortController();
    const look = setInterval(() => existsSync(join(usb, "manifest.new")) && stop.abort(), 0);
    const words = ["stick", dir, "--to", usb, ...OFF];
    const told = await cliWith(words, { signal: stop.signal }).finally(() => clearInterval(look));
    expect([told.exit, told.out]).toEqual([130, ""]);
    expect(told.error).toBe(
      `${usb} is incomplete: do not use it, write it once more.\nbermplan: interrupted\n`,
    );
    expect((await cli("check", usb)).error).toContain("is incomplete");
    expect((await cli(...words)).exit).toBe(0);
  });

  test("a stick in use is named as such", async () => {
    writeFileSync(
      join(usb, "stick.lock"),
      '{"lock":"bermplan","pid":1,"mark":"","host":"elsewhere","id":"a"}\n',
    );
    const { exit, error } = await cli("stick", dir, "--to", usb, ...OFF);
    expect([exit, error]).toEqual([
      2,
      expect.stringContaining(`${usb} is being written by process 1 on elsewhere`),
    ]);
  });

  test("a stick is for one machine", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    const other = await cli("stick", dir, "--to", usb, ...OFF, "--pass", "broadcast", "--json");
    expect(JSON.parse(other.out).error.code).toBe("other-machine");
    const second = join(base, "usb2");
    mkdirSync(second, { recursive: true });
    expect((await cli("stick", dir, "--to", second, ...OFF, "--pass", "broadcast")).exit).toBe(0);
    const set = new Map(
      paths(join(second, "TASKDATA")).map((path) => [
        `TASKDATA/${path}`,
        new Uint8Array(readFileSync(join(second, "TASKDATA", path))),
      ]),
    );
    expect(readTaskData(set, "set").tasks.map((task) => task.rates.map(({ product }) => product))).toEqual([
      ["11-52-0"],
      ["0-0-60"],
    ]);
  });

  test.each([
    ["a build that was changed", "not-as-written", () => writeFileSync(join(dir, "cab.html"), "x")],
    ["no build", "no-build", () => rmSync(join(dir, "manifest.json"))],
    ["no stick", "no-such-folder", () => rmSync(usb, { recursive: true })],
    [
      "a file of another under a name of ours",
      "file-in-the-way",
      () => writeFileSync(join(usb, "CAB_A.html"), "mine"),
    ],
    [
      "a manifest of something else",
      "file-in-the-way",
      () => writeFileSync(join(usb, "manifest.json"), "{}"),
    ],
    [
      "a build in the stick's folder",
      "file-in-the-way",
      () => {
        const files = new Map([["result.json", new TextEncoder().encode("{}")]]);
        put(
          usb,
          new Map([
            ...files,
            [manifestPath, writeManifest({ files, planSha256: "a".repeat(64), toolVersion: "1" })],
          ]),
        );
      },
    ],
    ["a damaged record", "stick-record-damaged", () => writeFileSync(`${dir}.stick.json`, "{")],
  ])("%s is refused in words and nothing is written", async (_, code, spoil) => {
    spoil();
    const before = existsSync(usb) ? paths(usb) : null;
    const told = await cli("stick", dir, "--to", usb, ...OFF, "--json");
    expect([told.exit, JSON.parse(told.out).error.code]).toEqual([2, code]);
    expect(existsSync(usb) ? paths(usb) : null).toEqual(before);
  });

  test("letters go on after Z", () => {
    expect([1, 2, 26, 27, 52, 53, 703].map(revisionLetter)).toEqual(["A", "B", "Z", "AA", "AZ", "BA", "AAA"]);
  });
});

describe("check on a stick", () => {
  test("finds changed and missing files, and passes over what stands beside the set", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    writeFileSync(join(usb, "notes.txt"), "mine");
    expect((await cli("check", usb)).out).toContain("1 other file beside them");
    rmSync(join(usb, "LOWFORTY_L_1152_A.shx"));
    const told = await cli("check", usb);
    expect(told).toMatchObject({ exit: 2, out: "" });
    expect(told.error).toContain("LOWFORTY_L_1152_A.shx: missing");
  });

  test("with the plan says when the stick is older than it", async () => {
    await cli("stick", dir, "--to", usb, ...OFF);
    const plan = join(base, "plan");
    put(plan, new Map([...smallFarmFiles(), ["plan.json", writePlan(planOf({}))]]));
    expect((await cli("check", usb, "--plan", plan)).exit).toBe(0);
    expect((await cli("check", dir, "--plan", join(plan, "plan.json"))).exit).toBe(0);
    writeFileSync(join(plan, "lab.csv"), "id,lon,lat\n");
    expect((await cli("check", usb, "--plan", plan)).error).toContain("older than the plan: lab.csv changed");
    put(plan, new Map([...smallFarmFiles(), ["plan.json", writePlan(planOf({ zeroRate: "off" }))]]));
    const older = await cli("check", usb, "--plan", plan, "--json");
    expect([older.exit, JSON.parse(older.out).error.code]).toEqual([2, "older-than-plan"]);
  });
});
