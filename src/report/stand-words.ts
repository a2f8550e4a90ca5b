import { type FieldStand, isStripped } from "../ledger/index.ts";
import { acresText } from "./numbers.ts";

/** `66.8 of 66.8 ac`. */
const acresOf = ({ strippedAc, toStripAc }: FieldStand): string =>
  `${acresText(strippedAc)} of ${acresText(Math.max(strippedAc, toStripAc))} ac`;

const lastOn = ({ lastStripDate }: FieldStand): string =>
  lastStripDate === null ? "" : `, last on ${lastStripDate}`;

/** Whether all acres are gone over and something that the strip maps lay is not entered: the product was changed since, or a bin is forgotten. */
const isWithoutOne = (stand: FieldStand): boolean =>
  stand.state === "part stripped" && isStripped(stand) && stand.missing.length > 0;

const goneOver = (stand: FieldStand): string =>
  `by the ledger ${acresOf(stand)} are gone over${lastOn(stand)}, and nothing of ${stand.missing.join(" and ")} is entered: ` +
  `where the plan's product was changed since, or that is all that went out, \`ledger --finish ${stand.fieldId}\`, else enter it`;

/** What an operator must know of a field that lies stripped or part stripped before its maps are loaded; empty for another. */
export function standInWords(name: string, stand: FieldStand): string {
  const { state } = stand;
  const acres = `by the ledger, ${acresOf(stand)}${lastOn(stand)}`;
  if (state === "stripped") return `${name} is stripped ${acres}: nothing is left for the strip rig to load`;
  const whole = "its strip maps are of the whole field and lay it there again";
  if (isWithoutOne(stand)) return `${name}: ${goneOver(stand)}; ${whole}`;
  return state === "part stripped"
    ? `${name} is part stripped ${acres}: ${whole}; the maps of what is left are made by remainder`
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
  const whole = "these stops are of the whole field from its first pass";
  if (stand.state === "stripped") return `${standInWords(name, stand)}; ${whole}`;
  if (isWithoutOne(stand)) return `${name}: ${goneOver(stand)}; ${whole}`;
  return `${name}: by the ledger ${acresOf(stand)} are stripped; ${whole}: ${planOn}`;
}
