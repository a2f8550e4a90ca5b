// Every command of README and docs/ is run, page by page, in a folder that holds what its reader has; what they make stays for
// the pages after it. Not run: setting up, tests, benchmarks, and the page's server.
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { commonOptions } from "../../src/cli/options.ts";
import { verbs } from "../../src/cli/verbs.ts";
import { readPlan, run } from "../../src/plan/index.ts";
import { blocksOf, pages, project, spansOf } from "../support/doc-blocks.ts";
import { driveField, logCsv } from "../support/drive-log.ts";
import { cli } from "../support/in-process-cli.ts";

const NOT_RUN =
  /^npm (ci|start|test)$|^npm run (bench|bench:\w+|proof:maps|fuzz:\w+)$|^(npx )?bermplan serve\b/;
const { scripts } = JSON.parse(readFileSync(join(project, "package.json"), "utf8")) as {
  scripts: Record<string, string>;
};

let folder = "";
let ran = 0;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "docs-"));
  const single = join(project, "sample-data/single-field");
  for (const [from, to] of [
    ["boundary.zip", "boundary.zip"],
    ["guidance.geojson", "line-ab.geojson"],
    ["soil-tests.csv", "lab.csv"],
  ] as const) {
    cpSync(join(single, from), join(folder, to));
  }
  symlinkSync(join(project, "sample-data"), join(folder, "sample-data"));
  mkdirSync(join(folder, "stick"));
  process.chdir(folder);
});
afterAll(() => {
  process.chdir(project);
  rmSync(folder, { recursive: true, force: true });
});

const planPath = (): string => join(folder, "myfarm/plan.json");

/** The keys put into the plan that README made; lists are taken whole. */
function withKeys(plan: unknown, keys: unknown): unknown {
  if (!isObject(plan) || !isObject(keys)) return keys;
  const both = { ...plan };
  for (const [key, value] of Object.entries(keys)) both[key] = withKeys(plan[key], value);
  return both;
}
const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** What a rig would have logged that drove the field by its map of potash. */
async function writeLog(): Promise<void> {
  const plan = readPlan(readFileSync(planPath()), "plan.json");
  const source = {
    list: async () => [],
    read: async (path: string) => new Uint8Array(readFileSync(join(folder, "myfarm", path))),
  };
  const { fields } = await run(plan, source, { files: "later" });
  const bin = fields[0]!.prescriptions
    .filter(({ pass }) => pass === "strip")
    .findIndex(({ product }) => product === "0-0-60");
  writeFileSync(join(folder, "log.csv"), logCsv(driveField(plan, fields[0]!, bin), "0-0-60", 40));
}

async function obey(line: string): Promise<void> {
  const words = wordsOf(line.replace(/^npx /, "").replaceAll("/media/stick", "stick"));
  expect(words[0], `${line}: a command of this project`).toBe("bermplan");
  const told = await cli(...words.slice(1));
  expect(told.exit, `${line}\n${told.out}\n${told.error}`).toBe(0);
  ran++;
}

describe.each(pages)("%s", (page) => {
  it("its commands do what they are shown for", async () => {
    const blocks = blocksOf(page);
    const made = page === "README.md" ? "" : readFileSync(planPath(), "utf8");
    for (const block of blocks) {
      if (block.kind === "file") {
        JSON.parse(block.text);
        writeFileSync(join(folder, block.name), block.text);
      }
    }
    for (const block of blocks) {
      if (block.kind === "plan keys") {
        const plan = withKeys(JSON.parse(made), JSON.parse(`{${block.text}}`));
        const text = JSON.stringify(plan);
        readPlan(new TextEncoder().encode(text), "plan.json");
        writeFileSync(planPath(), text);
      } else if (block.kind === "command" && !NOT_RUN.test(block.line)) {
        if (block.line.includes("log.csv")) await writeLog();
        await obey(block.line);
      }
    }
    if (page !== "README.md") writeFileSync(planPath(), made);
  });

  it("names verbs, options and scripts that there are", async () => {
    const lines = blocksOf(page).flatMap((block) => (block.kind === "command" ? [block.line] : []));
    for (const span of [...spansOf(page), ...lines]) {
      const script = /^npm run ([\w:-]+)/.exec(span)?.[1];
      if (script !== undefined) expect(scripts, span).toHaveProperty([script]);
      const words = wordsOf(span.replace(/^(npx )?bermplan /, ""));
      const verb = verbs.find(({ name }) => name === words[0]);
      if (/^(npx )?bermplan /.test(span) && !words[0]!.startsWith("-")) expect(verb, span).toBeDefined();
      if (verb === undefined || words.length === 1) continue;
      const { command } = await verb.load();
      const taken = [...command.options, ...commonOptions].map((name) => `--${name}`);
      const given = words.filter((word) => word.startsWith("--")).map((word) => word.split("=")[0]!);
      expect(
        given.filter((name) => !taken.includes(name)),
        span,
      ).toEqual([]);
    }
  });
});

/** Words as a shell would cut them; brackets around what may be left out are dropped. */
function wordsOf(span: string): string[] {
  return [...span.replaceAll(/[[\]]/g, "").matchAll(/'([^']*)'|\S+/g)].map(
    ([word, quoted]) => quoted ?? word,
  );
}

it("ran what the pages hold", () => expect(ran).toBeGreaterThan(15));
