// What each reader's cases begin from: the sample files, with the answers their verdicts name.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** Every reader that is fuzzed. */
export const READERS = ["shapefile", "zip", "geojson", "kml", "csv", "lab-xml", "task-data", "task-log"];

const ANSWERS = {
  ...{ "unit.P": "ppm", "unit.K": "ppm", "method.P": "mehlich-3-icp", "method.K": "ammonium-acetate", depth: "0-6in" },
  ...{ "unit.rate": "lb/ac", "missing-rate": "leave-out", "null-geometry": "leave-out", "close-ring": "yes" },
  ...{ "limit.P": "5", "limit.K": "5", "same-place": "mean", "unreadable-value": "leave-out", oxide: "oxide" },
  ...{ "decimal-comma": "leave-out", "swap-lon-lat": "yes", "west-sign": "west", "repair-boundary": "non-zero" },
  "coordinate-system": "EPSG:26915",
};

/** A list of {files, answers}; `files` is path -> bytes. */
export function materialOf(reader, data, readZip) {
  const bytes = (path) => new Uint8Array(readFileSync(join(data, path)));
  const names = (folder) => readdirSync(join(data, folder)).map((name) => `${folder}/${name}`);
  const alone = (paths) => paths.map((path) => ({ files: new Map([[path.split("/").at(-1), bytes(path)]]), answers: ANSWERS }));
  if (reader === "shapefile") {
    return names("shp").map((path) => {
      const parts = [...readZip(bytes(path), path).files].filter(([name]) => /\.(shp|shx|dbf|prj|cpg)$/i.test(name));
      return { files: new Map(parts), answers: ANSWERS };
    });
  }
  if (reader === "zip") return alone([...names("shp"), "kml/02-boundary.kmz", "asapplied/02-points-shp.zip"]);
  if (reader === "geojson") return alone(names("geojson"));
  if (reader === "kml") return alone(names("kml").filter((path) => path.endsWith(".kml")));
  if (reader === "csv") return alone([...names("csv"), "asapplied/01-points.csv"]);
  if (reader === "lab-xml") return alone(names("labxml"));
  if (reader === "task-data") {
    return names("taskdata").map((folder) => {
      const paths = readdirSync(join(data, folder), { recursive: true }).filter((path) => statSync(join(data, folder, path)).isFile());
      return { files: new Map(paths.map((path) => [path, bytes(`${folder}/${path}`)])), answers: ANSWERS };
    });
  }
  if (reader === "task-log") return [{ files: taskLogFiles(), answers: ANSWERS }];
  throw new Error(`no reader is called ${reader}`);
}

/** Task data with a time log of forty rows, made by hand after the layout the reader states. */
export function taskLogFiles() {
  const text = (words) => new TextEncoder().encode(words);
  const rows = 40;
  const rowSize = 4 + 2 + 4 + 4 + 1 + 3 * 5;
  const log = new Uint8Array(rows * rowSize);
  const view = new DataView(log.buffer);
  for (let row = 0; row < rows; row++) {
    const at = row * rowSize;
    view.setUint32(at, 50_400_000 + 1000 * row, true);
    view.setUint16(at + 4, 16_909, true);
    view.setInt32(at + 6, 419_733_712 + 900 * row, true);
    view.setInt32(at + 10, -936_273_814, true);
    view.setUint8(at + 14, 3);
    [17_934, 17_000 + row, 9_144].forEach((value, index) => {
      view.setUint8(at + 15 + 5 * index, index);
      view.setInt32(at + 16 + 5 * index, value, true);
    });
  }
  const values = ["0006", "0007", "0043"].map((ddi) => `<DLV A="${ddi}" B="" C="DET-1"/>`).join("");
  const root = '<ISO11783_TaskData VersionMajor="4" VersionMinor="3" DataTransferOrigin="2">';
  return new Map([
    ["TASKDATA/TASKDATA.XML", text(`${root}<TSK A="TSK1" B="Strip P" G="4"><TLG A="TLG00001"/></TSK></ISO11783_TaskData>`)],
    ["TASKDATA/TLG00001.XML", text(`<TIM A="" D="4"><PTN A="" B=""/>${values}</TIM>`)],
    ["TASKDATA/TLG00001.BIN", log],
  ]);
}
