import type { Notice } from "../../errors/index.ts";
import { type Point, polygonFinder } from "../../geo/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { acres, numberText } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { oxideIn } from "../document/field-products.ts";
import type { Pieces } from "../results/drive-result-types.ts";
import type { FieldGrid } from "../results/result-types.ts";

/** Share of a maximum rate that rounding may go beyond, and acres, before it is said. */
const OVER_SHARE = 0.001;
const OVER_AC = 0.05;

/**
 * Ground on which strip and broadcast together bring more of an oxide than the field's maximum: the spreader goes by steps
 * and by its own width, flat rates as typed. Told with its acres and the most that lies there, and with what helps: the steps are
 * blamed for no more than one step of each map.
 */
export function maximumPassed(
  plan: Pick<Plan, "rig" | "spreader">,
  field: PlanField,
  cells: FieldGrid,
  passes: Pieces,
  swaths: Pieces,
  maps: readonly Prescription[],
): Notice[] {
  return (["P2O5", "K2O"] as const).flatMap((oxide): Notice[] => {
    const maximum = field.nutrients?.[oxide]?.maxLbPerAc;
    if (maximum === undefined) return [];
    const bring = maps.filter((map) => oxideIn(map.analysis, oxide) > 0);
    const inStrip = bring.filter((map) => map.pass === "strip");
    const limit = (1 + OVER_SHARE) * maximum;
    const lbPerAcAt = (of: readonly Prescription[], piece: number): number =>
      sum(of.map((map) => (map.rateLbPerAc[piece] ?? 0) * oxideIn(map.analysis, oxide)));
    const { areaAc, most } =
      inStrip.length === bring.length || inStrip.length === 0
        ? aboveOnPieces(limit, (inStrip.length > 0 ? passes : swaths).areaAc, (k) => lbPerAcAt(bring, k))
        : aboveOnCells(limit, cells, passes, swaths, (piece, swath) =>
            sum([
              lbPerAcAt(inStrip, piece),
              lbPerAcAt(
                bring.filter((map) => map.pass !== "strip"),
                swath,
              ),
            ]),
          );
    if (areaAc < OVER_AC) return [];
    const stepsLbPerAc = sum(
      bring.map((map) => {
        const { rateStepLbPerAc } = map.pass === "strip" ? plan.rig : plan.spreader;
        return rateStepLbPerAc * oxideIn(map.analysis, oxide);
      }),
    );
    const over = `more than the maximum of ${maximum} lb ${oxide}/ac on ${numberText(areaAc, 1)} ac, up to ${numberText(most, 1)} lb/ac`;
    const message =
      most - maximum <= stepsLbPerAc
        ? `${field.name}: rates in steps bring ${over}: make the steps finer, or lower the maximum by as much`
        : `${field.name}: the spreader's one rate over its whole width brings, where the strip's rates change within it, ${over}. Narrower spreader cells, or a split whose strip rates change less from place to place (a common ceiling), lessen it; ${oxide} in one pass alone ends it; finer steps do not help, and a lower maximum takes pounds off the whole field`;
    return [{ code: "maximum-passed", message, where: field.id }];
  });
}

/** Acres that get more than a rate, and the most of it. */
interface Above {
  readonly areaAc: number;
  readonly most: number;
}

/** Of the pieces of one pass. */
function aboveOnPieces(limit: number, areaAc: Float64Array, lbPerAcOf: (piece: number) => number): Above {
  let [overAc, most] = [0, 0];
  areaAc.forEach((ac, k) => {
    const lbPerAc = lbPerAcOf(k);
    if (lbPerAc <= limit) return;
    overAc += ac;
    most = Math.max(most, lbPerAc);
  });
  return { areaAc: overAc, most };
}

/**
 * Of both passes together, read at the middle of every cell from the pieces that lie there; cells whose middle lies outside
 * the field count like the others.
 */
function aboveOnCells(
  limit: number,
  { grid, areaM2 }: FieldGrid,
  passes: Pieces,
  swaths: Pieces,
  broughtAt: (piece: number, swath: number) => number,
): Above {
  const finderOf = ({ pieces }: Pieces) => polygonFinder(pieces.map(({ polygon }) => polygon));
  const [findPiece, findSwath] = [finderOf(passes), finderOf(swaths)];
  let [readM2, overM2, most] = [0, 0, 0];
  areaM2.forEach((cellM2, cell) => {
    if (cellM2 <= 0) return;
    const column = cell % grid.nx;
    const place: Point = [
      (grid.ix0 + column + 0.5) * grid.cellM,
      (grid.iy0 + (cell - column) / grid.nx + 0.5) * grid.cellM,
    ];
    const [piece, swath] = [findPiece(place), findSwath(place)];
    if (piece < 0 && swath < 0) return;
    readM2 += cellM2;
    const lbPerAc = broughtAt(piece, swath);
    if (lbPerAc <= limit) return;
    overM2 += cellM2;
    most = Math.max(most, lbPerAc);
  });
  return { areaAc: readM2 > 0 ? acres(overM2 * (sum(areaM2) / readM2)) : 0, most };
}
