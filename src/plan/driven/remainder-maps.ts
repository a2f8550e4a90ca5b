import { type Remainder, remainder } from "../../applied/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import type { Point } from "../../geo/index.ts";
import type { LedgerEntry } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { fieldCodes, type Prescription, ratePrescription, remainderStem } from "../../prescription/index.ts";
import type { Grade } from "../../products/index.ts";
import { counted, numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { FieldCare } from "../results/field-care.ts";
import type { FieldResult } from "../results/result-types.ts";
import { meterLimits } from "../rig/strip-limits.ts";
import { appliedField } from "./applied-field.ts";
import type { LackingLog, ProductLog } from "./applied-types.ts";
import { atWork } from "./at-work.ts";
import { givenOfField } from "./given-of-field.ts";
import { type LaidInstead, laidInstead, oxideOf } from "./laid-instead.ts";
import { hiddenGround, logsMissing, requireAllLogs } from "./missing-logs.ts";
import { remainderCare } from "./remainder-care.ts";
import { nothingToRight, workedLine } from "./worked-line.ts";

/** What is known of the work done in a field. */
export type FieldWorkDone =
  /** How many runs were driven, in working order. */
  | { readonly by: "pass"; readonly doneAfter: number }
  /** `ledger`: work that it has and that the logs do not show is refused. */
  | { readonly by: "log"; readonly logs: readonly ProductLog[]; readonly ledger?: readonly LedgerEntry[] }
  /** Longitude and latitude; what lies to the right of the line, seen from its first point, is worked. */
  | { readonly by: "line"; readonly line: readonly [Point, Point] };

/** A product as a map names it. */
export interface Laid {
  readonly product: string;
  readonly analysis: Grade;
}

/** What is left of a field, with the maps for it. */
export interface RemainderOfField {
  readonly fieldId: string;
  readonly remainder: Remainder;
  /** Strip maps of the field with 0 where it is worked, one a bin, files not yet written. */
  readonly prescriptions: readonly Prescription[];
  /** Acres left of each piece of the passes, 0 where it is worked. */
  readonly areaAc: Float64Array;
  /** Salt and micronutrients of these maps on this ground. */
  readonly care: FieldCare;
  /** Products that stand in the place of others, in the order of their maps. */
  readonly instead: readonly LaidInstead[];
  /** What was left out of the logs that say what is worked, and doubts about them; empty without logs. */
  readonly notices: readonly Notice[];
}

/**
 * The strip maps of what is not worked yet, named as a remainder's: the whole field's pieces, 0 where work was done, so that nothing is laid
 * twice. `instead`: another product in the place of one, at the rate that brings as much of the oxide the old one is laid for,
 * in steps of the rig; `rates`: one rate for all that is left, by the product laid; `share`: of the map's rates. Where a map
 * has 0 it stays 0. Throws `pass-out-of-range`, `wrong-oxide`, `rate-too-high`, `logs-missing`, for a line
 * `line-not-lon-lat`, `line-far-away` and `line-beside-field`, and what `appliedField` throws.
 */
export function remainderMaps(
  plan: Plan,
  field: FieldResult,
  done: FieldWorkDone,
  change: {
    readonly instead?: Readonly<Record<string, Laid>>;
    readonly rates?: Readonly<Record<string, number>>;
    readonly share?: number;
  } = {},
): RemainderOfField {
  const { passes } = field;
  const maps = field.prescriptions
    .filter((map) => map.pass === "strip")
    .map((map) => {
      const other = change.instead?.[map.product];
      const code = fieldCodes(plan.fields.map(({ id }) => id)).get(field.field.id)!;
      const stem = remainderStem(code, map.bin, other?.product ?? map.product);
      return { ...map, ...other, stem, planned: map, times: other === undefined ? 1 : timesFor(map, other) };
    });
  const step = plan.rig.rateStepLbPerAc;
  const stepped = (map: { readonly times: number }, lbPerAc: number) =>
    map.times === 1 ? lbPerAc : step * Math.round((lbPerAc * map.times) / step);
  for (const map of maps) refuseTooHigh(plan, field, map, change, stepped);
  const segments = passes.pieces.map((piece, k) => ({
    pass: piece.pass,
    areaM2: piece.areaM2,
    polygon: piece.polygon,
    ratesLbPerAc: maps.map((map) =>
      // Ground kept off, and a map's own zeros, stay at 0.
      map.rateLbPerAc[k]! === 0
        ? 0
        : (change.rates?.[map.product] ?? stepped(map, map.rateLbPerAc[k]! * (change.share ?? 1))),
    ),
  }));
  const { work, notices } = workDone(plan, field, done);
  const left = remainder(segments, work);
  if (done.by === "line" && left.segments.length === segments.length)
    throw nothingToRight(field.field.name, done.line);
  const isLeft = new Set(left.segments.map((one) => one.index));
  const prescriptions = maps.map((map, m) => {
    const { field: id, pass, bin, product, analysis, stem } = map;
    const rateLbPerAc = Float64Array.from(segments, (segment, k) =>
      isLeft.has(k) ? segment.ratesLbPerAc[m]! : 0,
    );
    const needLb = sum(rateLbPerAc.map((rate, k) => rate * passes.areaAc[k]!));
    return ratePrescription({
      field: id,
      pass,
      bin,
      product,
      analysis,
      stem,
      areaAc: passes.areaAc,
      rateLbPerAc,
      needLb,
    });
  });
  const areaAc = passes.areaAc.map((area, k) => (isLeft.has(k) ? area : 0));
  const instead = prescriptions.flatMap((map, m): LaidInstead[] => {
    const { planned } = maps[m]!;
    if (change.instead?.[planned.product] === undefined) return [];
    const { rates, share } = change;
    return [
      laidInstead(field, map, planned, areaAc, { share, isRateGiven: rates?.[map.product] !== undefined }),
    ];
  });
  const care = remainderCare(plan, field, prescriptions, areaAc);
  return { fieldId: field.field.id, remainder: left, prescriptions, areaAc, care, instead, notices };
}

/** lb/ac in a strip beyond which a rate is taken to be mistyped where no meter is told; ours. */
const MOST_LB_PER_AC = 2_000;

/** A changed rate that the bin's meter cannot lay, or that no strip takes. Throws `rate-too-high`. */
function refuseTooHigh(
  plan: Plan,
  { field, prescriptions }: FieldResult,
  map: Prescription & { readonly times: number },
  change: NonNullable<Parameters<typeof remainderMaps>[3]>,
  stepped: (map: { readonly times: number }, lbPerAc: number) => number,
): void {
  const own = prescriptions.find((one) => one.pass === "strip" && one.bin === map.bin)!;
  const before = own.rateLbPerAc.reduce((most, rate) => Math.max(most, rate), 0);
  const after = change.rates?.[map.product] ?? stepped(map, before * (change.share ?? 1));
  const bin = plan.rig.bins.find(({ id }) => id === map.bin);
  const meter = bin === undefined ? Number.POSITIVE_INFINITY : meterLimits(plan, bin).mostLbPerAc;
  // A map that was in the meter's reach may have been rounded up to the next step.
  const most = Number.isFinite(meter) ? Math.max(meter, before) : MOST_LB_PER_AC;
  if (after <= most) return;
  const why = Number.isFinite(meter)
    ? `the meter of bin ${map.bin} lays ${Math.floor(meter)} lb/ac at most at ${plan.rig.work!.mph} mph`
    : `${numberText(MOST_LB_PER_AC, 0)} lb/ac is the most that is taken for a strip`;
  throw new InputError(
    "rate-too-high",
    `${field.name}: ${numberText(after, Number.isInteger(after) ? 0 : 1)} lb/ac of ${map.product}; ${why}.`,
    "Type a lower rate or share; a meter's limit stands in plan.json, rig.bins.",
  );
}

/** lb of another product for a lb of the map's, by the oxide that the map's product has most of. */
function timesFor(map: Prescription, other: Laid): number {
  const { product, analysis } = map;
  const oxide = oxideOf(map);
  if (other.analysis[oxide] > 0) return analysis[oxide] / other.analysis[oxide];
  throw new InputError(
    "wrong-oxide",
    `${other.product} in place of ${product}: it has no ${oxide === "p2o5" ? "P2O5" : "K2O"}, which ${product} is laid for.`,
    "Name a product that has it.",
  );
}

function workDone(
  plan: Plan,
  field: FieldResult,
  done: FieldWorkDone,
): { readonly work: Parameters<typeof remainder>[1]; readonly notices: readonly Notice[] } {
  const { passes } = field;
  if (done.by === "line") return { work: { by: "line", line: workedLine(field, done.line) }, notices: [] };
  if (done.by === "log") {
    const logs = givenOfField(plan, field, done.logs).map((one) => atWork(field, one));
    const { products, missing, asPlanned, lacking } = appliedField(plan, field, logs, [], done.ledger);
    // Worked where any product's log went: bins run out one by one, and product laid twice harms more than a gap.
    const skippedShare = passes.pieces.map((_, k) =>
      Math.min(...products.map((one) => one.skippedShare[k]!)),
    );
    // One rig lays all its products: what was driven shows in the log of any.
    const coveredAc = sum(skippedShare.map((share, k) => (1 - share) * passes.areaAc[k]!));
    const logged = products.map(({ product }) => product);
    const hidden = hiddenGround(field, missing, done.ledger ?? [], logged, coveredAc);
    if (hidden.length > 0)
      requireAllLogs([logsMissing(field, hidden, done.ledger ?? [], logged)], "No map was made.");
    const notices = [...unreadBins(field, asPlanned, lacking), ...products.flatMap((one) => one.notices)];
    return { work: { by: "log", skippedShare }, notices };
  }
  if (!(Number.isInteger(done.doneAfter) && done.doneAfter >= 0 && done.doneAfter <= passes.runs.length)) {
    throw new InputError(
      "pass-out-of-range",
      `${counted(done.doneAfter, "run")} done in ${field.field.name}, which has ${numberText(passes.runs.length, 0)} in working order`,
      `Give a whole number from 0 to ${passes.runs.length}; bermplan fills lists them.`,
    );
  }
  const skippedShare = passes.pieces.map(({ run }) => (run < done.doneAfter ? 0 : 1));
  return { work: { by: "log", skippedShare }, notices: [] };
}

/** Ground that one bin's log covers gets nothing of any: what another bin did there is known to `applied` alone. */
function unreadBins(
  { field }: FieldResult,
  asPlanned: readonly string[],
  lacking: readonly LackingLog[],
): Notice[] {
  const shut =
    "counts as worked, and these maps lay nothing on it; where its bin was shut or empty, its pounds are for the catch-up (`applied`), once the pass is driven";
  const of = [
    ...asPlanned.map((product) => `no log of ${product} is given: the ground that the logs cover`),
    ...lacking.map(
      ({ product, areaAc, lb, beside }) =>
        `the log of ${product} has no reading on ${numberText(areaAc, 1)} ac that ${beside.join(" and ")} has, ${numberText(lb, 0)} lb by its map: it`,
    ),
  ];
  return of.map((what) => ({
    code: "taken-as-worked",
    message: `${field.name}: ${what} ${shut}`,
    where: field.id,
  }));
}
