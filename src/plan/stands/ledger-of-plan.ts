import type { Notice } from "../../errors/index.ts";
import { boundsOf, boxesMeet, type Frame } from "../../geo/index.ts";
import {
  type FieldStand,
  fieldStands,
  type Ledger,
  type LedgerEntry,
  type LogBox,
  type PlannedField,
  type Reach,
  readLedger,
  standingEntries,
  standsElsewhere,
  WHOLE_SHARE,
} from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { acresToLay } from "../maps/kept-off-notices.ts";
import type { FieldResult, FinishedPass } from "../results/result-types.ts";
import type { FileSource } from "../sources/file-source.ts";
import { notAsPlannedNotices } from "./not-as-planned.ts";
import { elsewhereNotices, placedNotices } from "./placed-notices.ts";
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

type Piece = FieldResult["passes"]["pieces"][number];

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
    stripReachOf: (product, areaAc, boxes) =>
      reachOn(
        prescriptions.filter((map) => map.pass === "strip" && map.product === product),
        passes,
        areaAc,
        boxes === undefined ? () => true : liesIn(boxes, checked.frame),
      ),
  }));

/** Whether a piece of a field, in its plane, touches one of the boxes that logs lie in. */
function liesIn(boxes: readonly LogBox[], frame: Frame): (piece: Pick<Piece, "polygon">) => boolean {
  const driven = boxes.map(([west, south, east, north]) => {
    const corners = [west, east].flatMap((lon) => [south, north].map((lat) => frame.toPlane([lon, lat])));
    return boundsOf([[corners]]);
  });
  return ({ polygon }) => {
    const own = boundsOf([polygon]);
    return driven.some((box) => boxesMeet(box, own));
  };
}

/**
 * The least, the mean and the most lb that maps can lay on so many acres of the pieces that a pass may bring something to: of
 * those asked for where they have as many.
 */
function reachOn(
  maps: readonly Pick<FieldResult["prescriptions"][number], "rateLbPerAc">[],
  { pieces, areaAc }: FieldResult["passes"],
  wantedAc: number,
  isAsked: (piece: Piece) => boolean,
): Reach {
  const all = pieces.flatMap((piece, k) =>
    piece.keptOff === true
      ? []
      : [{ piece, ac: areaAc[k]!, lbPerAc: sum(maps.map(({ rateLbPerAc }) => rateLbPerAc[k]!)) }],
  );
  const asked = all.filter(({ piece }) => isAsked(piece));
  const rated = sum(asked.map(({ ac }) => ac)) < WHOLE_SHARE * wantedAc ? all : asked;
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
  const acres = sum(rated.map(({ ac }) => ac));
  const share = acres > 0 ? Math.min(1, wantedAc / acres) : 0;
  return {
    leastLb: lbOf(rising),
    meanLb: share * sum(rated.map(({ ac, lbPerAc }) => ac * lbPerAc)),
    mostLb: lbOf(rising.toReversed()),
  };
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
