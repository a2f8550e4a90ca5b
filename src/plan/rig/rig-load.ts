import {
  divideMovableWall,
  type TimeLines,
  timeLinesOf,
  usableLoad,
  type WallDivision,
} from "../../capacity/index.ts";
import { sum } from "../../numeric/index.ts";
import type { RigBin, RigFigures } from "./rig-figures.ts";

/** One hopper at its rate, lb/ac through it. */
export interface BinLoad {
  readonly id: string;
  readonly product: string;
  readonly rateLbPerAc: number;
  readonly byVolumeLb: number;
  /** Null without a limit of weight. */
  readonly byWeightLb: number | null;
  readonly limit: "volume" | "weight";
  /** lb that can be metered out of a full hopper. */
  readonly loadLb: number;
  /** Acres it lasts; null at a rate of 0. */
  readonly acPerFill: number | null;
}

/** What goes out between two fills. */
export interface RigLoad {
  readonly bins: readonly BinLoad[];
  /** Set where the hoppers share one box with a movable wall: loads in proportion to the rates. */
  readonly wall: WallDivision | null;
  /** lb of all hoppers together; 0 at a rate of 0. */
  readonly loadLb: number;
  /** Null at a rate of 0. */
  readonly acPerFill: number | null;
  /** What ends the fill, in words: `bin L, its weight`. */
  readonly limit: string;
}

/** lb and acres between two fills at constant rates through the hoppers, in their order. */
export function rigLoad(figures: RigFigures, ratesLbPerAc: readonly number[]): RigLoad {
  const bins = figures.bins.map((bin, i) => binLoad(bin, ratesLbPerAc[i] ?? 0));
  const rate = sum(bins.map((bin) => bin.rateLbPerAc));
  if (!(rate > 0)) return { bins, wall: null, loadLb: 0, acPerFill: null, limit: "nothing is laid" };
  const wall = figures.movableWall && bins.length > 1 ? wallOf(figures, bins) : null;
  const residualLb = sum(figures.bins.map((bin) => bin.residualLb));
  const byAll =
    figures.carriesLb === null ? Number.POSITIVE_INFINITY : (figures.carriesLb - residualLb) / rate;
  const ends: (readonly [acres: number, limit: string])[] = wall
    ? [[wall.acPerFill, `the box, its ${wall.limit}`]]
    : bins.flatMap((bin) =>
        bin.acPerFill === null ? [] : [[bin.acPerFill, `bin ${bin.id}, its ${bin.limit}`]],
      );
  ends.push([Math.max(0, byAll), "what the rig may carry"]);
  const [acPerFill, limit] = ends.reduce((least, one) => (one[0] < least[0] ? one : least));
  return { bins, wall, loadLb: acPerFill * rate, acPerFill, limit };
}

/** Lines against the maps' rate in place of what goes through the bins. */
export function linesByMap({ rig, tender }: TimeLines, throughBins: number): TimeLines {
  const byMap = ({ hoursPerAc, hoursPerLb }: TimeLines["rig"]): TimeLines["rig"] => ({
    hoursPerAc,
    hoursPerLb: hoursPerLb * throughBins,
  });
  return { rig: byMap(rig), tender: tender && byMap(tender) };
}

/** Hours against the maps' rate, the hoppers running empty in proportion to the rates given; null where nothing is laid. */
export function fullLoadLines(figures: RigFigures, ratesLbPerAc: readonly number[]): TimeLines | null {
  const { loadLb } = rigLoad(figures, ratesLbPerAc);
  if (loadLb === 0) return null;
  const { work, tenders } = figures;
  const lines = timeLinesOf(work, Math.min(loadLb, tenders?.lb ?? loadLb), tenders ?? undefined);
  return linesByMap(lines, figures.throughBins);
}

function binLoad(bin: RigBin, rateLbPerAc: number): BinLoad {
  const { id, product } = bin;
  const load = usableLoad(bin);
  return {
    id,
    product,
    rateLbPerAc,
    ...load,
    acPerFill: rateLbPerAc > 0 ? load.loadLb / rateLbPerAc : null,
  };
}

/** One box: the volumes and weights of the hoppers add up, and what stays in them is taken off. */
function wallOf({ bins }: RigFigures, loads: readonly BinLoad[]): WallDivision {
  const used = loads.map((load) => load.rateLbPerAc);
  const weights = bins.map((bin) => bin.weightLimitLb);
  const residualLb = sum(bins.map((bin) => bin.residualLb));
  const known = weights.every((weight) => weight !== undefined);
  return divideMovableWall({
    usableFt3: sum(bins.map((bin) => bin.binFt3 * (bin.fillFactor ?? 1) - bin.residualLb / bin.lbPerFt3)),
    ...(known ? { weightLimitLb: sum(weights) - residualLb } : {}),
    products: bins.map((bin, i) => ({ rateLbPerAc: used[i]!, lbPerFt3: bin.lbPerFt3 })),
  });
}
