// Catch-up maps beside the planned broadcast maps whose place they take, where the controller's names are short.
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { run, writePlan } from "../../src/plan/index.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "catch-up-stick-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const [folder, out, catchUp, usb] = ["spring", "maps", "catch-up", "usb"].map((name) => join(base, name)) as [
  string,
  string,
  string,
  string,
];
const controller = {
  nameLength: 8,
  folder: "RX",
  zeroRate: "off",
  loads: ["shapefile", "taskdata-4"],
} as const;
let applied: Awaited<ReturnType<typeof cli>>;

beforeAll(async () => {
  for (const path of [folder, usb]) mkdirSync(path);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  const plan = { ...seasonPlanDocument(), controller };
  writeFileSync(join(folder, "plan.json"), writePlan(plan));
  expect((await cli("build", folder, "--out", out, "--quiet")).exit).toBe(0);
  const result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
  const logs = ["11-52-0", "0-0-60"].flatMap((product, bin) => {
    const path = join(base, `${product}.csv`);
    writeFileSync(path, logCsv(driveField(plan, result.fields[0]!, bin, { skips: [9] }), "DRY"));
    return ["--log", `${product}=${path}`];
  });
  applied = await cli("applied", folder, ...logs, "--out", catchUp);
  expect(applied.exit, applied.error).toBe(0);
});

/** The names that planned maps have on a stick, without the letter of the revision. */
const BEGIN = "LOWFBR";

describe("catch-up maps and a spreader's stick of short names", () => {
  test("applied tells the planned maps by the names that stick and display show, and the task", () => {
    expect(applied.out).toContain(
      `LOWFORTY_BC_0060, in any form, and the task “LOWFORTY broadcast 0-0-60” from stick and display before the catch-up map goes there; on a stick and the display their names begin with ${BEGIN}.`,
    );
    expect(applied.out).toContain(
      "This controller takes names of 8 letters: give all files of a map one shorter name, no two maps the same, and write down which is which.\nPut them in its folder RX.",
    );
    expect(applied.out).toContain(
      "by hand from prescriptions/broadcast onto an empty stick; delete the planned maps",
    );
  });

  test("no stick is written of the catch-up folder, for either machine: what to do instead is said", async () => {
    for (const pass of ["strip", "broadcast"]) {
      const told = await cli("stick", catchUp, "--to", usb, "--pass", pass);
      expect(told.exit).toBe(2);
      expect(told.error).toContain(
        `Copy the files of ${catchUp}/prescriptions/broadcast by hand onto an empty stick`,
      );
      expect(told.error).toContain(
        `LOWFORTY_BC_0060, in any form: delete those from the display first; on a stick and the display their names begin with`,
      );
      expect(told.error).toContain(BEGIN);
    }
    expect(readdirSync(usb)).toEqual([]);
  });

  test("check refuses a stick that holds both, and stick writes no planned map beside them", async () => {
    const written = await cli("stick", out, "--to", usb, "--pass", "broadcast");
    expect(written.exit, written.error).toBe(0);
    expect(readdirSync(join(usb, "RX"))).toContain(`${BEGIN}A.shp`);
    expect((await cli("check", usb)).exit).toBe(0);
    const maps = join(catchUp, "prescriptions/broadcast");
    for (const name of readdirSync(maps)) copyFileSync(join(maps, name), join(usb, "RX", name));
    const pair = `RX/LOWFORTY_CU_0060.shp takes the place of RX/${BEGIN}A.shp`;
    const both = await cli("check", usb);
    expect([both.exit, both.error.includes(pair)]).toEqual([2, true]);
    const before = readFileSync(join(usb, "manifest.json"));
    const again = await cli("stick", out, "--to", usb, "--pass", "broadcast", "--reissue");
    expect([again.exit, again.error.includes(pair)]).toEqual([2, true]);
    expect(readFileSync(join(usb, "manifest.json"))).toEqual(before);
  });

  test.each(["F", "K"])("nor beside a catch-up map in another form, whose name ends in %s", async (mark) => {
    const other = join(base, `usb ${mark}`);
    mkdirSync(other);
    expect((await cli("stick", out, "--to", other, "--pass", "broadcast", "--reissue")).exit).toBe(0);
    const planned = readdirSync(join(other, "RX")).find((name) => name.endsWith(".shp"));
    const maps = join(catchUp, "prescriptions/broadcast");
    for (const name of readdirSync(maps))
      copyFileSync(join(maps, name), join(other, "RX", name.replace(".", `${mark}.`)));
    const pair = `RX/LOWFORTY_CU_0060${mark}.shp takes the place of RX/${planned}`;
    const both = await cli("check", other);
    expect([both.exit, both.error.includes(pair)]).toEqual([2, true]);
    const again = await cli("stick", out, "--to", other, "--pass", "broadcast", "--reissue");
    expect([again.exit, again.error.includes(pair)]).toEqual([2, true]);
  });
});

test("the catch-up of another field on the spreader's stick is to be loaded for that field", async () => {
  const other = join(base, "other field");
  mkdirSync(join(other, "RX"), { recursive: true });
  for (const path of ["TRIX_CU_0060.shp", "RX/TRIX_CU_1152.shp"]) {
    for (const ending of ["shp", "dbf"])
      writeFileSync(join(other, path.replace(/shp$/, ending)), "of another field");
  }
  writeFileSync(join(other, "notes.txt"), "x");
  const told = await cli("stick", out, "--to", other, "--pass", "broadcast");
  expect(told.exit, told.error).toBe(0);
  expect(told.out).toContain(
    "Not of this set: catch-up maps, each to be loaded for its own field:\n  RX/TRIX_CU_1152.shp\n  TRIX_CU_0060.shp",
  );
  expect(told.out).toContain("Not of this set, and not to be loaded:\n  notes.txt");
  expect(told.out).not.toMatch(/not to be loaded:[^:]*_CU_/);
  const sheet = readFileSync(join(other, "CAB_A.html"), "utf8");
  expect(sheet).toContain("do not load: notes.txt.");
  expect(sheet).toContain("each to be loaded for its own field: RX/TRIX_CU_1152.shp, TRIX_CU_0060.shp.");
  const checked = await cli("check", other);
  expect(checked.out).toMatch(
    /not to be loaded: notes\.txt; catch-up maps, each to be loaded for its own field: RX\/TRIX_CU_1152\.shp, TRIX_CU_0060\.shp/,
  );
});

test("without planned broadcast maps nothing is said of deleting any", async () => {
  const own = join(base, "strip alone");
  mkdirSync(own);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(own, path), bytes);
  const plan = seasonPlanDocument();
  const fields = plan.fields.map((field) => ({ ...field, broadcast: "none" as const }));
  writeFileSync(join(own, "plan.json"), writePlan({ ...plan, fields }));
  const logs = ["11-52-0", "0-0-60"].flatMap((product) => ["--log", `${product}=${join(base, product)}.csv`]);
  const told = await cli("applied", own, ...logs, "--out", join(base, "catch-up alone"));
  expect(told.exit, told.error).toBe(0);
  expect(told.out).toMatch(/\d catch-up maps? in .*, to be copied by hand .* onto an empty stick\.\n?$/);
  expect(told.out).not.toMatch(/delete|takes the place/i);
});
