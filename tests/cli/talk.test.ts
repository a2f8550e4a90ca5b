import { describe, expect, test } from "vitest";
import { explain } from "../../src/cli/explain.ts";
import { emphasis, makeTalk, printable } from "../../src/cli/talk.ts";
import { InputError, QuestionError } from "../../src/errors/index.ts";

function heard(settings: { isTerminal: boolean; quiet: boolean }): string {
  const pieces: string[] = [];
  const talk = makeTalk({ ...settings, write: (text) => void pieces.push(text) });
  talk.progress("fields", 1, 3);
  talk.progress("fields", 1, 3);
  talk.progress("fields", 2, 3);
  talk.say("two samples\u001b[31m lie outside");
  talk.clear();
  return pieces.join("");
}

describe("makeTalk", () => {
  test("keeps progress on one line of a terminal and wipes it before a line that stays", () => {
    const wipe = "\r\u001b[2K";
    expect(heard({ isTerminal: true, quiet: false })).toBe(
      `${wipe}fields 1/3${wipe}fields 2/3${wipe}two samples\\u{1b}[31m lie outside\n`,
    );
  });

  test("shows no progress elsewhere, and nothing at all when quiet", () => {
    expect(heard({ isTerminal: false, quiet: false })).toBe("two samples\\u{1b}[31m lie outside\n");
    expect(heard({ isTerminal: true, quiet: true })).toBe("");
  });
});

test("printable shows what would steer the terminal or turn the text, and keeps lines, tabs and letters", () => {
  expect(printable("a\tb\nc\rd\u0007\u009b\u202e\u2066é漢")).toBe(
    "a\tb\nc\\u{d}d\\u{7}\\u{9b}\\u{202e}\\u{2066}é漢",
  );
});

test("emphasis only on a terminal that wants it", () => {
  expect(emphasis(true, {})("x")).toBe("\u001b[1mx\u001b[22m");
  expect(emphasis(true, { NO_COLOR: "" })("x")).toBe("\u001b[1mx\u001b[22m");
  for (const variables of [{ NO_COLOR: "1" }, { TERM: "dumb" }])
    expect(emphasis(true, variables)("x")).toBe("x");
  expect(emphasis(false, {})("x")).toBe("x");
});

describe("explain", () => {
  const told = (error: unknown) => explain(error, "1.2.3", (text) => text);

  test("the user's mistake: message, then remedy, no stack trace", () => {
    const { exit, text, json } = told(
      new InputError("some-code", "a.csv row 3: 400 is not a test", "Correct it."),
    );
    expect(exit).toBe(2);
    expect(text).toBe("bermplan: a.csv row 3: 400 is not a test\nCorrect it.\n");
    expect(json).toEqual({
      error: { code: "some-code", message: "a.csv row 3: 400 is not a test", remedy: "Correct it." },
    });
  });

  test("open questions: what was seen, the choices, and how to answer without a choice made", () => {
    const question = {
      key: "method.P",
      text: "Which method?",
      choices: ["bray-p1", "olsen"],
      seen: "lab.csv, P: 12",
    };
    const open = { key: "row-spacing-in", text: "How far apart?", choices: [], seen: "line.geojson" };
    const { exit, text, json } = told(new QuestionError([question, open]));
    expect(exit).toBe(3);
    expect(text).toBe(
      [
        "bermplan: 2 questions need an answer; nothing was written",
        "  Which method?",
        "    seen: lab.csv, P: 12",
        "    choices: bray-p1, olsen",
        "    answer with: --answer method.P=VALUE",
        "  How far apart?",
        "    seen: line.geojson",
        "    answer with: --answer row-spacing-in=VALUE",
        "",
      ].join("\n"),
    );
    expect(json).toEqual({ questions: [question, open] });
  });

  test("choices that have commas of their own are told apart", () => {
    const choices = ["a.csv", "b.csv", "a.csv, b.csv"];
    const { text } = told(new QuestionError([{ key: "sampling.P", text: "Which?", choices, seen: "" }]));
    expect(text).toContain("    choices: a.csv; b.csv; a.csv, b.csv\n");
  });

  test("a question about several files tells the key for each alone", () => {
    const one = { key: "unit.P", text: "Which unit?", choices: ["ppm"], seen: "a.csv: 8; b.csv: 16" };
    const byFile = ["a.csv", "b.csv"].map((path) => ({ ...one, key: `unit.P.${path}`, seen: path }));
    const { text, json } = told(new QuestionError([{ ...one, byFile }]));
    expect(text).toContain("    for one file alone: unit.P.a.csv=VALUE, unit.P.b.csv=VALUE\n");
    expect(json).toEqual({ questions: [{ ...one, byFile }] });
    const ofOne = told(new QuestionError([{ ...one, byFile: byFile.slice(0, 1) }]));
    expect(ofOne.text).not.toContain("alone");
    expect(ofOne.json).toEqual({ questions: [one] });
  });

  test("our bug: says so, with version and stack trace", () => {
    const { exit, text, json } = told(new Error("index out of step", { cause: new Error("deeper") }));
    expect(exit).toBe(1);
    expect(text).toMatch(/^bermplan: this is our fault, not yours/);
    for (const part of ["bermplan 1.2.3", process.version, "index out of step", "talk.test.ts", "deeper"]) {
      expect(text).toContain(part);
    }
    expect(json).toBeNull();
    expect(told("thrown text").text).toContain("thrown text");
  });
});
