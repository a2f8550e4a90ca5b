import { readZip, writeZip } from "../../src/formats/index.ts";
import { WGS84_PRJ } from "../../src/formats/wgs84-prj.ts";
import { writeDbf } from "../../src/formats/write-dbf.ts";
import { MG_PER_M2_PER_LB_PER_AC } from "../../src/units/index.ts";
import type { DrivenPoint } from "./drive-log.ts";

const utf8 = new TextEncoder();
const day = Date.UTC(2027, 3, 18);
const dayNumber = (day - Date.UTC(1980, 0, 1)) / 86_400_000;
const timeOf = ({ seconds }: DrivenPoint): number => day + 8 * 3_600_000 + 1000 * seconds;

/** A log as zipped point shapefile: layout of point records by the shapefile description, second-hand. */
export function logPointsZip(points: readonly DrivenPoint[], product: string, widthFt: number): Uint8Array {
  const shp = new DataView(new ArrayBuffer(100 + 28 * points.length));
  const lons = points.map(({ lonLat }) => lonLat[0]);
  const lats = points.map(({ lonLat }) => lonLat[1]);
  shp.setInt32(0, 9994);
  shp.setInt32(24, shp.byteLength / 2);
  shp.setInt32(28, 1000, true);
  shp.setInt32(32, 1, true);
  [Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats)].forEach((value, k) => {
    shp.setFloat64(36 + 8 * k, value, true);
  });
  points.forEach(({ lonLat }, k) => {
    const at = 100 + 28 * k;
    shp.setInt32(at, k + 1);
    shp.setInt32(at + 4, 10);
    shp.setInt32(at + 8, 1, true);
    shp.setFloat64(at + 12, lonLat[0], true);
    shp.setFloat64(at + 20, lonLat[1], true);
  });
  const shx = new DataView(new ArrayBuffer(100 + 8 * points.length));
  new Uint8Array(shx.buffer).set(new Uint8Array(shp.buffer, 0, 100));
  shx.setInt32(24, shx.byteLength / 2);
  points.forEach((_, k) => {
    shx.setInt32(100 + 8 * k, (100 + 28 * k) / 2);
    shx.setInt32(104 + 8 * k, 10);
  });
  const dbf = writeDbf(
    points.map((point) => ({
      Time: new Date(timeOf(point)).toISOString().replace(".000Z", "Z"),
      Width_ft: widthFt,
      TgtLbAc: point.target,
      ApplLbAc: point.applied,
      Product: product,
    })),
    [
      { name: "Time", type: "C", width: 20 },
      { name: "Width_ft", type: "N", width: 8, decimals: 2 },
      { name: "TgtLbAc", type: "N", width: 8, decimals: 2 },
      { name: "ApplLbAc", type: "N", width: 8, decimals: 2 },
      { name: "Product", type: "C", width: 12 },
    ],
    "2027-04-18",
    "log.dbf",
  );
  const files = new Map([
    ["log.shp", new Uint8Array(shp.buffer)],
    ["log.shx", new Uint8Array(shx.buffer)],
    ["log.dbf", dbf],
    ["log.prj", utf8.encode(WGS84_PRJ)],
  ]);
  return writeZip(files, "2027-04-18");
}

/** One zip of point shapefiles, a layer a log, named by its key. */
export function logLayersZip(
  layers: Readonly<Record<string, readonly DrivenPoint[]>>,
  product: string,
  widthFt: number,
): Uint8Array {
  const files = Object.entries(layers).flatMap(([stem, points]) =>
    [...readZip(logPointsZip(points, product, widthFt), stem).files].map(
      ([path, bytes]) => [path.replace(/^log\./, `${stem}.`), bytes] as const,
    ),
  );
  return writeZip(new Map(files), "2027-04-18");
}

/**
 * A log of two products as zipped task data, as a terminal might write it: one time log, a device element a bin below the
 * one that tells the width, products allocated to the bins; after the first row only what changed.
 */
export function logTaskDataZip(
  bins: readonly (readonly DrivenPoint[])[],
  products: readonly string[],
  widthFt: number,
): Uint8Array {
  const pdt = products.map((name, b) => `<PDT A="PDT${b + 1}" B="${name}"/>`).join("");
  const det = products.map(
    (_, b) => `<DET A="DET-${b + 2}" B="${b + 2}" C="3" D="Bin ${b + 1}" E="${b + 1}" F="1"/>`,
  );
  const pan = products.map((_, b) => `<PAN A="PDT${b + 1}" E="DET-${b + 2}"/>`).join("");
  const xml = `<?xml version="1.0" encoding="UTF-8"?>
<ISO11783_TaskData VersionMajor="4" VersionMinor="3" DataTransferOrigin="2">${pdt}
<DVC A="DVC-1" B="rig"><DET A="DET-1" B="1" C="1" D="Boom" E="0" F="0"/>${det.join("")}</DVC>
<TSK A="TSK1" B="strips" G="4">${pan}<TLG A="TLG00001" C="1"/></TSK></ISO11783_TaskData>`;
  const variables = [
    { ddi: "0043", element: 1 },
    ...products.flatMap((_, b) => [
      { ddi: "0006", element: b + 2 },
      { ddi: "0007", element: b + 2 },
    ]),
  ];
  const header = `<TIM A="" D="4"><PTN A="" B="" D=""/>${variables
    .map(({ ddi, element }) => `<DLV A="${ddi}" B="" C="DET-${element}"/>`)
    .join("")}</TIM>`;
  const last: (number | undefined)[] = variables.map(() => undefined);
  const rows = bins[0]!.map((point, k) => {
    const values = [
      Math.round(widthFt * 304.8),
      ...bins.flatMap((points) => {
        const { target, applied } = points[k]!;
        return [target, applied].map((rate) => Math.round(rate * MG_PER_M2_PER_LB_PER_AC));
      }),
    ];
    const changed = values.flatMap((value, v) => (value === last[v] ? [] : [[v, value] as const]));
    for (const [v, value] of changed) last[v] = value;
    const row = new DataView(new ArrayBuffer(16 + 5 * changed.length));
    row.setUint32(0, timeOf(point) - day, true);
    row.setUint16(4, dayNumber, true);
    row.setInt32(6, Math.round(point.lonLat[1] * 1e7), true);
    row.setInt32(10, Math.round(point.lonLat[0] * 1e7), true);
    row.setUint8(14, 4);
    row.setUint8(15, changed.length);
    changed.forEach(([v, value], n) => {
      row.setUint8(16 + 5 * n, v);
      row.setInt32(17 + 5 * n, value, true);
    });
    return new Uint8Array(row.buffer);
  });
  const bin = new Uint8Array(rows.reduce((sum, row) => sum + row.length, 0));
  let at = 0;
  for (const row of rows) {
    bin.set(row, at);
    at += row.length;
  }
  const files = new Map([
    ["TASKDATA/TASKDATA.XML", utf8.encode(xml)],
    ["TASKDATA/TLG00001.XML", utf8.encode(header)],
    ["TASKDATA/TLG00001.BIN", bin],
  ]);
  return writeZip(files, "2027-04-18");
}
