// `npm run bench`: every benchmark in turn, each writing its section of docs/benchmarks.md; names those below their floor at the end.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { parts } from "./bench-page.mjs";

const below = Object.keys(parts).filter((part) => {
  const begun = performance.now();
  const { status } = spawnSync("npm", ["run", "--silent", `bench:${part}`], {
    cwd: join(import.meta.dirname, "../.."),
    stdio: "inherit",
  });
  console.log(`bench:${part}: ${((performance.now() - begun) / 60_000).toFixed(1)} min, exit ${status}`);
  return status !== 0;
});
if (below.length > 0) console.log(`Below a floor or not finished: ${below.join(", ")}`);
process.exitCode = below.length > 0 ? 1 : 0;
