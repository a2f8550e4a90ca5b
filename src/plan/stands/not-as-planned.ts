import type { Notice } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import { oxideIn } from "../document/field-products.ts";
import { bothProducts, byHandInWords } from "./both-products.ts";
import { isSpread, otherWeights } from "./other-weights.ts";
import { isStripDone, type MapFigures, OXIDES, ownLb, shareLaid, stripSurplusLb } from "./placed-surplus.ts";
import { OR_PUT_BACK } from "./product-put-back.ts";

/** A field's maps. */
export interface WorkedField {
  readonly field: { readonly id: string; readonly name: string };
  readonly prescriptions: readonly MapFigures[];
}

/**
 * Strips with other pounds in them than this plan's strip maps count on, and what the broadcast maps would therefore lay too
 * much: of a pass that is done by any difference, of one that is begun by other pounds than its maps can have on those acres.
 */
export function notAsPlannedNotices(result: WorkedField, stand: FieldStand): Notice[] {
  const { field, prescriptions } = result;
  // Nothing is spread any more, whatever lies there.
  if (stand.isSpreadFinished) return [];
  const isDone = isStripDone(stand);
  const other = isDone ? otherWeights(prescriptions, stand) : beyondWhatIsDone(prescriptions, stand);
  if (other.length === 0) return [];
  const tooMuch = isSpread(prescriptions, stand) ? [] : tooMuchOf(result, stand);
  const reckon =
    tooMuch.length === 0
      ? "its broadcast maps and the order reckon with this plan's strip maps, not with what lies there"
      : `its broadcast maps reckon with this plan's strip maps, not with what lies there, and would lay ${tooMuch.join(" and ")} too much`;
  const message = `${field.name}: by the ledger there lie in the strip${isDone ? "" : " so far"} ${other.join(" and ")}; ${reckon}: ${catchUpRemedy(result, stand)}`;
  return [{ code: "placed-not-as-planned", message, where: field.id }];
}

/**
 * The same for who is to spread: what the broadcast maps would lay besides what lies in the strips, and what to do, in words
 * without a full stop at the end; empty where they lay nothing too much.
 */
export function spreadTooMuchInWords(result: WorkedField, stand: FieldStand): string {
  const tooMuch = tooMuchOf(result, stand);
  if (tooMuch.length === 0) return "";
  return `${result.field.name}: by the ledger more lies in its strips than its broadcast maps reckon with, and they would lay ${tooMuch.join(" and ")} too much: ${catchUpRemedy(result, stand)}`;
}

/** Products of a pass that is begun whose pounds the maps cannot have on its acres, or that brought more of an oxide than they can. */
function beyondWhatIsDone(prescriptions: readonly MapFigures[], stand: FieldStand): string[] {
  const over = OXIDES.filter((oxide) => stripSurplusLb(prescriptions, stand, oxide) > 0);
  const brings = ({ p2o5Lb, k2oLb }: FieldStand["placed"][number]): boolean =>
    over.some((oxide) => (oxide === "P2O5" ? p2o5Lb : k2oLb) > 0);
  return stand.placed
    .filter(
      (one) =>
        one.pass === "strip" &&
        (brings(one) || stand.notByMaps.some(({ product }) => product === one.product)),
    )
    .map(({ product, lb, areaAc }) => {
      const beyond = stand.notByMaps.find((one) => one.product === product);
      // What the ground of its logs can have, where they tell it, as the order says.
      const reach = beyond && (stand.stripReach.find((one) => one.product === product) ?? beyond);
      if (reach !== undefined) {
        const can =
          reach.mostLb < lb
            ? `${numberText(reach.mostLb, 0)} at most`
            : `${numberText(reach.leastLb, 0)} at least`;
        return `${numberText(lb, 0)} lb ${product} on ${numberText(areaAc, 1)} ac (the maps have ${can} on as many)`;
      }
      const own = prescriptions.filter((map) => map.pass === "strip" && map.product === product);
      const planned = numberText(sum(own.map(({ totalLb }) => totalLb)), 0);
      return `${numberText(lb, 0)} lb ${product} on ${numberText(areaAc, 1)} ac (the maps have ${planned} on the whole field)`;
    });
}

/** What the broadcast maps would lay although it lies in the strip: `3,171 lb 0-0-60 (1,902 lb K2O)`. */
function tooMuchOf(worked: WorkedField, stand: FieldStand): string[] {
  if (stand.isSpreadFinished) return [];
  const { prescriptions } = worked;
  return prescriptions.flatMap((map) =>
    map.pass === "broadcast" ? weightInWords(map, tooMuchLb(map, prescriptions, stand)) : [],
  );
}

/** Pounds of a map's product with the oxides in them: `3,171 lb 0-0-60 (1,902 lb K2O)`; none where it prints as nothing. */
export function weightInWords({ product, analysis }: MapFigures, lb: number): string[] {
  if (lb < 0.5) return [];
  const oxides = OXIDES.filter((oxide) => oxideIn(analysis, oxide) > 0).map(
    (oxide) => `${numberText(lb * oxideIn(analysis, oxide), 0)} lb ${oxide}`,
  );
  return [`${numberText(lb, 0)} lb ${product} (${oxides.join(", ")})`];
}

function tooMuchLb(map: MapFigures, prescriptions: readonly MapFigures[], stand: FieldStand): number {
  const share = shareLaid(map, prescriptions, (oxide) => stripSurplusLb(prescriptions, stand, oxide));
  return Math.min(share * map.totalLb, map.totalLb - ownLb(map, stand));
}

/** What the broadcast maps still lack once what lies there is off: `3,229 of 5,536 lb 0-0-60`. */
const lackOf = (prescriptions: readonly MapFigures[], stand: FieldStand): string[] =>
  prescriptions.flatMap((map) => {
    if (map.pass !== "broadcast" || map.totalLb < 0.5) return [];
    const lb = Math.max(0, map.totalLb - tooMuchLb(map, prescriptions, stand) - ownLb(map, stand));
    return [`${numberText(lb, 0)} of ${numberText(map.totalLb, 0)} lb ${map.product}`];
  });

/** Where catch-up maps come from: logs of a product that this plan's maps do not have are read by the maps they were driven by. */
function catchUpRemedy({ prescriptions }: WorkedField, stand: FieldStand): string {
  const { placed } = stand;
  const maps = prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  const unknown = placed.filter((one) => one.pass === "strip" && !maps.includes(one.product));
  if (unknown.length === 0)
    return "`applied` makes catch-up maps of what was logged; where pounds have no log and the plan was changed after the pass, with the build from before as PLAN";
  const both = bothProducts(placed, maps, stand.areaAc);
  if (both !== null) {
    const lack = lackOf(prescriptions, stand);
    return `${byHandInWords(both)}${lack.length === 0 ? "" : ` (of the broadcast maps ${lack.join(" and ")} still lack)`}`;
  }
  const names = unknown.map(({ product }) => product).join(", ");
  return `\`applied\` makes catch-up maps of what was logged, with the build from before the product was changed as PLAN, ${OR_PUT_BACK}: the strip maps of this one have no ${names} (where \`remainder --instead\` laid it there are none)`;
}
