// The ledger that the page has and that of the folder served: which of the two counts.
import { describe, expect, it } from "vitest";
import { ledgersInWords, metAndRead, metLedgers } from "../../app/src/state/ledgers-met.ts";
import { ledgerAddition } from "../../src/ledger/index.ts";

const bytes = (text: string) => new TextEncoder().encode(text);
const met = (own: string, folders: string) => metLedgers(bytes(own), bytes(folders));

describe("two ledgers of one plan", () => {
  it("the same lines are the same ledger, whatever ends them", () => {
    expect(met("", "")).toEqual({ kind: "same" });
    expect(met("a\nb\n", "a\nb\n")).toEqual({ kind: "same" });
    expect(met("a\nb\n", "a\r\nb\r\n")).toEqual({ kind: "same" });
    expect(met("a\rb", "a\nb\n")).toEqual({ kind: "same" });
    expect(met("a\n\nb\n", "a\nb\n\n")).toEqual({ kind: "same" });
  });

  it("the one that goes on from the other is the newer", () => {
    expect(met("", "a\nb\n")).toEqual({ kind: "grown", lines: 2 });
    expect(met("a\nb\n", "a\nb\nc\nd\n")).toEqual({ kind: "grown", lines: 2 });
    expect(met("a\r\nb\r\n", "a\nb\nc\n")).toEqual({ kind: "grown", lines: 1 });
    // A line was cut off, and the next began on a line of its own; or it was read while it was written.
    expect(met("a\nbe", "a\nbe\nc\n")).toEqual({ kind: "grown", lines: 1 });
    expect(met("a\nbe", "a\nbegun\nc\n")).toEqual({ kind: "grown", lines: 2 });
    expect(met("a\nb\nc\n", "a\n")).toEqual({ kind: "ahead", ownLines: 3, lines: 1 });
    expect(met("a\n", "")).toEqual({ kind: "ahead", ownLines: 1, lines: 0 });
  });

  it("neither counts by itself where they differ in a line, whichever is longer", () => {
    expect(met("a\nb\n", "a\nc\nd\n")).toEqual({ kind: "apart", line: 2, ownLines: 2, lines: 3 });
    expect(met("a\nb\nc\n", "x\n")).toEqual({ kind: "apart", line: 1, ownLines: 3, lines: 1 });
  });

  it("one that does not read as it was written gives way to one that does, whichever is longer", async () => {
    const whole = ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-18", {
      kind: "finished",
      fieldId: "low-forty",
      pass: "strip",
    });
    const text = new TextDecoder().decode(whole);
    const damaged = bytes(`${text}a line that nobody wrote\n`);
    const others = bytes("another line that nobody wrote\n");
    expect(await metAndRead(damaged, whole)).toEqual({ kind: "mended" });
    expect(await metAndRead(others, whole)).toEqual({ kind: "mended" });
    // What is wrong in the folder is wrong for the page as for the command line.
    expect(await metAndRead(whole, damaged)).toEqual({ kind: "grown", lines: 1 });
    expect(await metAndRead(whole, others)).toMatchObject({ kind: "apart", line: 1 });
    expect(await metAndRead(damaged, others)).toMatchObject({ kind: "apart", line: 1 });
    expect(await metAndRead(whole, new Uint8Array())).toMatchObject({ kind: "ahead" });
  });

  it("is told where one was taken", () => {
    expect(ledgersInWords(met("a\n", "a\nb\n"))).toBe(
      "ledger.txt in the folder has 1 line more than the page had; maps, order and stick go by it now.",
    );
    expect(ledgersInWords(met("", "a\nb\n"))).toMatch(/has 2 lines more .* go by them now\.$/);
    expect(ledgersInWords(met("a\nb\n", "a\n"))).toMatch(
      /^ledger\.txt in the folder has 1 line, the page's own 2, /,
    );
    expect(ledgersInWords(met("a\n", "a\n"))).toBe("");
  });
});
