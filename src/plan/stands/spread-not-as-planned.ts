import type { Notice } from "../../errors/index.ts";
import { type FieldStand, SHORT_SHARE } from "../../ledger/index.ts";
import { numberText } from "../../units/index.ts";
import { type WorkedField, weightInWords } from "./not-as-planned.ts";
import { isStripDone, OXIDES, oxideOfMaps, oxideSpread, stripSurplusLb } from "./placed-surplus.ts";
import { stripTooMuchLb } from "./still-to-place.ts";

/**
 * What was spread and does not fit this plan's broadcast maps: more than they lay, which the strip maps would lay again; or, where
 * the pass is finished, less than they lay, which nobody lays any more.
 */
export function spreadNotAsPlannedNotices(result: WorkedField, stand: FieldStand): Notice[] {
  const { id } = result.field;
  const tooMuch = stripTooMuchInWords(result, stand);
  const short = spreadShortInWords(result, stand);
  return [
    ...(tooMuch === "" ? [] : [{ code: "spread-not-as-planned", message: tooMuch, where: id }]),
    ...(short === "" ? [] : [{ code: "spread-short", message: short, where: id }]),
  ];
}

/**
 * What the strip maps would lay besides what is spread, and what to do, for who is to strip: in words without a full stop at the
 * end; empty where they lay nothing too much or the strips are done.
 */
export function stripTooMuchInWords({ field, prescriptions }: WorkedField, stand: FieldStand): string {
  if (isStripDone(stand)) return "";
  const tooMuch = prescriptions.flatMap((map) =>
    weightInWords(map, stripTooMuchLb(map, prescriptions, stand)),
  );
  if (tooMuch.length === 0) return "";
  return `${field.name}: by the ledger more is spread than its broadcast maps lay, and its strip maps, which reckon with those, would lay ${tooMuch.join(" and ")} too much: where cap, product or budget were changed in the plan after it was spread, load the strip maps of the build from before`;
}

/** What a finished broadcast pass lacks of this plan's broadcast maps, whatever product brought it; empty where it has it. */
function spreadShortInWords({ field, prescriptions }: WorkedField, stand: FieldStand): string {
  if (!stand.isSpreadFinished) return "";
  const short = OXIDES.flatMap((oxide) => {
    const wanted = oxideOfMaps(prescriptions, "broadcast", oxide);
    const spread = oxideSpread(stand, oxide);
    const there = spread + stripSurplusLb(prescriptions, stand, oxide);
    if (wanted < 0.5 || there >= SHORT_SHARE * wanted) return [];
    return [`${numberText(wanted - there, 0)} of the ${numberText(wanted, 0)} lb ${oxide}`];
  });
  if (short.length === 0) return "";
  return `${field.name}: its broadcast pass is finished by the ledger, and ${short.join(" and ")} that this plan's broadcast maps lay lack: they are neither mapped nor ordered; where that is not meant, take the finished line back (\`ledger --void\`) or the plan's change`;
}
