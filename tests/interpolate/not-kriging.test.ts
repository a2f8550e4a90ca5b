import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { expect, it } from "vitest";
import { krige } from "../../src/interpolate/index.ts";

// The `kriging` package (MIT) has no unbiasedness condition and adds methods to Array.prototype; it is run in a process
// of its own, as the baseline a real ordinary kriging is held against.
const SCRIPT = `
  const code = require("node:fs").readFileSync(process.argv[1], "utf8");
  const { kriging } = new Function(code + "; return test;")();
  const same = [20, 20, 20, 20];
  const model = kriging.train(same, [0, 100, 0, 100], [0, 0, 100, 100], "spherical", 0, 100);
  const found = kriging.predict(50, 50, model);
  console.log(JSON.stringify({ found, polluted: Object.keys(Array.prototype).length > 0 }));
`;

it("a field of all 20s is 20 here and 0 in the baseline package", () => {
  const file = createRequire(import.meta.url).resolve("kriging/dist/kriging.js");
  const { found, polluted } = JSON.parse(
    execFileSync(process.execPath, ["-e", SCRIPT, file], { encoding: "utf8" }),
  );
  expect(found).toBe(0);
  expect(polluted).toBe(true);

  const samples = {
    x: Float64Array.of(0, 100, 0, 100),
    y: Float64Array.of(0, 0, 100, 100),
    value: new Float64Array(4).fill(20),
  };
  const model = { nugget: 1, structures: [{ type: "spherical" as const, partialSill: 1, range: 100 }] };
  expect(krige(samples, model, { x: Float64Array.of(50), y: Float64Array.of(50) }).estimate[0]).toBe(20);
});
