import { resolve } from "node:path";
import { defineConfig } from "vitest/config";

export default defineConfig({
  root: resolve(import.meta.dirname, ".."),
  resolve: { conditions: ["source"] },
  ssr: { resolve: { conditions: ["source", "node", "import", "module", "default"] } },
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 300_000,
    hookTimeout: 300_000,
    pool: "forks",
    maxWorkers: 2,
  },
});
