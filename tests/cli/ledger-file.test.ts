import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { realDisk } from "../../src/cli/disk-calls.ts";
import { addToLedger } from "../../src/cli/ledger-file.ts";
import { type LedgerEvent, readLedger } from "../../src/ledger/index.ts";
import { afterDeath, Crash, type CrashPoint, crashingDisk, letTimePass } from "../support/crashing-disk.ts";

const base = mkdtempSync(join(tmpdir(), "ledger-file-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let folder: string;
let count = 0;
beforeEach(() => {
  folder = mkdtempSync(join(base, `${count++}-`));
});
const path = () => join(folder, "ledger.txt");
const read = () => readLedger(existsSync(path()) ? readFileSync(path()) : new Uint8Array(), "ledger.txt");

const yieldOf = (buPerAc: number): LedgerEvent => ({ kind: "yield", fieldId: "A", crop: "corn", buPerAc });
const first = [yieldOf(180), yieldOf(181)];
const added = [yieldOf(190), yieldOf(191), yieldOf(192)];
const figures = () => read().entries.map((entry) => (entry.kind === "yield" ? entry.buPerAc : 0));

describe("adding", () => {
  test("what stood there stays byte for byte; numbers go on", () => {
    addToLedger(folder, "2027-10-01", first, realDisk);
    const before = readFileSync(path());
    const entries = addToLedger(folder, "2027-10-02", added, realDisk);
    expect(entries.map((entry) => [entry.number, entry.date])).toEqual(
      [3, 4, 5].map((n) => [n, "2027-10-02"]),
    );
    expect(readFileSync(path()).subarray(0, before.length)).toEqual(before);
    expect(readdirSync(folder)).toEqual(["ledger.txt"]);
  });

  test("nothing at all is written when one of the events may not be", () => {
    addToLedger(folder, "2027-04-18", [{ kind: "finished", fieldId: "A", pass: "strip" }], realDisk);
    const before = readFileSync(path());
    const loaded: LedgerEvent = { kind: "loaded", fieldId: "A", map: "A", revision: "B" };
    expect(() => addToLedger(folder, "2027-04-19", [yieldOf(1), loaded], realDisk)).toThrow(/was finished/);
    expect(readFileSync(path())).toEqual(before);
  });

  test("a changed line is not written over", () => {
    addToLedger(folder, "2027-10-01", [...first, ...added], realDisk);
    const lines = readFileSync(path(), "utf8").split("\n");
    writeFileSync(path(), [lines[0], lines[1]!.replace("181", "281"), ...lines.slice(2)].join("\n"));
    expect(() => addToLedger(folder, "2027-10-02", added, realDisk)).toThrow(
      /line 2: it does not read as it was/,
    );
  });

  test("while another process writes it is refused", () => {
    const held = { lock: "bermplan", pid: process.pid, mark: "", host: "elsewhere", id: "0123456789abcdef" };
    writeFileSync(`${path()}.lock`, `${JSON.stringify(held)}\n`);
    expect(() => addToLedger(folder, "2027-10-01", first, realDisk)).toThrow(/is being written/);
    expect(existsSync(path())).toBe(false);
  });
});

function dieAt(point: CrashPoint | null): string[] {
  const calls: string[] = [];
  try {
    addToLedger(folder, "2027-10-02", added, crashingDisk(point, calls));
  } catch (error) {
    if (!(error instanceof Crash)) throw error;
  }
  return calls;
}

describe.each(["no ledger", "a ledger with two lines"])("killed at every call, over %s", (start) => {
  const begun = start === "no ledger" ? [] : first;
  const begin = (): void => {
    rmSync(path(), { force: true });
    rmSync(`${path()}.lock`, { force: true });
    if (begun.length > 0) addToLedger(folder, "2027-10-01", begun, afterDeath);
  };

  test("the old lines and the first of the new ones are read; the next addition goes on from there", () => {
    begin();
    const calls = dieAt(null);
    expect(calls).toContain("openEnd");
    let cutOff = 0;
    for (let call = 0; call < calls.length; call++) {
      for (const when of ["before", "half", "after"] as const) {
        begin();
        dieAt({ call, when });
        const { notices } = read();
        const survived = figures();
        const all = [180, 181].slice(0, begun.length).concat([190, 191, 192]);
        expect(survived, `${calls[call]} ${call}, ${when}`).toEqual(all.slice(0, survived.length));
        expect(survived.length).toBeGreaterThanOrEqual(begun.length);
        cutOff += notices.length;
        letTimePass(folder);
        addToLedger(folder, "2027-10-03", [yieldOf(200)], afterDeath);
        expect(figures()).toEqual([...survived, 200]);
        expect(read().entries.map((entry) => entry.number)).toEqual(figures().map((_, i) => i + 1));
      }
    }
    expect(cutOff).toBeGreaterThan(0);
  });

  test("cut off at every byte: no finished line is lost and none appears", () => {
    begin();
    const before = begun.length === 0 ? 0 : readFileSync(path()).length;
    dieAt(null);
    const whole = readFileSync(path());
    for (let length = before; length <= whole.length; length++) {
      writeFileSync(path(), whole.subarray(0, length));
      const survived = figures();
      const all = [180, 181].slice(0, begun.length).concat([190, 191, 192]);
      expect(survived).toEqual(all.slice(0, survived.length));
      // A line that lacks only its end counts; before that it does not.
      const lines = whole.subarray(0, length + 1).filter((byte) => byte === 0x0a).length;
      expect(survived.length).toBe(lines);
    }
  });
});
