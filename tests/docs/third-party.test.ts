// docs/third-party-notices.md names what is installed with the package and what its built page holds; UPDATE_DOCS=1 writes it anew.
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { builtPage } from "../page/support/built-page.ts";
import { project } from "../support/doc-blocks.ts";

interface Locked {
  readonly version: string;
  readonly license?: string;
  readonly dev?: boolean;
}

const notices = join(project, "docs/third-party-notices.md");
const { packages } = JSON.parse(readFileSync(join(project, "package-lock.json"), "utf8")) as {
  packages: Record<string, Locked>;
};
const installed = Object.entries(packages)
  .filter(([path, { dev }]) => path !== "" && dev !== true)
  .map(([path, { version }]) => ({ name: path.slice(path.lastIndexOf("node_modules/") + 13), version }));

const text = (): string => readFileSync(join(builtPage(), "third-party-licences.txt"), "utf8");

interface InPage {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly text: string;
}

const inPage = (): InPage[] =>
  text()
    .split(/^== /m)
    .slice(1)
    .map((part) => {
      const end = part.indexOf("\n");
      const [, name, version, licence] = /^(\S+) (\S+), (.+)$/.exec(part.slice(0, end))!;
      return { name: name!, version: version!, licence: licence!, text: part.slice(end).trim() };
    });

it("the page carries the licence text of every package in it", () => {
  const held = inPage();
  expect(held.map(({ name }) => name)).toEqual(
    expect.arrayContaining(["maplibre-gl", "preact", "highs", "zod", "earcut", "geojson-validation"]),
  );
  for (const { name, text: licence } of held) {
    expect(licence, name).toMatch(/permission|permitted|licen[cs]e/i);
    expect(licence.length, name).toBeGreaterThan(400);
  }
});

it("the library under the LGPL stands in a chunk of its own, so that it can be exchanged", () => {
  const assets = readdirSync(join(builtPage(), "assets"));
  expect(assets.some((name) => name.startsWith("geojson-validation-"))).toBe(true);
});

it("docs/third-party-notices.md lists them all", () => {
  const held = inPage();
  const names = [...new Set([...installed, ...held].map(({ name }) => name))].sort();
  const rows = names.map((name) => {
    const page = held.find((one) => one.name === name);
    const own = installed.find((one) => one.name === name);
    const file = join(project, "node_modules", name, "package.json");
    const { license } = JSON.parse(existsSync(file) ? readFileSync(file, "utf8") : "{}") as Locked;
    const where = [own ? "installed" : "", page ? "in the page" : ""].filter((one) => one !== "").join(", ");
    if (own && page) expect(own.version, name).toBe(page.version);
    return `| ${name} | ${(page ?? own)!.version} | ${page?.licence ?? license} | ${where} |`;
  });
  const wanted = `# Third-party notices

bermplan is under the MIT licence. What is *installed* with it comes as a package of its own, with its licence; what is *in the page* is built into \`app/dist\`, and \`app/dist/third-party-licences.txt\` holds the licence of each. Made by a test from package-lock.json and the built page.

**geojson-validation** is under the GNU Lesser General Public Licence, version 3, which goes on from the [GNU General Public Licence](https://www.gnu.org/licenses/gpl-3.0.txt). It is used unchanged, loaded at run time, and stands in a chunk of its own in the built page, so that it can be exchanged.

| package | version | licence | where |
|---|---|---|---|
${rows.join("\n")}
`;
  if (process.env.UPDATE_DOCS) writeFileSync(notices, wanted);
  expect(readFileSync(notices, "utf8")).toBe(wanted);
});
