// docs/errors.md lists every code of a user's error with its remedy; UPDATE_DOCS=1 writes it anew from the sources.
import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { argumentsOf, sourceFiles, textsIn, wordsOf } from "../support/source-calls.ts";

const page = resolve(import.meta.dirname, "../../docs/errors.md");

/** Codes that are not written where the error is made, with the reason. */
const PASSED_ON = [
  { path: "src/interpolate/band-threads.ts", piece: "code", why: "an error of a thread, made there" },
  { path: "src/formats/refusal-of.ts", piece: "question.key", why: "a question's key, told in its own text" },
  { path: "src/plan/document/band-factor.ts", piece: "error.code", why: "the error again, with its key" },
  { path: "src/plan/need/field-rule.ts", piece: "error.code", why: "the error again, with its field" },
  {
    path: "src/plan/need/map-soil.ts",
    piece: "error.code",
    why: "the error again, with field, test and key",
  },
  {
    path: "app/src/engine/recognise.ts",
    piece: "error.code",
    why: "the error again, with the name of a loose file",
  },
];

interface Told {
  readonly code: string;
  readonly remedy: string;
}

/** Words of an argument; of a name, the words in what it was given last before the call. */
function wordsBefore(text: string, at: number, piece: string): string[] {
  const plain = wordsOf(piece);
  if (plain !== null) return [plain];
  const naming = `const ${piece} =`;
  const given = /^\w+$/.test(piece) ? Math.max(text.lastIndexOf(naming, at), text.indexOf(naming)) : -1;
  if (given < 0) return textsIn(piece);
  return textsIn(text.slice(given, text.indexOf(";\n", given)));
}

function toldIn(path: string, text: string): Told[] {
  const opening = "new InputError(";
  let at = -1;
  return argumentsOf(text, opening).flatMap(([code, , remedy]) => {
    at = text.indexOf(opening, at + 1);
    if (PASSED_ON.some((one) => one.path === path && one.piece === code)) return [];
    if (path === "src/cli/disk-error.ts") return diskCodes(text);
    const codes = wordsBefore(text, at, code!);
    if (codes.length === 0) throw new Error(`${path}: an error whose code is ${code}, written nowhere`);
    const remedies = wordsBefore(text, at, remedy!);
    return codes.map((one) => ({ code: one, remedy: remedies.join(" / ") }));
  });
}

/** The disk's own errors stand in a table. */
const diskCodes = (text: string): Told[] =>
  [...text.matchAll(/^ {2}E\w+: (\[[^\]]*\]),/gms)].map(([, row]) => {
    const [code, , remedy] = textsIn(row!) as [string, string, string];
    return { code, remedy };
  });

function remediesByCode(): Map<string, Set<string>> {
  const found = new Map<string, Set<string>>();
  for (const { path, text } of [...sourceFiles("src", /\.ts$/), ...sourceFiles("app/src", /\.tsx?$/)]) {
    for (const { code, remedy } of toldIn(path, text)) {
      const remedies = found.get(code) ?? new Set();
      if (remedy !== "") remedies.add(remedy);
      found.set(code, remedies);
    }
  }
  return found;
}

it("every code has a remedy and stands in docs/errors.md", () => {
  const found = remediesByCode();
  expect(found.size).toBeGreaterThan(100);
  for (const code of found.keys()) expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
  const rows = [...found]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([code, remedies]) => `| \`${code}\` | ${[...remedies].join("<br>") || "as the message says"} |`);
  const text = `# Errors

Every error of a file, a value or a command has a code, a message that names file, row or record and value, and a remedy. \`--json\`
prints all three. Made from the sources by a test; … stands for what is filled in. Codes of questions that refuse a
file are the question's key (\`bermplan read --help\`).

| code | what to do |
|---|---|
${rows.join("\n")}
`;
  if (process.env.UPDATE_DOCS) writeFileSync(page, text);
  expect(readFileSync(page, "utf8")).toBe(text);
});
