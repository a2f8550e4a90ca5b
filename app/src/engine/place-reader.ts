import { explainCell, type FieldResult, type Oxide, type Plan, type ReadOut, readOutOf } from "#core";
import type { LonLat, Look, NeedExplained } from "./protocol.ts";

/** The field that the page shows, as it was worked out and looked at. */
export interface Shown {
  readonly plan: Plan;
  readonly field: FieldResult;
  readonly look: Look;
}

/** Reads what lies at a place of the field shown. */
export class PlaceReader {
  private readonly shown: Shown;
  private find: ((place: readonly [number, number]) => ReadOut | null) | null = null;

  constructor(shown: Shown) {
    this.shown = shown;
  }

  at(place: LonLat): { readonly readOut: ReadOut | null; readonly explained: NeedExplained | null } {
    const { plan, field, look } = this.shown;
    this.find ??= readOutOf(plan, field, look.system);
    const readOut = this.find(field.checked.frame.toPlane(place));
    return { readOut, explained: this.explained(readOut) };
  }

  /** The arithmetic of both oxides at the cell read out, on the sheet that shows the need. */
  private explained(readOut: ReadOut | null): NeedExplained | null {
    const { plan, field, look } = this.shown;
    if (!readOut || !look.layers.some((id) => id.startsWith("need/"))) return null;
    const explain = (oxide: Oxide) => explainCell(plan, field, oxide, readOut.cell);
    return { P2O5: explain("P2O5"), K2O: explain("K2O") };
  }
}
