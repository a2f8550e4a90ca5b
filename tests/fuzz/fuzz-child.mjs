// One reader, many cases, in this process: node --expose-gc fuzz-child.mjs DIST DATA READER SEED COUNT PROGRESS
// A case may end in a reading or an InputError. Anything else, more than 1 s of processor time or more than 200 MB is a fault.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { materialOf } from "./material.mjs";
import { mutated, randomOf } from "./mutate.mjs";

const [dist, data, reader, seedText, countText, progress] = process.argv.slice(2);
const load = (path) => import(pathToFileURL(join(dist, path)).href);
// These few files load faster than the whole of the plan's folder.
const { readInput } = await load("plan/sources/read-input.js");
const { INPUT_ROLES } = await load("plan/sources/read-items.js");
const { inputFacts } = await load("plan/sources/input-facts.js");
const { inputLines } = await load("plan/sources/input-line.js");
const { InputError } = await load("errors/index.js");
const { readZip } = await load("formats/index.js");
const material = materialOf(reader, data, readZip);
const MOST_MS = 1000;
const MOST_BYTES = 200 * 2 ** 20;

const processorMs = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

const faults = [];
let read = 0;
let asked = 0;
let refused = 0;
let slowestMs = 0;
let mostBytes = 0;
for (let index = 0; index < Number(countText); index++) {
  const seed = Number(seedText) + index;
  const random = randomOf(seed);
  const pick = (list) => list[Math.floor(random() * list.length)];
  const { files, answers } = pick(material);
  const changed = new Map(files);
  const paths = [...files.keys()];
  const path = pick(paths);
  const other = pick(material);
  changed.set(path, mutated(files.get(path), random, other.files.get(pick([...other.files.keys()]))));
  if (paths.length > 1 && random() < 0.05) changed.delete(pick(paths));
  const role = random() < 0.6 ? undefined : pick(INPUT_ROLES);
  const options = { answers: random() < 0.3 ? {} : answers, ...(role === undefined ? {} : { as: role }) };
  writeFileSync(progress, `${seed}`);
  if (index % 20 === 0) globalThis.gc();
  const before = process.memoryUsage().rss;
  const begun = processorMs();
  try {
    const reading = readInput("fuzz", changed, options);
    if (reading.questions.length > 0) asked += 1;
    else {
      inputFacts(reading);
      inputLines(reading);
      read += 1;
    }
  } catch (error) {
    if (error instanceof InputError && error.remedy !== "") refused += 1;
    else faults.push({ seed, what: String(error?.stack ?? error).slice(0, 600) });
  }
  const took = processorMs() - begun;
  const grown = process.memoryUsage().rss - before;
  if (took > MOST_MS) faults.push({ seed, what: `took ${Math.round(took)} ms` });
  if (grown > MOST_BYTES) faults.push({ seed, what: `took ${Math.round(grown / 2 ** 20)} MB` });
  slowestMs = Math.max(slowestMs, took);
  mostBytes = Math.max(mostBytes, grown);
}
const figures = { reader, seed: Number(seedText), cases: Number(countText), read, asked, refused, slowestMs: Math.round(slowestMs) };
process.stdout.write(JSON.stringify({ ...figures, mostMb: Math.round(mostBytes / 2 ** 20), faults }));
