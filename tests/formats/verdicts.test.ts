// Every file of tests/data/formats through `bermplan read`, held to verdicts.json: exit code, questions, what the messages
// name, each answer needed, and the figures once accepted. The verdicts were made by independent means (see its README).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runCli } from "../../src/cli/run-cli.ts";
import { acceptedFaults } from "./accepted-faults.ts";

interface Run {
  readonly as: string | null;
  readonly exit: readonly number[];
  readonly questions: readonly string[];
  readonly answers: readonly string[] | null;
  readonly accepted: Readonly<Record<string, unknown>> | null;
  readonly mustName: readonly string[];
}
interface Verdict extends Run {
  readonly file: string;
  readonly also?: readonly Run[];
}

const DATA = join(import.meta.dirname, "../data/formats");
const VERDICTS = JSON.parse(readFileSync(join(DATA, "verdicts.json"), "utf8")) as Verdict[];
const RUNS = VERDICTS.flatMap(({ also = [], ...first }) => [
  first,
  ...also.map((run) => ({ ...run, file: first.file })),
]);

interface Answered {
  readonly exit: number;
  readonly json: Readonly<Record<string, unknown>>;
  readonly text: string;
}

async function read(file: string, as: string | null, answers: readonly string[]): Promise<Answered> {
  let out = "";
  const absolute = (answer: string) => answer.replace(/^join-points=/, `join-points=${DATA}/`);
  const words = ["read", join(DATA, file), "--json", "--quiet", ...(as === null ? [] : ["--as", as])];
  const exit = await runCli({
    words: [...words, ...answers.flatMap((answer) => ["--answer", absolute(answer)])],
    variables: {},
    errorIsTerminal: false,
    signal: new AbortController().signal,
    writeOut: (data) => {
      out += String(data);
    },
    writeError: (text) => {
      out += text;
    },
    readStandardInput: () => Promise.reject(new Error("nothing is piped in")),
  });
  const json = (out.startsWith("{") ? JSON.parse(out) : {}) as Record<string, unknown>;
  const said = JSON.stringify([json.error, json.questions, json.notices]);
  return { exit, json, text: JSON.parse(`"${said.replaceAll('\\"', "'").replaceAll('"', "'")}"`) as string };
}

const keysOf = ({ json }: Answered): string[] =>
  ((json.questions ?? []) as { key: string }[]).map(({ key }) => key);

/** "record 2" is also met by a list: "records 2 and 3". Letter case does not matter. */
function names(text: string, wanted: string): boolean {
  return wanted.split("|").some((one) => {
    if (text.toLowerCase().includes(one.toLowerCase())) return true;
    const found = /^(record|feature|line) (\d+)$/.exec(one);
    if (found === null) return false;
    const lists = text.matchAll(new RegExp(`${found[1]}s ([\\d, and]+)`, "gi"));
    return [...lists].some(([, list]) => list!.match(/\d+/g)?.includes(found[2]!));
  });
}

describe("every sample file", () => {
  it("has its verdict", () => expect(VERDICTS).toHaveLength(59));

  it.each(RUNS)("$file as $as", async ({ file, as, exit, questions, answers, accepted, mustName }) => {
    const first = await read(file, as, []);
    expect(exit, first.text).toContain(first.exit);
    if (first.exit === 3) expect(keysOf(first).sort()).toEqual([...questions].sort());
    for (const wanted of mustName)
      expect(names(first.text, wanted), `“${wanted}” in ${first.text}`).toBe(true);
    if (first.exit === 2) expect(accepted).toBeNull();
    if (accepted === null) return;

    let last = first;
    if (first.exit === 3) {
      expect(answers).not.toBeNull();
      last = await read(file, as, answers!);
      expect(last.exit, last.text).toBe(0);
      for (const left of answers!) {
        const without = await read(
          file,
          as,
          answers!.filter((answer) => answer !== left),
        );
        expect(without.exit, `without ${left}: ${without.text}`).toBe(3);
      }
    }
    const same = accepted.sameAs as string | undefined;
    const figures =
      same === undefined ? accepted : VERDICTS.find((verdict) => verdict.file === same)!.accepted!;
    expect(acceptedFaults(figures, last.json)).toEqual([]);
  });
});
