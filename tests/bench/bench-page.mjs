// docs/benchmarks.md: one page, a section for each benchmark. A benchmark writes its own and leaves the others as they are.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { availableParallelism, cpus, loadavg, platform, totalmem } from "node:os";
import { join } from "node:path";

const project = join(import.meta.dirname, "../..");
const path = join(project, "docs/benchmarks.md");

/** Sections in their order: the name after `bench:`, and the heading. */
export const parts = {
  interpolate: "How fast the maps are made",
  strips: "Cutting a field into passes and segments",
  files: "Reading and writing files",
  split: "Split and blend",
  season: "Fills, season, order and logs",
  page: "The page",
};

const head = `# Benchmarks

\`npm run bench\` measures everything here anew, about 20 minutes; \`npm run bench:interpolate\` and the like one section. Both sides
of a comparison run on one machine in one go, so ratios carry over to other machines better than times do.
`;

const versionOf = (name) =>
  name === "Node"
    ? `Node ${process.versions.node}`
    : `${name} ${JSON.parse(readFileSync(join(project, "node_modules", name, "package.json"), "utf8")).version}`;

/**
 * Writes one section: text and tables under its heading, then day, machine, load and versions.
 * @param {keyof typeof parts} part
 * @param {string} text
 * @param {{ packages?: string[], programs?: string[] }} versions packages as named in node_modules; programs with their version
 */
export function writeSection(part, text, { packages = [], programs = [] } = {}) {
  if (!(part in parts)) throw new Error(`no section ${part}`);
  const commit = execFileSync("git", ["rev-parse", "--short", "HEAD"], { cwd: project, encoding: "utf8" }).trim();
  const section = `${text.trim()}

By \`npm run bench:${part}\` on ${new Date().toISOString().slice(0, 10)} from ${commit}. Machine: ${cpus()[0]?.model.trim() ?? "unknown processor"}, ${availableParallelism()} processors, ${Math.round(totalmem() / 2 ** 30)} GB, ${platform()}; load over 15 minutes ${loadavg()[2].toFixed(1)}. Versions: ${["Node", ...packages].map(versionOf).concat(programs).join(", ")}.`;
  const sections = sectionsOf(readFileSync(path, "utf8"));
  sections.set(parts[part], section);
  const all = Object.values(parts).filter((title) => sections.has(title));
  writeFileSync(path, `${[head, ...all.map((title) => `## ${title}\n\n${sections.get(title)}\n`)].join("\n")}`);
  console.log(section);
}

function sectionsOf(page) {
  return new Map(
    page
      .split(/^## /m)
      .slice(1)
      .map((section) => {
        const end = section.indexOf("\n");
        return [section.slice(0, end), section.slice(end).trim()];
      }),
  );
}
