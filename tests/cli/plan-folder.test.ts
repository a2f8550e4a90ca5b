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
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { writePlanFolder } from "../../src/cli/plan-folder.ts";
import { refusal } from "../support/folder-contents.ts";
import { smallPlan } from "../support/small-farm.ts";

const utf8 = (text: string) => new TextEncoder().encode(text);
const lab = { path: "soil/lab.csv", bytes: utf8("id,P ppm\n1,12\n") };
const plan = smallPlan();
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "plan-folder-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test("what a killed run left half written is written anew", async () => {
  mkdirSync(join(folder, "soil"));
  writeFileSync(join(folder, "soil/lab.csv.new"), "id,P p");
  writeFileSync(join(folder, "plan.json.new"), "{");
  await writePlanFolder(folder, [lab], plan, false);
  expect(readFileSync(join(folder, "soil/lab.csv"), "utf8")).toBe("id,P ppm\n1,12\n");
  expect(readdirSync(folder).sort()).toEqual(["plan.json", "soil"]);
  expect(readdirSync(join(folder, "soil"))).toEqual(["lab.csv"]);
});

test("a file that cannot be put in its place leaves nothing of itself", async () => {
  mkdirSync(join(folder, "plan.json/inside"), { recursive: true });
  expect((await refusal(writePlanFolder(folder, [lab], plan, true))).code).toBe("is-a-folder");
  expect(existsSync(join(folder, "plan.json.new"))).toBe(false);
  expect(readdirSync(join(folder, "soil"))).toEqual(["lab.csv"]);
});

test("another file of the same name stays, and nothing is written", async () => {
  mkdirSync(join(folder, "soil"));
  writeFileSync(join(folder, "soil/lab.csv"), "somebody else's");
  expect((await refusal(writePlanFolder(folder, [lab], plan, false))).code).toBe("file-in-the-way");
  expect(readFileSync(join(folder, "soil/lab.csv"), "utf8")).toBe("somebody else's");
  expect(existsSync(join(folder, "plan.json"))).toBe(false);
});
