import { type FieldResult, passPaths } from "#core";
import type { PassLines } from "./protocol.ts";

/** The middle line of every segment, for the map. */
export function passLines({ checked, passes, driving }: FieldResult): PassLines {
  const { pieces, runs } = passes;
  const paths = passPaths(passes);
  const ends = new Float64Array(4 * pieces.length);
  const widthM = new Float64Array(pieces.length);
  paths.forEach(({ path, widthM: wide }, k) => {
    ends.set([...checked.frame.toLonLat(path[0]!), ...checked.frame.toLonLat(path.at(-1)!)], 4 * k);
    widthM[k] = wide;
  });
  return {
    ends,
    pass: Int32Array.from(pieces, (piece) => piece.pass),
    column: Int32Array.from(pieces, (piece) => piece.column),
    areaAc: Float64Array.from(passes.areaAc),
    widthM,
    headland: Uint8Array.from(pieces, ({ kind }) => (kind === "headland" ? 1 : 0)),
    lengthM: Float64Array.from(pieces, ({ alongStartM, alongEndM }) => alongEndM - alongStartM),
    numbers: driving.firstPass === null ? null : [driving.firstPass, driving.lastPass!],
    runs: runs.map(({ kind, pass, block, forward, segments }) => ({
      kind,
      pass,
      block,
      forward,
      segments: Int32Array.from(segments),
    })),
  };
}
