// Runs the cases of one reader in a child process and returns its report; a child that dies or hangs is a fault.
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const here = import.meta.dirname;
const data = join(here, "../data/formats");

/** {reader, seed, cases, read, asked, refused, slowestMs, mostMb, faults: [{seed, what}]}. */
export async function fuzzReader(dist, reader, seed, count) {
  const folder = mkdtempSync(join(tmpdir(), "fuzz-"));
  const progress = join(folder, "seed");
  const args = ["--expose-gc", join(here, "fuzz-child.mjs"), dist, data, reader, String(seed), String(count), progress];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "pipe"] });
  let out = "";
  let said = "";
  child.stdout.on("data", (piece) => {
    out += piece;
  });
  child.stderr.on("data", (piece) => {
    said += piece;
  });
  const patience = setTimeout(() => child.kill("SIGKILL"), 60_000 + 200 * count);
  const code = await new Promise((done) => child.on("close", done));
  clearTimeout(patience);
  try {
    if (code === 0) return JSON.parse(out);
    const at = readFileSync(progress, "utf8");
    return { reader, seed, cases: count, faults: [{ seed: Number(at), what: `the process died or hung: ${said.slice(0, 400)}` }] };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
