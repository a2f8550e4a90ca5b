import type { RatedPiece } from "./split-run.ts";

/** What the cab sheet must say when a map carries a lead. */
export const LEAD_CAUTION =
  "Rates on this map are moved ahead of their place for the meter's delay. Set every delay or look-ahead of the controller to 0, and drive each pass the way its arrow points: driven the other way the rates lie twice the lead off.";

/**
 * The pieces of a run, in the order driven, with the rate each is to be told so that product meant for a place comes
 * down there: what is wanted one lead (speed times delay) farther on, the mean over the piece so moved; near the end of
 * the run the last piece's. Off unless asked for: a controller that leads by itself would lead twice. The run's pounds
 * change a little by the lead; stretch and step the rates afterwards.
 */
export const leadRates = (pieces: readonly RatedPiece[], leadM: number): RatedPiece[] => {
  if (leadM === 0) return [...pieces];
  const starts: number[] = [];
  let runM = 0;
  for (const { lengthM } of pieces) {
    starts.push(runM);
    runM += lengthM;
  }
  return pieces.map((piece, i) => {
    const from = starts[i]! + leadM;
    const to = from + piece.lengthM;
    let weighted = 0;
    let covered = 0;
    for (let k = i; k < pieces.length; k++) {
      const last = k + 1 === pieces.length;
      const end = last ? Number.POSITIVE_INFINITY : starts[k]! + pieces[k]!.lengthM;
      const overlap = Math.min(to, end) - Math.max(from, starts[k]!);
      if (overlap <= 0) continue;
      weighted += overlap * pieces[k]!.lbPerAc;
      covered += overlap;
    }
    return covered > 0 ? { ...piece, lbPerAc: weighted / covered } : piece;
  });
};
