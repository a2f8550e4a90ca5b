import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mergeTaskData, type PlannedTask, readTaskData, writeTaskData } from "../../src/formats/index.ts";
import { MG_PER_M2_PER_LB_PER_AC } from "../../src/units/index.ts";
import { expectTaskDataRules } from "./task-data-rules.ts";

const square = [
  [
    [-93.5, 42],
    [-93.49, 42],
    [-93.49, 42.01],
    [-93.5, 42.01],
  ],
  [
    [-93.496, 42.004],
    [-93.496, 42.006],
    [-93.494, 42.006],
    [-93.494, 42.004],
  ],
] as const;

const task = (more: Partial<PlannedTask> = {}): PlannedTask => ({
  number: 10,
  name: "LOW strip",
  field: { number: 1, name: "Low Forty", areaM2: 918_211.6, boundary: [square] },
  products: [
    { number: 1, name: "11-52-0" },
    { number: 2, name: "0-0-60" },
  ],
  rates: {
    kind: "grid",
    southWest: [-93.5, 42],
    eastDeg: 0.0025,
    northDeg: 0.005,
    columns: 4,
    rows: 2,
    mgPerM2: [Int32Array.of(1, 2, 3, 4, 5, 6, 7, 8), Int32Array.of(11, 12, 13, 14, 15, 16, 17, 18)],
  },
  ...more,
});
const write = (tasks: readonly PlannedTask[], version: 3 | 4 = 4, farm = "Hazel farm") =>
  writeTaskData({ version, customer: farm, farm, tasks });
const xmlOf = (set: ReadonlyMap<string, Uint8Array>) =>
  new TextDecoder().decode(set.get("TASKDATA/TASKDATA.XML"));

describe("writeTaskData", () => {
  it("keeps every rule for grids and zones, in versions 3 and 4, which differ by the root alone", () => {
    const zones = task({
      rates: { kind: "zones", zones: [{ name: "all", mgPerM2: [11_209, 0], polygons: [square] }] },
    });
    for (const one of [task(), zones]) {
      for (const version of [3, 4] as const) expectTaskDataRules(write([one], version), version);
      expect(xmlOf(write([one], 3)).replace(`VersionMajor="3"`, `VersionMajor="4"`)).toBe(
        xmlOf(write([one], 4)),
      );
    }
  });

  it("lays cells out from the south-west, along rows, product by product in each cell", () => {
    // ISO 11783-10 grid files: three open implementations agree (first row the southernmost, columns west to east).
    const bytes = write([task()]).get("TASKDATA/GRD00010.BIN")!;
    const raw = new Int32Array(bytes.buffer);
    expect([...raw]).toEqual([1, 11, 2, 12, 3, 13, 4, 14, 5, 15, 6, 16, 7, 17, 8, 18]);
    expect([...bytes.slice(4, 8)]).toEqual([11, 0, 0, 0]); // little-endian
  });

  it("has 112.0851 mg/m2 in a pound an acre", () => {
    // 453,592.37 / 4,046.8564224 (NIST Handbook 44, Appendix C, from memory).
    expect(MG_PER_M2_PER_LB_PER_AC).toBeCloseTo(112.0851, 4);
  });

  it("cuts texts at 32 whole characters, escapes once, drops what XML does not hold", () => {
    const name = `A&B <"x"> \u0007🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾🌾`;
    const set = write([task({ name, field: { ...task().field, name: "\u0001" } })], 4, name);
    expectTaskDataRules(set, 4);
    expect(xmlOf(set)).toContain(`<CTR A="CTR1" B="A&amp;B &lt;&quot;x&quot;&gt;  🌾`);
    expect(xmlOf(set)).not.toContain("&amp;amp;");
    expect(readTaskData(set, "set").tasks[0]!.name).toBe(
      [...name.replace("\u0007", " ")].slice(0, 32).join(""),
    );
    expect(xmlOf(set)).toContain(`C="unnamed"`);
  });

  it("sets the zones for start, lost position and outside to 0 unless typed", () => {
    const read = (one: PlannedTask) => readTaskData(write([one]), "set").tasks[0]!.rates[1]!;
    expect(read(task())).toMatchObject({ ddi: "0006", defaultRate: 0, positionLost: 0, outOfField: 0 });
    const typed = read(task({ always: { start: 500, positionLost: 60, outOfField: 7 } }));
    expect(typed).toMatchObject({ defaultRate: 500, positionLost: 60, outOfField: 7 });
  });

  it("is read back cell by cell by the reader of task data", () => {
    const cells = fc.integer({ min: 0, max: 2 ** 31 - 1 });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: 1, max: 7 }),
        fc.infiniteStream(cells),
        (columns, rows, values) => {
          const mgPerM2 = [0, 1].map(() =>
            Int32Array.from({ length: columns * rows }, () => values.next().value!),
          );
          const rates = {
            kind: "grid",
            southWest: [-93.5, 42],
            eastDeg: 1e-4,
            northDeg: 9e-5,
            columns,
            rows,
            mgPerM2,
          } as const;
          const { rates: read } = readTaskData(write([task({ rates })]), "set").tasks[0]!;
          expect(read.map(({ grid }) => [...grid!.values])).toEqual(mgPerM2.map((one) => [...one]));
          expect(read[0]!.grid).toMatchObject({
            columns,
            rows,
            southWest: [-93.5, 42],
            eastDeg: 1e-4,
            northDeg: 9e-5,
          });
        },
      ),
      { seed: 11_783, numRuns: 30 },
    );
  });

  it("takes rates and sizes that the format cannot hold for our bug", () => {
    const always = { start: 2 ** 31, positionLost: 0, outOfField: 0 };
    expect(() => write([task({ always })])).toThrow(/cannot be written/);
    expect(() => write([task({ number: 100_000 })])).toThrow(/no id/);
    const zone = { name: "z", mgPerM2: [1, 1], polygons: [square] };
    expect(() => write([task({ rates: { kind: "zones", zones: Array(252).fill(zone) } })])).toThrow(
      /252 zones/,
    );
  });
});

describe("mergeTaskData", () => {
  const other = task({ number: 20, field: { ...task().field, number: 2, name: "High Forty" } });

  it("makes of two sets the set that holds both", () => {
    const merged = mergeTaskData([write([other]), write([task()])]);
    expect([...merged]).toEqual([...write([task(), other])]);
    expectTaskDataRules(merged, 4);
  });

  it("refuses sets of two versions, of other makers, and one number for two things", () => {
    expect(() => mergeTaskData([write([task()]), write([other], 3)])).toThrow(/versions/);
    expect(() => mergeTaskData([write([task()]), write([{ ...task(), name: "another" }])])).toThrow(/TSK10/);
    const foreign = new TextEncoder().encode("<ISO11783_TaskData><CTR A='CTR1'/></ISO11783_TaskData>");
    expect(() => mergeTaskData([new Map([["TASKDATA/TASKDATA.XML", foreign]])])).toThrow();
  });
});
