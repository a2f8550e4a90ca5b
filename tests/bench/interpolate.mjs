// `npm run bench:interpolate`: kriging against R's gstat (floors and goals), two threads against one, inverse distance
// against turf, and the `kriging` package; alternating, medians, written to docs/benchmarks.md. A gstat row is void unless
// both answers agree at every cell.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openBandThreads } from "../../dist/cli/parallel-bands.js";
import { writeSection } from "./bench-page.mjs";
import { gstatRows, inverseDistanceRow, krigingPackageRow, threadRow } from "./bench-rows.mjs";
import { openGstat } from "./gstat.mjs";

/** A side that takes longer is run once. */
const ONCE_SECONDS = 60;
/** Work here that is shorter is repeated for so long; and so long it is warmed up before anything is counted. */
const LEAST_MS = 300;
const say = (line) => process.stderr.write(`${line}\n`);
const median = (list) => {
  const sorted = list.toSorted((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
};

/**
 * Seconds of processor time, that of compilers and other helpers in this process included; short work is done again and
 * again for a while.
 */
async function counted(work) {
  const before = process.cpuUsage();
  const start = performance.now();
  let times = 0;
  let result;
  do {
    result = await work();
    times++;
  } while (performance.now() - start < LEAST_MS);
  const { user, system } = process.cpuUsage(before);
  return { seconds: (user + system) / 1e6 / times, result };
}

/** Seconds by the clock. */
async function timed(work) {
  const start = performance.now();
  const result = await work();
  return { seconds: (performance.now() - start) / 1000, result };
}

/** Runs two sides in turn; each gives seconds, taken by itself or from outside. */
async function alternate(reps, first, second) {
  const seconds = [[], []];
  const slow = (list) => list.length > 0 && list[0] > ONCE_SECONDS;
  for (let rep = 0; rep < reps; rep++) {
    for (const [side, run] of [first, second].entries()) {
      if (!slow(seconds[side])) seconds[side].push(await run());
    }
  }
  return seconds.map((list) => ({ seconds: median(list), runs: list.length }));
}

function largestDifference(a, b) {
  let most = 0;
  for (const map of ["estimate", "variance"]) {
    if (a[map].length !== b[map].length) return Number.POSITIVE_INFINITY;
    for (let i = 0; i < a[map].length; i++) {
      const off = Math.abs(a[map][i] - b[map][i]);
      if (!(off <= most)) most = off;
    }
  }
  return most;
}

const figure = (value) => (value >= 100 ? value.toFixed(0) : value.toPrecision(3));
const shown = ({ seconds, runs }, cells) => {
  const once = runs === 1 ? ", once" : "";
  if (cells !== undefined) return `${figure((seconds / cells) * 1e6)} us a cell${once}`;
  return seconds < 1 ? `${figure(seconds * 1000)} ms${once}` : `${figure(seconds)} s${once}`;
};
const verdict = (ratio, floor, goal) => {
  if (floor === undefined) return "";
  return ratio >= goal ? "goal" : ratio >= floor ? "floor" : "**below the floor**";
};
const asked = (floor, goal) => (floor === undefined ? "" : `${floor}x (${goal}x)`);

const table = [];
const folder = mkdtempSync(join(tmpdir(), "bench-interpolate-"));
const gstat = await openGstat(folder);
if (gstat === null) {
  const line = "R with gstat is not installed here (on Debian: apt install r-cran-gstat), so nothing was held against it.";
  say(line);
  table.push(`| ${line} | | | | | |`);
} else {
  for (const row of gstatRows) {
    let [ours, theirs] = [];
    say(row.name);
    await counted(row.ours);
    const [own, other] = await alternate(
      row.reps,
      async () => {
        const { seconds, result } = await counted(row.ours);
        ours = result;
        return seconds;
      },
      async () => {
        const { seconds, kriged } = await gstat.run(row.task);
        theirs = kriged;
        return seconds;
      },
    );
    const off = largestDifference(ours, theirs);
    const ratio = other.seconds / own.seconds;
    const agree = off <= row.tolerance;
    const result = agree ? `${figure(ratio)}x` : "void";
    const judged = agree ? verdict(ratio, row.floor, row.goal) : `answers ${off.toExponential(1)} apart`;
    say(`  ${result}, ${off.toExponential(1)} apart`);
    table.push(
      `| ${row.name} | ${shown(own, row.perCell)} | ${shown(other, row.perCell)} | ${result} | ${asked(row.floor, row.goal)} | ${judged} |`,
    );
  }
  await gstat.close();
}
rmSync(folder, { recursive: true });

const threads = openBandThreads(2);
const many = threadRow(threads);
say(many.name);
await many.two(); // the threads start once in a program's life
// On a busy machine the clock says little of threads: processor seconds beside it tell what they cost more together.
const spent = [[], []];
async function clocked(work, side) {
  const before = process.cpuUsage();
  const { seconds } = await timed(work);
  const { user, system } = process.cpuUsage(before);
  spent[side].push((user + system) / 1e6);
  return seconds;
}
const [one, two] = await alternate(
  many.reps,
  () => clocked(many.one, 0),
  () => clocked(many.two, 1),
);
await threads.close();
const gain = one.seconds / two.seconds;
const [alone, together] = spent.map(median);
const free = (2 * alone) / together;
say(`  ${figure(gain)}x by the clock; ${figure(alone)} and ${figure(together)} processor seconds, ${figure(free)}x were both processors free`);
table.push(
  `| ${many.name} | ${shown(two, 1e6)} | ${shown(one, 1e6)} (one thread) | ${figure(gain)}x; ${figure(free)}x by processor seconds | ${asked(many.floor, many.goal)} | ${verdict(gain, many.floor, many.goal)} |`,
);

const inverse = inverseDistanceRow();
say("inverse distance against turf");
const perPair = async (work) => {
  const { seconds, result } = await counted(work);
  return seconds / result;
};
const [pair, turfPair] = await alternate(5, () => perPair(inverse.ours), () => perPair(inverse.turf));
const pairs = turfPair.seconds / pair.seconds;
say(`  ${figure(pairs)}x`);
const nano = ({ seconds }) => `${figure(seconds * 1e9)} ns a pair`;
table.push(
  `| inverse distance, 180 samples, against turf (timed only) | ${nano(pair)} | ${nano(turfPair)} (turf) | ${figure(pairs)}x | 50x | ${pairs >= 50 ? "floor" : "**below the floor**"} |`,
);

const baseline = krigingPackageRow();
say("the kriging package");
const [mean, packaged] = await alternate(
  5,
  async () => (await timed(baseline.ours)).seconds,
  async () => baseline.theirs(),
);
table.push(
  `| mean alone, 180 samples, 2,500 places, against the package \`kriging\` (timed only; another estimator) | ${shown(mean, 2500)} | ${shown(packaged, 2500)} | ${figure(packaged.seconds / mean.seconds)}x | | |`,
);

const text = `Both sides of a row ran in turn in one run, the figures are medians (a side
that takes over ${ONCE_SECONDS} s runs once), and a row against R's gstat counts only when both answers agree at every cell, mean and variance,
to 1e-9 (cells by 4 x 4 points: 1e-6, since gstat keeps their weights in single precision), for values of standard deviation 1. Times include
solving the equations, and short work here is repeated for 0.3 s, once before it counts. They are seconds of processor time (for two threads and the package \`kriging\`: by the clock), so that other programs
on the machine weigh less; they still slow both sides, so compare the ratios. Two threads need two free processors: where others
use them, the ratio by processor seconds (twice one thread's over both's) tells what the clock cannot.

| what | here | gstat, or as named | ratio | floor (goal) | reached |
|---|---|---|---|---|---|
${table.join("\n")}`;
writeSection("interpolate", text, {
  packages: ["@turf/turf", "kriging"],
  programs: gstat === null ? [] : [gstat.versions],
});
process.exit(/below the floor|void/.test(table.join("")) ? 1 : 0);
