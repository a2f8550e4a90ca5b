// Real threads, with the compiled engine in them.
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { openBandThreads } from "../../src/cli/parallel-bands.ts";
import type { BandThreads } from "../../src/interpolate/index.ts";
import { krigeGrid, type Samples, StoppedError, type VariogramModel } from "../../src/interpolate/index.ts";
import { uniform } from "../interpolate/simulate.ts";
import { compiledCli } from "../support/compiled-cli.ts";

let threads: BandThreads;

beforeAll(async () => {
  const file = join(dirname(compiledCli()), "parallel-bands.js");
  const compiled: { openBandThreads: typeof openBandThreads } = await import(pathToFileURL(file).href);
  threads = compiled.openBandThreads(2);
});
afterAll(() => threads.close());

const next = uniform(3);
const draw = (n: number, to: number) => Float64Array.from({ length: n }, () => next() * to);
const samples: Samples = { x: draw(200, 900), y: draw(200, 600), value: draw(200, 30) };
const model: VariogramModel = { nugget: 1, structures: [{ type: "exponential", partialSill: 3, range: 80 }] };
const grid = { nx: 300, ny: 200, ix0: 0, iy0: 0, cellM: 3 };
const wanted = Uint8Array.from({ length: 60_000 }, (_, i) => (i % 5 === 0 ? 0 : 1));

describe("threads", () => {
  it("give the map of one thread, bit for bit, and report every row", async () => {
    const rows: number[] = [];
    const options = { variance: true, parallel: threads, onRow: (done: number) => rows.push(done) };
    const there = await krigeGrid(samples, model, grid, wanted, options);
    expect(there).toEqual(await krigeGrid(samples, model, grid, wanted, { variance: true }));
    expect(rows).toHaveLength(13);
    expect(rows.at(-1)).toBe(200);
  });

  it("stop when asked, and work again afterwards", async () => {
    const signal = { aborted: false };
    const onRow = (): void => {
      signal.aborted = true;
    };
    const large = { ...grid, nx: 1200, cellM: 1 };
    const all = new Uint8Array(1200 * 200).fill(1);
    const stopped = krigeGrid(samples, model, large, all, {
      variance: true,
      parallel: threads,
      signal,
      onRow,
    });
    await expect(stopped).rejects.toMatchObject({ name: new StoppedError().name });
    const small = { ...grid, ny: 100 };
    const again = await krigeGrid(samples, model, small, wanted.slice(0, 30_000), {
      variance: true,
      parallel: threads,
    });
    expect(again.estimate.some(Number.isFinite)).toBe(true);
  });

  it("tell what is wrong with the input as an error of input", async () => {
    const flat: VariogramModel = {
      nugget: 0,
      structures: [{ type: "gaussian", partialSill: 1, range: 1e7 }],
    };
    const refused = krigeGrid(samples, flat, grid, wanted, { variance: true, parallel: threads });
    await expect(refused).rejects.toMatchObject({ code: "model-not-solvable" });
  });
});
