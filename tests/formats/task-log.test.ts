// Layout of time logs of ISO 11783-10 from memory; what elements lay and how wide they are by the task's own allocation.
import { expect, test } from "vitest";
import { readTaskData } from "../../src/formats/index.ts";
import { MG_PER_M2_PER_LB_PER_AC } from "../../src/units/index.ts";

const utf8 = new TextEncoder();
const rates = (mg: readonly number[]) => mg.map((value) => value / MG_PER_M2_PER_LB_PER_AC);

/** A task with one log of a row: number and element of each variable, and their values. */
function logOf(
  inside: string,
  variables: readonly (readonly [ddi: string, element: string, value: number])[],
) {
  const xml = `<ISO11783_TaskData VersionMajor="4"><PDT A="PDT1" B="11-52-0"/><PDT A="PDT2" B="0-0-60"/>
<DVC A="DVC-1"><DET A="DET-1" B="10" D="Boom" F="0"/><DET A="DET-2" B="20" D="Left box" F="10"/>
<DET A="DET-3" B="30" D="Right box" F="10"/><DET A="DET-4" B="40" D="Section 1" F="20"/>
<DET A="DET-5" B="50" D="Section 2" F="20"/></DVC>
<TSK A="TSK1" B="strips" G="4">${inside}<TLG A="TLG00001"/></TSK></ISO11783_TaskData>`;
  const header = `<TIM A=""><PTN A="" B="" D=""/>${variables
    .map(([ddi, element]) => `<DLV A="${ddi}" B="" C="${element}"/>`)
    .join("")}</TIM>`;
  const row = new DataView(new ArrayBuffer(16 + 5 * variables.length));
  row.setUint16(4, 17_274, true);
  row.setInt32(6, 420_000_000, true);
  row.setInt32(10, -935_000_000, true);
  row.setUint8(15, variables.length);
  variables.forEach(([, , value], n) => {
    row.setUint8(16 + 5 * n, n);
    row.setInt32(17 + 5 * n, value, true);
  });
  const files = new Map([
    ["TASKDATA/TASKDATA.XML", utf8.encode(xml)],
    ["TASKDATA/TLG00001.XML", utf8.encode(header)],
    ["TASKDATA/TLG00001.BIN", new Uint8Array(row.buffer)],
  ]);
  return readTaskData(files, "task").tasks[0]!.logs[0]!.points;
}

test("each product gets its own rate; the machine's width holds where its element tells none", () => {
  const points = logOf('<PAN A="PDT1" E="DET-2"/><PAN A="PDT2" E="DET-3"/>', [
    ["0043", "DET-1", 12_192],
    ["0006", "DET-2", 11_000],
    ["0007", "DET-2", 12_000],
    ["0007", "DET-3", 5_000],
  ]);
  expect(points.map(({ product }) => product)).toEqual(["11-52-0", "0-0-60"]);
  expect(points.map((one) => one.appliedLbPerAc)).toEqual(rates([12_000, 5_000]));
  expect(points.map((one) => one.targetLbPerAc)).toEqual([...rates([11_000]), null]);
  for (const { widthFt } of points) expect(widthFt).toBeCloseTo(40, 9);
  expect(points.map(({ pass }) => pass)).toEqual([0, 1]);
});

test("sections of one box are one reading: rates by width, widths added; the box's product is theirs", () => {
  const points = logOf('<PAN A="PDT1" E="DET-2"/><PAN A="PDT2" E="DET-3"/>', [
    ["0043", "DET-4", 9_144],
    ["0043", "DET-5", 3_048],
    ["0007", "DET-4", 12_000],
    ["0007", "DET-5", 4_000],
  ]);
  expect(points).toHaveLength(1);
  expect(points[0]!.product).toBe("11-52-0");
  expect(points[0]!.appliedLbPerAc).toBeCloseTo(10_000 / MG_PER_M2_PER_LB_PER_AC, 9);
  expect(points[0]!.widthFt).toBeCloseTo(40, 9);
});

test("products by the zones of the task; without any, elements go by their names, a single one by none", () => {
  const two = [
    ["0007", "DET-2", 12_000],
    ["0007", "DET-3", 5_000],
  ] as const;
  const zones =
    '<TZN A="1"><PDV A="0006" B="1" C="PDT2" D="DET-2"/><PDV A="0006" B="1" C="PDT1" D="DET-3"/></TZN>';
  expect(logOf(zones, two).map(({ product }) => product)).toEqual(["0-0-60", "11-52-0"]);
  expect(logOf("", two).map(({ product }) => product)).toEqual(["Left box", "Right box"]);
  expect(logOf("", two.slice(0, 1)).map(({ product }) => product)).toEqual([""]);
  expect(logOf('<PAN A="PDT2"/>', two.slice(0, 1)).map(({ product }) => product)).toEqual(["0-0-60"]);
});
