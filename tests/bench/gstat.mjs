import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createInterface } from "node:readline";

/**
 * R with gstat in a process of its own, kept for the whole run; null where there is none.
 * @param {string} folder for the numbers that go there and back
 */
export async function openGstat(folder) {
  const r = spawn("Rscript", ["--vanilla", join(import.meta.dirname, "gstat.R")], {
    stdio: ["pipe", "pipe", "ignore"],
  });
  const ended = new Promise((done) => {
    r.on("error", done);
    r.on("exit", done);
  });
  r.stdin.on("error", () => {});
  const lines = createInterface({ input: r.stdout })[Symbol.asyncIterator]();
  const nextLine = async () => {
    const line = await Promise.race([lines.next(), ended.then(() => null)]);
    return line === null || line.done ? null : line.value.trim().split(/\s+/);
  };
  const first = await nextLine();
  if (first === null) return null;
  return {
    versions: `R ${first[1]}, gstat ${first[2]}`,
    /** Seconds of processor time as R counts them, and what it found. */
    async run({ what, samples, k, type, range, block = 0, side }) {
      const n = samples.value.length;
      const [into, out] = [join(folder, "in.bin"), join(folder, "out.bin")];
      writeFileSync(into, Buffer.from(Float64Array.of(...samples.x, ...samples.y, ...samples.value).buffer));
      r.stdin.write(`${[what, n, k, type, range, block, side, into, out].join("\t")}\n`);
      const answer = await nextLine();
      if (answer === null) throw new Error("R ended by itself");
      const bytes = readFileSync(out);
      const numbers = new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
      const half = numbers.length / 2;
      return {
        seconds: Number(answer[1]),
        kriged: { estimate: numbers.slice(0, half), variance: numbers.slice(half) },
      };
    },
    close() {
      r.stdin.end();
      return ended;
    },
  };
}
