import type { Notice } from "../errors/index.ts";
import {
  type FieldStand,
  fieldStands,
  type Ledger,
  type LedgerEntry,
  type PlannedField,
  type Reach,
  readLedger,
  standingEntries,
  standsElsewhere,
} from "../ledger/index.ts";
import { sum } from "../numeric/index.ts";
import type { Plan, PlanField } from "./document-types.ts";
import type { FileSource } from "./file-source.ts";
import { acresToLay } from "./kept-off-notices.ts";
import { notAsPlannedNotices } from "./not-as-planned.ts";
import { elsewhereNotices, placedNotices } from "./placed-notices.ts";
import type { FieldResult, FinishedPass } from "./result-types.ts";
import { spreadAlreadyInWords } from "./spread-already.ts";
import { spreadNotAsPlannedNotices } from "./spread-not-as-planned.ts";

/** Beside plan.json; only ever appended to. */
export const LEDGER_PATH = "ledger.txt";

/** The ledger of a plan, an input like its other files; empty when there is none. Throws `ledger-damaged`. */
export async function ledgerOf(files: FileSource): Promise<Ledger> {
  const paths = await files.list();
  if (!paths.includes(LEDGER_PATH)) return { entries: [], notices: [] };
  return readLedger(await files.read(LEDGER_PATH), LEDGER_PATH);
}

/** Passes of a field that are done: their maps are frozen, none is written for them. */
export function finishedPasses(entries: readonly LedgerEntry[], fieldId: string): FinishedPass[] {
  return standingEntries(entries).flatMap((entry) =>
    entry.kind !== "finished" || entry.fieldId !== fieldId
      ? []
      : [{ pass: entry.pass === "strip" ? ("strip" as const) : ("broadcast" as const), date: entry.date }],
  );
}

/** Fields as the ledger needs them: acres, those that may get something, and the pounds of their strip maps. */
export const plannedFields = (
  fields: readonly Pick<FieldResult, "field" | "checked" | "passes" | "prescriptions">[],
): PlannedField[] =>
  fields.map(({ field, checked, passes, prescriptions }) => ({
    fieldId: field.id,
    areaAc: checked.areaAc,
    toStripAc: acresToLay(passes),
    plannedStripLb: sum(prescriptions.filter((map) => map.pass === "strip").map((map) => map.totalLb)),
    stripProducts: prescriptions
      .filter((map) => map.pass === "strip" && map.totalLb > 0)
      .map((map) => map.product),
    stripLbOf: (product) =>
      sum(
        prescriptions
          .filter((map) => map.pass === "strip" && map.product === product)
          .map((map) => map.totalLb),
      ),
    stripReachOf: (product, areaAc) =>
      reachOn(
        prescriptions.filter((map) => map.pass === "strip" && map.product === product),
        passes,
        areaAc,
      ),
  }));

/** The least and the most lb that maps can lay on so many acres of the pieces that a pass may bring something to. */
function reachOn(
  maps: readonly Pick<FieldResult["prescriptions"][number], "rateLbPerAc">[],
  { pieces, areaAc }: FieldResult["passes"],
  wantedAc: number,
): Reach {
  const rated = pieces.flatMap(({ keptOff }, k) =>
    keptOff === true
      ? []
      : [{ ac: areaAc[k]!, lbPerAc: sum(maps.map(({ rateLbPerAc }) => rateLbPerAc[k]!)) }],
  );
  const rising = rated.toSorted((a, b) => a.lbPerAc - b.lbPerAc);
  const lbOf = (inOrder: typeof rated): number => {
    let leftAc = wantedAc;
    return sum(
      inOrder.map(({ ac, lbPerAc }) => {
        const own = Math.min(ac, leftAc);
        leftAc -= own;
        return own * lbPerAc;
      }),
    );
  };
  return { leastLb: lbOf(rising), mostLb: lbOf(rising.toReversed()) };
}

/** Where each field stands. */
export const standsOf = (ledger: Ledger, fields: readonly FieldResult[]): FieldStand[] =>
  fieldStands(ledger.entries, plannedFields(fields));

/** Where each field stands, then the fields that these are not and of which the ledger has something placed. */
export const allStands = (plan: Plan, ledger: Ledger, fields: readonly FieldResult[]): FieldStand[] => [
  ...standsOf(ledger, fields),
  ...standsElsewhere(
    ledger.entries,
    fields.map(({ field }) => field.id),
    (id) => plan.fields.some((field) => field.id === id),
  ),
];

/** What the ledger says that changes what this run's maps are good for, and what earlier seasons left. */
export function ledgerNotices(
  { carried = [] }: Pick<Plan, "carried">,
  fields: readonly Pick<FieldResult, "field" | "finished" | "prescriptions">[],
  stands: readonly FieldStand[],
): Notice[] {
  const own = fields.flatMap((result): Notice[] => {
    const { field, finished } = result;
    const stand = stands.find((one) => one.fieldId === field.id)!;
    const notices = finished.map(
      ({ pass, date }): Notice => ({
        code: "pass-finished",
        message: `${field.name}: its ${pass} pass was finished on ${date} by the ledger; it is frozen and no ${pass} map is written`,
        where: field.id,
      }),
    );
    notices.push(...placedNotices(result, stand));
    notices.push(...notAsPlannedNotices(result, stand), ...spreadNotAsPlannedNotices(result, stand));
    const spread = spreadAlreadyInWords(result, stand);
    if (spread !== "") notices.push({ code: "spread-already", message: spread, where: field.id });
    return [...notices, ...carried.filter((one) => one.field === field.id).map((one) => left(field, one))];
  });
  return [...elsewhereNotices(stands), ...own];
}

/** What lies there from an earlier season, for the user to credit or not. */
function left(field: PlanField, one: NonNullable<Plan["carried"]>[number]): Notice {
  const { P2O5, K2O } = one.placedLbPerAc;
  const harvest = one.yieldBuPerAc === undefined ? "" : `, ${one.yieldBuPerAc} bu/ac harvested`;
  return {
    code: "carried-not-credited",
    message: `${field.name}: ${one.seasonYear} ${one.crop} (${one.state}) got ${P2O5.toFixed(0)} lb P2O5 and ${K2O.toFixed(0)} lb K2O an acre${harvest}; nothing of it is credited: type credits where you want them`,
    where: field.id,
  };
}
