import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { runCli, type Surroundings } from "../../src/cli/run-cli.ts";
import { publishFolder } from "../../src/cli/swap.ts";
import { verbs } from "../../src/cli/verbs.ts";
import { writeZip } from "../../src/formats/index.ts";
import { compiledCli } from "../support/compiled-cli.ts";
import { smallSet } from "../support/small-set.ts";

const set = smallSet({ "result.json": "{}", "fields/n/cells.csv": "east,north\n1,2\n", "order.csv": "lb\n" });
const planSha256 = "1".repeat(64);

let base: string;
let out: string;

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "check-test-"));
  out = join(base, "out");
});

beforeEach(async () => {
  rmSync(out, { recursive: true, force: true });
  await publishFolder(out, set, { overwrite: false });
});

afterAll(() => rmSync(base, { recursive: true, force: true }));

/** The command line in this process: what it prints, and its exit code. */
async function cli(words: readonly string[], more: Partial<Surroundings> = {}) {
  const told = { out: "", error: "", outCalls: 0 };
  const exit = await runCli({
    words,
    variables: {},
    errorIsTerminal: false,
    signal: new AbortController().signal,
    readStandardInput: async () => new Uint8Array(),
    writeOut: (data) => {
      told.out += typeof data === "string" ? data : new TextDecoder().decode(data);
      told.outCalls++;
    },
    writeError: (text) => {
      told.error += text;
    },
    ...more,
  });
  return { ...told, exit };
}

describe("check", () => {
  test("says in one line that a set is as written", async () => {
    expect(await cli(["check", out])).toEqual({
      out: `${out}: 3 files, same as written\n`,
      error: "",
      outCalls: 1,
      exit: 0,
    });
    const { out: json } = await cli(["check", out, "--json"]);
    expect(JSON.parse(json)).toEqual({ asWritten: true, files: 3, planSha256, toolVersion: "0.0.1" });
  });

  test("takes the set as a zip, also on standard input", async () => {
    const zip = writeZip(set, "2025-11-03");
    writeFileSync(join(base, "set.zip"), zip);
    expect((await cli(["check", join(base, "set.zip")])).exit).toBe(0);
    expect((await cli(["check", "-"], { readStandardInput: async () => zip })).out).toBe(
      "-: 3 files, same as written\n",
    );
    const less = new Map([...set].filter(([path]) => path !== "order.csv"));
    const poor = await cli(["check", "-"], { readStandardInput: async () => writeZip(less, "2025-11-03") });
    expect(poor).toMatchObject({ exit: 2, error: expect.stringContaining("order.csv: missing") });
  });

  test("finds one changed bit anywhere in any file that was written", async () => {
    let count = 0;
    for (const path of set.keys()) {
      const bytes = readFileSync(join(out, path));
      for (let at = 0; at < bytes.length; at += path === "manifest.json" ? 31 : 1) {
        writeFileSync(
          join(out, path),
          bytes.map((byte, here) => (here === at ? byte ^ 1 : byte)),
        );
        const told = await cli(["check", out]);
        expect(told, `byte ${at} of ${path}`).toMatchObject({ exit: 2, out: "" });
        expect(told.error).toContain(path);
        count++;
      }
      writeFileSync(join(out, path), bytes);
    }
    expect(count).toBeGreaterThan(30);
    expect((await cli(["check", out])).exit).toBe(0);
  });

  test("names every file that is changed, missing or a stranger, with nothing on standard output", async () => {
    writeFileSync(join(out, "order.csv"), "lb!\n");
    rmSync(join(out, "fields/n/cells.csv"));
    writeFileSync(join(out, "fields/notes.txt"), "");
    const { out: data, error, exit } = await cli(["check", out]);
    expect([data, exit]).toEqual(["", 2]);
    expect(error.split("\n")).toEqual([
      `bermplan: ${out} is not as written: of its 3 files 1 changed, 1 missing; 1 file that does not belong`,
      "  fields/n/cells.csv: missing",
      "  fields/notes.txt: not part of what was written",
      "  order.csv: changed (4 bytes, written with 3)",
      "Do not use it: take it once more from where it was written, or build it again.",
      "",
    ]);
    const json = await cli(["--json", "check", out]);
    expect(json).toMatchObject({ exit: 2, error: "" });
    expect(JSON.parse(json.out)).toEqual({
      error: {
        code: "not-as-written",
        message: expect.stringContaining("cells.csv"),
        remedy: expect.any(String),
      },
    });
  });

  test("refuses what is no set", async () => {
    rmSync(join(out, "manifest.json"));
    for (const [operand, code] of [
      [out, "no-manifest"],
      [join(base, "none"), "no-such-file"],
      [join(out, "order.csv"), "not-a-source"],
    ] as const) {
      const { out: data, exit } = await cli(["check", operand, "--json"]);
      expect([exit, JSON.parse(data).error.code]).toEqual([2, code]);
    }
  });

  test("changes nothing where it looks", async () => {
    const before = readdirSync(out, { recursive: true }).sort();
    await cli(["check", out]);
    expect(readdirSync(out, { recursive: true }).sort()).toEqual(before);
    expect(readdirSync(base).filter((name) => name.startsWith("out"))).toEqual(["out"]);
  });
});

describe("every verb", () => {
  test.each([
    [["chek", "x"], "unknown-verb", "check"],
    [[], "no-verb", "check"],
    [["check"], "missing-operand", "check --help"],
    [["check", "a", "b"], "too-many-operands", "check --help"],
    [["check", "a", "--overwrite"], "option-not-taken", "check --help"],
    [["check", "a", "--jsno"], "unknown-option", "--json"],
    [["build", "a", "--answer", "colour=red"], "unknown-answer-key", "build --help"],
    [
      ["new", "a", "b.csv", "--answer", "rotation=corn-soy"],
      "unknown-answer-key",
      "--answer option.rotation=",
    ],
  ])("%j ends with exit 2 and %s", async (words, code, named) => {
    const text = await cli(words);
    expect(text).toMatchObject({ exit: 2, out: "" });
    expect(text.error).toContain(named);
    expect(text.error).not.toMatch(/\n\s+at /);
    const json = await cli(["--json", ...words]);
    expect(json).toMatchObject({ exit: 2, error: "" });
    expect(JSON.parse(json.out).error.code).toBe(code);
  });

  test("says in --help what it takes, and general help names every verb", async () => {
    const general = await cli(["--help"]);
    expect(general).toMatchObject({ exit: 0, error: "" });
    for (const verb of verbs) {
      expect(general.out).toContain(`  ${verb.name} `);
      const help = await cli([verb.name, "--help"]);
      expect(help.exit).toBe(0);
      expect(help.out).toMatch(new RegExp(`^usage: bermplan ${verb.name} `));
      const { command } = await verb.load();
      for (const name of command.options) expect(help.out).toContain(`--${name}`);
      for (const line of help.out.split("\n")) expect(line.length, line).toBeLessThan(111);
    }
  });

  test("what is no option after -- is not read as one", async () => {
    expect((await cli(["check", "--", "--json"])).error).toContain("--json is not there");
  });

  test("an interruption is exit 130 whatever was thrown", async () => {
    const stop = new AbortController();
    const readStandardInput = async () => {
      stop.abort();
      throw new Error("stream ended");
    };
    expect(await cli(["check", "-"], { signal: stop.signal, readStandardInput })).toMatchObject({
      exit: 130,
      out: "",
      error: "bermplan: interrupted\n",
    });
  });

  test("a bug is exit 1 with a stack trace, also with --json", async () => {
    const readStandardInput = () => Promise.reject(new Error("a broken invariant"));
    const told = await cli(["check", "-", "--json"], { readStandardInput });
    expect(told).toMatchObject({ exit: 1, out: "" });
    expect(told.error).toMatch(/our fault[\s\S]*a broken invariant\n +at /);
  });
});

describe("the process", () => {
  let main: string;
  beforeAll(() => {
    main = compiledCli();
  });

  function start(words: readonly string[]): ChildProcess {
    return spawn(process.execPath, [main, ...words], { stdio: ["pipe", "pipe", "pipe"] });
  }

  async function finish(child: ChildProcess) {
    const [out, error]: [Buffer[], Buffer[]] = [[], []];
    child.stdout!.on("data", (data: Buffer) => void out.push(data));
    child.stderr!.on("data", (data: Buffer) => void error.push(data));
    const [code, signal] = (await once(child, "close")) as [number | null, NodeJS.Signals | null];
    return { code, signal, out: Buffer.concat(out).toString(), error: Buffer.concat(error).toString() };
  }

  test("answers with data on standard output and the exit code of the verb", async () => {
    expect(await finish(start(["check", out]))).toEqual({
      code: 0,
      signal: null,
      out: `${out}: 3 files, same as written\n`,
      error: "",
    });
    const version = JSON.parse(readFileSync("package.json", "utf8")).version;
    expect(await finish(start(["--version"]))).toMatchObject({ code: 0, out: `bermplan ${version}\n` });
    expect(await finish(start(["chekc"]))).toMatchObject({ code: 2, out: "" });
  });

  test("ends with 130 at Ctrl-C", async () => {
    const child = start(["check", "-"]);
    const done = finish(child);
    const moreThanThePipeHolds = new Uint8Array(1 << 20);
    await new Promise((reading) => child.stdin!.write(moreThanThePipeHolds, reading)); // so it reads by now
    child.kill("SIGINT");
    expect(await done).toEqual({ code: 130, signal: null, out: "", error: "bermplan: interrupted\n" });
  });

  test("goes on quietly when nobody reads its output any more", async () => {
    const child = start(["check", out]);
    child.stdout!.destroy();
    expect(await finish(child)).toMatchObject({ code: 0, error: "" });
  });

  test("--help and --version load no engine: nothing but the command line's own few files", async () => {
    const script = `
      import { register } from "node:module";
      const hook = "export async function resolve(name, context, next) { const found = await next(name, context); process._rawDebug(found.url); return found; }";
      register("data:text/javascript," + encodeURIComponent(hook));
      process.argv = [process.argv[0], "bermplan", "--help"];
      await import(${JSON.stringify(`file://${main}`)});`;
    const child = spawn(process.execPath, ["--input-type=module", "-e", script], {
      stdio: ["pipe", "pipe", "pipe"],
    });
    const { code, error } = await finish(child);
    expect(code).toBe(0);
    const loaded = error.split("\n").filter((line) => line.startsWith("file:"));
    expect(loaded.length).toBeGreaterThan(5);
    expect(loaded.filter((url) => !/\/dist\/(cli|errors)\/[a-z-]+\.js$/.test(url))).toEqual([]);
  });

  test("--version and --help take no more than four times the processor time of Node doing nothing", async () => {
    const probe =
      "process.on('exit', () => { const t = process.cpuUsage(); process._rawDebug(t.user + t.system); })";
    const least = async (words: readonly string[]) => {
      const times: number[] = [];
      for (let run = 0; run < 5; run++) {
        const all = ["--import", `data:text/javascript,${encodeURIComponent(probe)}`, ...words];
        const { error } = await finish(spawn(process.execPath, all, { stdio: ["pipe", "pipe", "pipe"] }));
        times.push(Number(error) / 1000);
      }
      return Math.min(...times);
    };
    const nothing = await least(["-e", "0"]);
    expect(nothing).toBeGreaterThan(5);
    for (const option of ["--version", "--help"]) {
      expect((await least([main, option])) / nothing, option).toBeLessThan(4);
    }
  });
});
