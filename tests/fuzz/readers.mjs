// npm run fuzz:readers [-- CASES [SEED [READER...]]]: 2,500 changed files a reader, 20,000 in all, against the built engine.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fuzzReader } from "./fuzz-readers.mjs";
import { READERS } from "./material.mjs";

const [countText = "2500", seedText = "1000003", ...named] = process.argv.slice(2);
const dist = join(import.meta.dirname, "../../dist");
if (!existsSync(join(dist, "plan/index.js"))) {
  console.error("Build first: npm run build:cli");
  process.exit(2);
}
let faulty = 0;
let cases = 0;
for (const reader of named.length > 0 ? named : READERS) {
  const report = await fuzzReader(dist, reader, Number(seedText), Number(countText));
  const { faults, ...figures } = report;
  console.log(JSON.stringify({ ...figures, faults: faults.length }));
  for (const { seed, what } of faults.slice(0, 5)) console.log(`  seed ${seed}: ${what}`);
  faulty += faults.length;
  cases += report.cases;
}
console.log(`${cases} cases, ${faulty} faults; a case again: node tests/fuzz/readers.mjs 1 SEED READER`);
process.exit(faulty > 0 ? 1 : 0);
