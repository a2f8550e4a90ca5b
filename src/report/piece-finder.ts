import { containsPoint, type Point } from "../geo/index.ts";
import type { Pieces } from "../plan/index.ts";
import type { LineFrame } from "./line-frame.ts";

/** Finds the piece of a lattice along the line A-B that holds a place; -1 where there is none. */
type PieceFinder = (place: Point) => number;

export function pieceFinder(pieces: Pieces, frame: LineFrame, widthM: number, lengthM: number): PieceFinder {
  const byCell = new Map<string, number[]>();
  pieces.pieces.forEach(({ pass, column }, k) => {
    const key = `${pass},${column}`;
    const there = byCell.get(key);
    if (there) there.push(k);
    else byCell.set(key, [k]);
  });
  return (place) => {
    const [across, along] = frame.toLine(place);
    const key = `${Math.floor(across / widthM + 0.5)},${Math.floor(along / lengthM)}`;
    return (byCell.get(key) ?? []).find((k) => containsPoint([pieces.pieces[k]!.polygon], place)) ?? -1;
  };
}
