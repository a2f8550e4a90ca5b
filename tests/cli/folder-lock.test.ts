import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type DiskCalls, realDisk } from "../../src/cli/disk-calls.ts";
import { takeLock } from "../../src/cli/folder-lock.ts";
import { InputError } from "../../src/errors/index.ts";

let folder: string;
let out: string;
let path: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "lock-test-"));
  out = join(folder, "out");
  path = `${out}.lock`;
});

afterEach(() => rmSync(folder, { recursive: true, force: true }));

function refusal(work: () => unknown): InputError {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return error as InputError;
  }
  throw new Error("not refused");
}

const holder = (fields: object): string =>
  `{"lock":"bermplan",${JSON.stringify({ pid: 1, mark: "", host: hostname(), id: "f".repeat(16), ...fields }).slice(1)}\n`;

async function deadPid(): Promise<number> {
  const child = spawn(process.execPath, ["-e", "0"]);
  await once(child, "exit");
  return child.pid!;
}

describe("takeLock", () => {
  test("is one process's until released", () => {
    const lock = takeLock(path, out, realDisk);
    expect(JSON.parse(readFileSync(path, "utf8"))).toMatchObject({ lock: "bermplan", pid: process.pid });
    const error = refusal(() => takeLock(path, out, realDisk));
    expect(error.code).toBe("folder-busy");
    expect(error.message).toBe(`${out} is being written by process ${process.pid} on ${hostname()}`);
    expect(error.remedy).toContain(path);
    lock.confirm();
    lock.release();
    expect(readdirSync(folder)).toEqual([]);
    takeLock(path, out, realDisk).release();
  });

  test("takes over from a process that is dead", async () => {
    writeFileSync(path, holder({ pid: await deadPid() }));
    const lock = takeLock(path, out, realDisk);
    lock.confirm();
    expect(readdirSync(folder)).toEqual(["out.lock"]);
    lock.release();
  });

  test.runIf(process.platform === "linux")(
    "takes over when the number now belongs to another process",
    () => {
      writeFileSync(path, holder({ pid: process.pid, mark: "12" }));
      takeLock(path, out, realDisk).release();
      writeFileSync(path, holder({ pid: process.pid, mark: realDisk.processMark(process.pid) }));
      expect(refusal(() => takeLock(path, out, realDisk)).code).toBe("folder-busy");
    },
  );

  test("does not judge a process of another machine", async () => {
    writeFileSync(path, holder({ pid: await deadPid(), host: "elsewhere" }));
    expect(refusal(() => takeLock(path, out, realDisk)).message).toContain("on elsewhere");
  });

  test.each(["", '{"lock":"berm', holder({}).slice(0, -8)])(
    "gives the maker of a torn lock two seconds, then takes over: %j",
    (torn) => {
      writeFileSync(path, torn);
      expect(refusal(() => takeLock(path, out, realDisk)).code).toBe("folder-busy");
      const before = Date.now() / 1000 - 3;
      utimesSync(path, before, before);
      takeLock(path, out, realDisk).release();
    },
  );

  test("leaves a file of somebody else alone", () => {
    writeFileSync(path, "my notes");
    utimesSync(path, 1, 1);
    expect(refusal(() => takeLock(path, out, realDisk)).code).toBe("lock-in-the-way");
    expect(readFileSync(path, "utf8")).toBe("my notes");
  });

  test("puts back a living lock that took the dead one's place while it was looked at", async () => {
    const dead = await deadPid();
    writeFileSync(path, holder({ pid: dead }));
    const living = holder({ pid: process.pid, mark: realDisk.processMark(process.pid), id: "1".repeat(16) });
    const disk: DiskCalls = {
      ...realDisk,
      processMark: (pid) => {
        if (pid === dead) writeFileSync(path, living); // another process takes over between look and move
        return realDisk.processMark(pid);
      },
    };
    expect(refusal(() => takeLock(path, out, disk)).code).toBe("folder-busy");
    expect(readFileSync(path, "utf8")).toBe(living);
    expect(readdirSync(folder)).toEqual(["out.lock"]);
  });

  test("a holder that lost its lock is told before the step that counts, and removes nothing", () => {
    const lock = takeLock(path, out, realDisk);
    writeFileSync(path, holder({ pid: process.pid }));
    expect(refusal(() => lock.confirm()).code).toBe("folder-busy");
    lock.release();
    expect(existsSync(path)).toBe(true);
  });
});
