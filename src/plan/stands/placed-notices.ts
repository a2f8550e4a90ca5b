import type { Notice } from "../../errors/index.ts";
import { type FieldStand, isStripped } from "../../ledger/index.ts";
import { counted, numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import { BEYOND_SHARE } from "./placed-surplus.ts";
import { spreadInWords } from "./spread-already.ts";

/** Acres over the field's that driving twice does not explain (our limit). */
const MOST_ACRES = 1.05;

/** What the ledger says of a field and can hardly be: more acres than it has, many pounds over the map, a bin that gave nothing. */
export function placedNotices(
  { field, prescriptions }: Pick<FieldResult, "field" | "prescriptions">,
  stand: FieldStand,
): Notice[] {
  const { placed, areaAc, frozen, missing } = stand;
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message: `${field.name}: ${message}`, where: field.id });
  };
  const look =
    "look for a line that is mistyped or entered twice (`ledger --void N --why TEXT` takes it back)";
  for (const one of placed) {
    const what = `${one.product} in its ${one.pass} pass`;
    if (one.areaAc > MOST_ACRES * areaAc)
      add(
        "placed-beyond-field",
        `by the ledger ${numberText(one.areaAc, 1)} ac got ${what} and the field has ${numberText(areaAc, 1)} ac; ${look}`,
      );
    const map = prescriptions.find(({ pass, product }) => pass === one.pass && product === one.product);
    if (map !== undefined && map.totalLb > 0 && one.lb > (1 + BEYOND_SHARE) * map.totalLb)
      add(
        "placed-beyond-map",
        `by the ledger ${numberText(one.lb, 0)} lb ${what}, ${numberText(one.lb / map.totalLb, 1)} times the map's ${numberText(map.totalLb, 0)} lb; where ${one.pass === "strip" ? "" : "it is a catch-up, or "}cap, product or budget were changed in the plan after the pass, the line is right and stays, else ${look}`,
      );
  }
  if (missing.length > 0 && (frozen || isStripped(stand)))
    add(
      "bin-not-entered",
      `the ledger has nothing of ${missing.join(", ")} in its strip pass: ${frozen ? "it counts as finished without it" : "it does not count as stripped until that is entered, or finished with `ledger --finish`"}`,
    );
  return notices;
}

/** Acres of a difference that edges of a log do not explain, and their share of the field (our limits). */
const AGAIN_AC = 0.5;
const AGAIN_SHARE = 0.02;

/**
 * Ground that the ledger has as stripped and that maps of a remainder, which count `leftAc` as left, would lay again; and a catch-up,
 * which fed what was skipped.
 */
export function laidAgainNotices(
  { field, checked: { areaAc } }: Pick<FieldResult, "field" | "checked">,
  stand: FieldStand | undefined,
  leftAc: number,
): Notice[] {
  const { strippedAc = 0, placed = [] } = stand ?? {};
  const caughtUp = spreadInWords(placed.filter(({ pass }) => pass === "catch-up"));
  const fed = `${field.name} has ${caughtUp} by the ledger: A CATCH-UP FEEDS WHAT WAS SKIPPED, and these maps would lay it there again; where that is what is left, finish the pass (\`ledger --finish ${field.id}\`)`;
  const notices: Notice[] =
    caughtUp === "" ? [] : [{ code: "remainder-on-caught-up", message: fed, where: field.id }];
  const againAc = strippedAc - (areaAc - leftAc);
  if (againAc < Math.max(AGAIN_AC, AGAIN_SHARE * areaAc)) return notices;
  const [stripped, all, left, again] = [strippedAc, areaAc, leftAc, againAc].map((ac) => numberText(ac, 1));
  const message = `${field.name}: BY THE LEDGER ${stripped} OF ${all} AC ARE STRIPPED, and these maps are for ${left} ac: about ${again} ac would get their product twice; see which is right before they go on a stick`;
  return [...notices, { code: "remainder-on-stripped", message, where: field.id }];
}

/** What the ledger has placed in fields that the plan does not have: no field's work, but gone from stock all the same. */
export const elsewhereNotices = (stands: readonly FieldStand[]): Notice[] =>
  stands
    .filter(({ state }) => state === "not in the plan")
    .map(({ fieldId, placed, placedLines }) => {
      const what = placed.map(
        ({ product, pass, lb }) => `${numberText(lb, 0)} lb ${product} in its ${pass} pass`,
      );
      const lines = `${counted(placedLines.length, "line")} of the ledger (${placedLines.join(", ")})`;
      const message = `${fieldId}: the plan has no such field, and by ${lines} ${what.join(", ")} are placed there; they come out of what is on hand and bought. If its id was changed, give the field this one again`;
      return { code: "ledger-field-unknown", message, where: fieldId };
    });
