/** Way of turning round at the end of a pass. */
type TurnKind = "u" | "bulb";

interface Turn {
  readonly kind: TurnKind;
  /** Path driven from the end of one pass to the start of the next, m. */
  readonly lengthM: number;
  /** How far the path goes beyond the end of the pass, m, at the middle of the rig. */
  readonly depthM: number;
}

/**
 * The shortest turn between two passes whose middles lie `apartM` apart, by arcs of the smallest radius: a U when they are
 * two radii apart or more; nearer, a bulb. Ends taken as square to the passes.
 * Source: plane geometry of arcs and tangents; the same forms stand in Bochtis and Vougioukas 2008, Biosystems
 * Engineering 101:1-12 (from memory). A rig that steers gradually needs more.
 */
export const turnBetween = (apartM: number, radiusM: number): Turn => {
  const r = radiusM;
  const d = apartM;
  if (d >= 2 * r) return { kind: "u", lengthM: (Math.PI - 2) * r + d, depthM: r };
  const lengthM = r * (3 * Math.PI - 4 * Math.asin((2 * r + d) / (4 * r)));
  const depthM = r * (1 + Math.sqrt(4 - ((2 * r + d) / (2 * r)) ** 2));
  return { kind: "bulb", lengthM, depthM };
};

/** Width of headland a turn needs so that the whole rig stays on it, m. */
export const headlandNeeded = (turn: Turn, widthM: number): number => turn.depthM + widthM / 2;
