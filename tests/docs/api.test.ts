// docs/api/ says what a program can import, from the declarations the compiler writes; UPDATE_DOCS=1 (`npm run docs:api`) writes it anew.
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import * as everything from "../../src/index.ts";
import { type PublicExport, publicExports } from "../support/declarations.ts";
import { project } from "../support/doc-blocks.ts";

const pages = join(project, "docs/api");
const made = mkdtempSync(join(tmpdir(), "declarations-"));
let all: readonly PublicExport[] = [];

beforeAll(() => {
  const tsc = join(project, "node_modules/typescript/bin/tsc");
  const options = ["--emitDeclarationOnly", "--noCheck", "--composite", "false", "--incremental", "false"];
  execFileSync(process.execPath, [tsc, "-p", join(project, "src"), ...options, "--outDir", made], {
    stdio: "pipe",
  });
  all = publicExports(made);
});
afterAll(() => rmSync(made, { recursive: true, force: true }));

it("every value that can be imported is found in the declarations, and no other", () => {
  const values = all.filter(({ code }) => /^(abstract )?(class|const|function|enum|let)\b/.test(code));
  expect(values.map(({ name }) => name).sort()).toEqual(Object.keys(everything).sort());
});

it("every export has a docstring", () => {
  const bare = all.filter(({ about }) => about === "").map(({ module, name }) => `src/${module}.ts: ${name}`);
  expect(bare).toEqual([]);
});

const folderOf = ({ module }: PublicExport): string => module.split("/")[0]!;

const section = ({ name, about, code }: PublicExport): string =>
  `## ${name}\n\n${about}\n\n\`\`\`ts\n${code}\n\`\`\`\n`;

function wanted(): Map<string, string> {
  const folders = [...new Set(all.map(folderOf))].sort();
  const texts = folders.map((folder): [string, string] => {
    const own = all.filter((one) => folderOf(one) === folder);
    return [`${folder}.md`, `# ${folder}\n\n${own.map(section).join("\n")}`];
  });
  const lists = folders.map((folder) => {
    const own = all.filter((one) => folderOf(one) === folder);
    const anchors = own.map(({ name }) => name.toLowerCase());
    const links = own.map(({ name }, k) => {
      const again = anchors.slice(0, k).filter((anchor) => anchor === anchors[k]).length;
      return `[${name}](${folder}.md#${anchors[k]}${again > 0 ? `-${again}` : ""})`;
    });
    return `**[${folder}](${folder}.md)**: ${links.join(", ")}\n`;
  });
  const index = `# What a program can import

\`import { readPlan, run } from "bermplan"\` works a plan out to files in memory; \`run\` in [plan.md](plan.md#run) is where to begin. Everything is plain values and bytes: no disk, no clock, nothing of the browser. Made from the docstrings by \`npm run docs:api\`.

${lists.join("\n")}`;
  return new Map([["README.md", index], ...texts]);
}

it("docs/api is as the sources say", () => {
  const texts = wanted();
  if (process.env.UPDATE_DOCS) {
    rmSync(pages, { recursive: true, force: true });
    mkdirSync(pages);
    for (const [name, text] of texts) writeFileSync(join(pages, name), text);
  }
  expect(readdirSync(pages).sort()).toEqual([...texts.keys()].sort());
  for (const [name, text] of texts) {
    expect(readFileSync(join(pages, name), "utf8") === text, `docs/api/${name} is current`).toBe(true);
  }
});
