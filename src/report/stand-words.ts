import type { FieldStand } from "../ledger/index.ts";
import { acresText } from "./numbers.ts";

/** What an operator must know of a field that lies stripped or part stripped before its maps are loaded; empty for another. */
export function standInWords(name: string, stand: FieldStand): string {
  const { state, strippedAc, toStripAc, lastStripDate } = stand;
  const acres = `${acresText(strippedAc)} of ${acresText(Math.max(strippedAc, toStripAc))} ac`;
  const day = lastStripDate === null ? "" : `, last on ${lastStripDate}`;
  if (state === "stripped")
    return `${name} is stripped by the ledger, ${acres}${day}: nothing is left for the strip rig to load`;
  return state === "part stripped"
    ? `${name} is part stripped by the ledger, ${acres}${day}: its strip maps are of the whole field and lay it there again; the maps of what is left are made by remainder`
    : "";
}

/**
 * That stops of a whole field are not those of one begun or done by the ledger, and how to plan on, without a full stop at the
 * end; empty for a field where nothing lies, or that the ledger does not have.
 */
export function wholeStopsInWords(
  name: string,
  stand: FieldStand | undefined,
  planOn: string = "plan on from where the rig stands",
): string {
  if (stand === undefined || !(stand.strippedAc > 0)) return "";
  const { strippedAc, toStripAc, state } = stand;
  const whole = "these stops are of the whole field from its first pass";
  if (state === "stripped") return `${standInWords(name, stand)}; ${whole}`;
  const acres = `${acresText(strippedAc)} of ${acresText(Math.max(strippedAc, toStripAc))} ac`;
  return `${name}: by the ledger ${acres} are stripped; ${whole}: ${planOn}`;
}
