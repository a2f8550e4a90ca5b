import { resolve } from "node:path";
import { defineConfig } from "vitest/config";

/** Measurements in a browser; run by `npm run bench:page`, never with the tests. */
export default defineConfig({
  root: resolve(import.meta.dirname, "../.."),
  resolve: { conditions: ["source"] },
  ssr: { resolve: { conditions: ["source", "node", "import", "module", "default"] } },
  test: { include: ["tests/bench/*.bench.ts"], testTimeout: 180_000, hookTimeout: 180_000, pool: "forks" },
});
