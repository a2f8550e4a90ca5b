import {
  cpSync,
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
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writeStick } from "../../src/cli/write-stick.ts";
import { afterDeath, Crash, type CrashPoint, crashingDisk } from "../support/crashing-disk.ts";
import { contents, textsOf } from "../support/folder-contents.ts";
import { cli } from "../support/in-process-cli.ts";
import { smallSet } from "../support/small-set.ts";

// Invented content; what counts is which files stand there.
const stick = (revision: string) => JSON.stringify({ format: "stick/1", pass: "strip", revision, maps: [] });
const oldSet = smallSet({
  "stick.json": stick("A"),
  "RX/KETTLE_L_1152_A.shp": "old shape",
  "RX/KETTLE_R_0060_A.shp": "same shape",
  "TASKDATA/TASKDATA.XML": "old tasks",
});
const newSet = smallSet({
  "stick.json": stick("B"),
  "RX/KETTLE_L_1152_B.shp": "a new shape, longer than the old one",
  "RX/KETTLE_R_0060_A.shp": "same shape",
  "TASKDATA/TASKDATA.XML": "new tasks, more of them",
  "TASKDATA/GRD00010.BIN": "new grid",
});
const foreign = { "TASKDATA/TLG00001.BIN": "hours of work", "photos/pond.txt": "not ours" };

let base: string;
let root: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "stick-crash-"));
  root = join(base, "stick");
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

type Start = "an empty stick" | "an older set, logs among its task data";

function begin(start: Start): void {
  rmSync(root, { recursive: true, force: true });
  mkdirSync(root);
  const before = start === "an empty stick" ? {} : { ...textsOf(oldSet), ...foreign };
  for (const [path, text] of Object.entries<string>(before)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
}

const moveTo = (start: Start) => (start === "an empty stick" ? null : "TASKDATA_20270315");

const asideTo = (to: string | null) => (to === null ? null : { from: "TASKDATA", to });

async function dieWhile(
  point: CrashPoint | null,
  moveTaskDataTo: string | null,
): Promise<{ calls: string[]; died: boolean }> {
  const calls: string[] = [];
  const outcome = await writeStick(
    root,
    { files: newSet, aside: asideTo(moveTaskDataTo) },
    crashingDisk(point, calls),
  ).then(
    () => "finished",
    (error: unknown) => error,
  );
  if (outcome !== "finished" && !(outcome instanceof Crash)) throw outcome;
  return { calls, died: outcome !== "finished" };
}

/** What the command check makes of the stick, by reading and hashing it. */
async function told(): Promise<"A" | "B" | "incomplete" | "no set"> {
  const { exit, out } = await cli("check", root, "--json");
  const json = JSON.parse(out);
  if (exit === 0) return json.revision;
  if (json.error.code === "no-manifest") return "no set";
  expect(["incomplete", "not-as-written"]).toContain(json.error.code);
  return "incomplete";
}

/** Logs and other people's files are somewhere on the stick, as they were. */
function expectNothingLost(start: Start): void {
  if (start === "an empty stick") return;
  const there = contents(root);
  expect(there["TASKDATA/TLG00001.BIN"] ?? there["TASKDATA_20270315/TLG00001.BIN"]).toBe("hours of work");
  expect(there["photos/pond.txt"]).toBe("not ours");
  expect(there["RX/KETTLE_L_1152_A.shp"]).toBe("old shape");
}

/** Calls that only look: dying beside one leaves the disk as dying beside its neighbour does. */
const looks: readonly string[] = ["kind", "names", "read", "sync", "syncFolder", "close"];

describe.each<[Start, string]>([
  ["an empty stick", "no set"],
  ["an older set, logs among its task data", "A"],
])("a writing to %s that is killed at any call to the disk", (start, before) => {
  test("leaves the old set, the new one, or one that check calls incomplete, and the next writing mends it", async () => {
    begin(start);
    expect(await told()).toBe(before);
    const { calls } = await dieWhile(null, moveTo(start));
    expect(await told()).toBe("B");
    expect(contents(root)).toMatchObject(textsOf(newSet));
    const seen = new Set<string>();
    for (const [call, name] of calls.entries()) {
      if (looks.includes(name)) continue;
      for (const when of name === "write"
        ? (["before", "half", "after"] as const)
        : (["before", "after"] as const)) {
        const where = `${when} call ${call} (${name})`;
        begin(start);
        expect((await dieWhile({ call, when }, moveTo(start))).died, where).toBe(true);
        const found = await told();
        expect([before, "incomplete", "B"], where).toContain(found);
        if (found === "B") expect(contents(root), where).toMatchObject(textsOf(newSet));
        if (found === "A") expect(contents(root), where).toMatchObject(textsOf(oldSet));
        expectNothingLost(start);
        seen.add(found);
        const again = existsSync(join(root, "TASKDATA_20270315")) ? null : moveTo(start);
        await writeStick(root, { files: newSet, aside: asideTo(again) }, afterDeath);
        expect(await told(), where).toBe("B");
        expectNothingLost(start);
        expect(
          readdirSync(root).filter((one) => one.startsWith("manifest")),
          where,
        ).toEqual(["manifest.json"]);
      }
    }
    expect([...seen].sort()).toEqual(["B", "incomplete", before].sort());
  });
});

test("a second death while the first is being mended is mended as well", async () => {
  const start = "an older set, logs among its task data" as const;
  begin(start);
  const { calls } = await dieWhile(null, moveTo(start));
  const middle = calls.lastIndexOf("create");
  const broken = join(base, "broken");
  begin(start);
  await dieWhile({ call: middle, when: "after" }, moveTo(start));
  rmSync(broken, { recursive: true, force: true });
  cpSync(root, broken, { recursive: true });
  for (let call = 0; call < calls.length; call += 2) {
    rmSync(root, { recursive: true, force: true });
    cpSync(broken, root, { recursive: true });
    const { died } = await dieWhile({ call, when: "after" }, null);
    if (!died) break;
    await writeStick(root, { files: newSet, aside: null }, afterDeath);
    expect(await told(), `call ${call}`).toBe("B");
    expectNothingLost(start);
  }
});

test("halves of a set that is not written any more are taken away", async () => {
  begin("an empty stick");
  const { calls } = await dieWhile(null, null);
  begin("an empty stick");
  const writes = calls.flatMap((name, k) => (name === "write" ? [k] : [])); // journal, stick.json, the first map
  const half = writes[2]!;
  await dieWhile({ call: half, when: "half" }, null);
  expect(readFileSync(join(root, "RX/KETTLE_L_1152_B.shp"), "utf8").length).toBeLessThan(30);
  await writeStick(root, { files: oldSet, aside: null }, afterDeath);
  expect(await told()).toBe("A");
  expect(existsSync(join(root, "RX/KETTLE_L_1152_B.shp"))).toBe(false);
});
