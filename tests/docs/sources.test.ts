// docs/sources.md names every source the tests lean on, and where; the table of check values is made from their files (UPDATE_DOCS=1).
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readCsv } from "../../src/formats/index.ts";
import { project } from "../support/doc-blocks.ts";

const page = join(project, "docs/sources.md");
const TITLE = "## Check values, by source";
const text = readFileSync(page, "utf8");

interface Row {
  /** In bold: as the tests name the source. */
  readonly names: readonly string[];
  /** Folders and files below the project. */
  readonly places: readonly string[];
  readonly line: string;
}

const rows: readonly Row[] = text
  .slice(0, text.indexOf(TITLE) < 0 ? undefined : text.indexOf(TITLE))
  .split("\n")
  .filter((line) => line.startsWith("| ") && !line.startsWith("| what |"))
  .map((line) => ({
    line,
    names: [...line.matchAll(/\*\*([^*]+)\*\*/g)].map(([, name]) => name!),
    places: [...line.matchAll(/`((?:tests|src)\/[^`]+)`/g)].map(([, path]) => path!),
  }));

/** Comments and titles of tests that name somebody else's work, or say that none was read. */
const NAMES_A_SOURCE =
  /\b(19\d\d|20[01]\d|202[0-5])\b(?!-\d\d)|Univ\.|Extension|RFC|ISO 1|NIST|FIPS|OGC|APPNOTE|gstat|GDAL|GEOS\b|PROJ\b|GeographicLib|xmllint|from memory|common practice|second-hand/;
const SAID = /^\s*(\/\/|\*|\/\*\*)|\/\/ |^\s*(test|it|describe\w*)\b.*\(/;

interface Said {
  readonly path: string;
  readonly line: string;
}

const said: readonly Said[] = readdirSync(join(project, "tests"), { recursive: true, encoding: "utf8" })
  .filter((name) => /\.ts$/.test(name) && !/^(bench|docs|fuzz)\//.test(name))
  .flatMap((name) =>
    readFileSync(join(project, "tests", name), "utf8")
      .split("\n")
      .filter((line) => SAID.test(line) && NAMES_A_SOURCE.test(line) && !line.includes("biome-ignore"))
      .map((line) => ({ path: `tests/${name}`, line: line.trim() })),
  );

const covers = ({ places }: Row, path: string): boolean =>
  places.some((place) => path === place || path.startsWith(`${place}/`));

it("every source that a test names stands there with the test's place", () => {
  expect(said.length).toBeGreaterThan(80);
  const missing = said.filter(
    ({ path, line }) =>
      !rows.some((row) => covers(row, path) && row.names.some((name) => line.includes(name))),
  );
  expect(missing.map(({ path, line }) => `${path}: ${line}`)).toEqual([]);
});

it("every place is there, and a test there names the source", () => {
  for (const { places, names, line } of rows) {
    for (const place of places) expect(existsSync(join(project, place)), `${place}: ${line}`).toBe(true);
    const texts = places.flatMap((place) => textsBelow(place)).join("\n");
    for (const name of names) expect(texts.includes(name), `${name}: ${line}`).toBe(true);
  }
});

function textsBelow(place: string): string[] {
  const path = join(project, place);
  const files = statSync(path).isFile()
    ? [path]
    : readdirSync(path, { recursive: true, encoding: "utf8" }).map((name) => join(path, name));
  return files.filter((file) => /\.(ts|md)$/.test(file)).map((file) => readFileSync(file, "utf8"));
}

it("every folder of test data has a README with its source, and is named", () => {
  const folders = readdirSync(join(project, "tests/data"));
  for (const folder of folders) {
    expect(readFileSync(join(project, "tests/data", folder, "README.md"), "utf8")).toMatch(/licence|MIT/i);
    expect(text).toContain(`tests/data/${folder}`);
  }
});

it("the check values stand by source, with how each is known", () => {
  const counts = new Map<string, Map<string, number>>();
  for (const folder of ["agronomy", "operations"]) {
    const path = `tests/data/${folder}/check-values.csv`;
    const { headings, rows: values } = readCsv(readFileSync(join(project, path)), path);
    const at = (name: string) => headings.indexOf(name);
    for (const { cells } of values) {
      const own = cells[at("source")]!.startsWith("own computation");
      const source = own ? "our own computation (worked examples)" : cells[at("source")]!;
      const known = counts.get(source) ?? new Map<string, number>();
      const how = { text: "read", memory: "from memory", computed: "computed by us" }[cells[at("verified")]!];
      if (how === undefined) throw new Error(`${path}: ${cells[at("verified")]}`);
      known.set(how, (known.get(how) ?? 0) + 1);
      counts.set(source, known);
    }
  }
  const table = [...counts]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(
      ([source, known]) =>
        `| ${source.replaceAll("|", "/")} | ${[...known].map(([how, count]) => `${count} ${how}`).join(", ")} |`,
    );
  const wanted = `${TITLE}

Rows of \`tests/data/agronomy/check-values.csv\` and \`tests/data/operations/check-values.csv\`, as each names its source. Made by a test.

| source | rows |
|---|---|
${table.join("\n")}
`;
  if (process.env.UPDATE_DOCS) writeFileSync(page, `${text.split(TITLE)[0]!.trimEnd()}\n\n${wanted}`);
  expect(readFileSync(page, "utf8").endsWith(wanted)).toBe(true);
});
