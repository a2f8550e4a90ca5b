import { describe, expect, test } from "vitest";
import { optionTable } from "../../src/cli/options.ts";
import { readArguments } from "../../src/cli/read-arguments.ts";
import { InputError, nearest } from "../../src/errors/index.ts";

function refusal(words: readonly string[]): InputError {
  try {
    readArguments(words);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return error as InputError;
  }
  throw new Error("not refused");
}

describe("readArguments", () => {
  test("tells verb, operands and options apart wherever they stand", () => {
    const words = ["--json", "build", "--out", "a b", "plan.json", "--field", "n1", "--field=n2", "--quiet"];
    const { operands, options, given } = readArguments(Object.freeze(words));
    expect(operands).toEqual(["build", "plan.json"]);
    expect(options).toMatchObject({
      out: "a b",
      field: ["n1", "n2"],
      json: true,
      quiet: true,
      overwrite: false,
    });
    expect(new Set(given)).toEqual(new Set(["json", "out", "field", "quiet"]));
  });

  test("has everything off or empty when nothing is given", () => {
    const { options } = readArguments([]);
    const off = { switch: false, text: undefined, texts: [], pairs: new Map() };
    const entries = Object.entries(optionTable);
    expect(entries.length).toBeGreaterThan(8);
    expect(options).toEqual(Object.fromEntries(entries.map(([name, { kind }]) => [name, off[kind]])));
  });

  test("takes - for standard input and everything after -- as it stands", () => {
    const { operands, options } = readArguments(["new", "-", "--", "--out", "-x", "--"]);
    expect(operands).toEqual(["new", "-", "--out", "-x", "--"]);
    expect(options.out).toBeUndefined();
  });

  test("splits an answer at its first equals sign", () => {
    const words = ["--answer", "guide=a=b", "--answer=method.P=bray-p1", "--answer", "guide=a=b"];
    expect([...readArguments(words).options.answer]).toEqual([
      ["guide", "a=b"],
      ["method.P", "bray-p1"],
    ]);
  });

  test("takes a value that begins with one hyphen, and with two after an equals sign", () => {
    expect(readArguments(["--out", "-5"]).options.out).toBe("-5");
    expect(readArguments(["--out=--odd"]).options.out).toBe("--odd");
  });

  test.each([
    [["--ovrewrite"], "unknown-option", "--overwrite"],
    [["--quite"], "unknown-option", "--quiet"],
    [["--Json"], "unknown-option", "--json"],
    [["--over=1"], "unknown-option", "--overwrite"],
    [["-q"], "unknown-option", "--"],
    [["--out"], "missing-value", "--out DIR"],
    [["--out", "--json"], "missing-value", "--out DIR"],
    [["--out="], "missing-value", "--out DIR"],
    [["--json=yes"], "no-value-taken", "--json"],
    [["--out", "a", "--out", "b"], "option-twice", "--out"],
    [["--answer", "guide"], "not-a-pair", "KEY=VALUE"],
    [["--answer", "=x"], "not-a-pair", "KEY=VALUE"],
    [["--answer", "guide="], "not-a-pair", "KEY=VALUE"],
    [["--answer", "guide=a", "--answer", "guide=b"], "option-twice", "guide"],
  ])("refuses %j with %s", (words, code, named) => {
    const error = refusal(words);
    expect(error.code).toBe(code);
    expect(error.remedy).toContain(named);
  });

  test("every option has a line of help, and a value exactly when it takes one", () => {
    for (const [name, entry] of Object.entries(optionTable)) {
      expect(entry.about, name).toMatch(/^.{10,70}$/);
      expect(entry.value === "", name).toBe(entry.kind === "switch");
    }
  });
});

describe("nearest", () => {
  test.each([
    ["chekc", "check"], // two letters swapped are one step
    ["biuld", "build"],
    ["bld", "build"],
    ["CHECK", "check"],
    ["ne", "new"],
    ["xyz", "new"], // three changed letters are the fewest steps
  ])("finds for %s the word %s", (word, found) => {
    expect(nearest(word, ["check", "build", "new"])).toBe(found);
  });

  test("prefers a word that was only cut short", () => {
    expect(nearest("overw", ["other", "overwrite"])).toBe("overwrite");
  });
});
