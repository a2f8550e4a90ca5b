import { sum } from "../numeric/index.ts";
import type { LedgerEntry, PlacedEntry } from "./ledger-entry.ts";
import { standingEntries } from "./ledger-text.ts";
import type { LogSpan } from "./log-span.ts";

/** Acres within this share of what is to be stripped count as all of it. */
export const WHOLE_SHARE = 0.98;
/** A finished strip with less than this share of its planned pounds is short. */
export const SHORT_SHARE = 0.95;
/** Share of a field's strip pounds below which a product's lack does not make it short. */
export const LEAST_SHARE = 0.002;
/** Share by which pounds may miss what a map has on some acres, by meters and driving twice (ours). */
export const MISS_SHARE = 0.05;

/** The least and the most lb that a map can lay on some acres of a field, and what it lays at its mean rate. */
export interface Reach {
  readonly leastLb: number;
  readonly meanLb: number;
  readonly mostLb: number;
}

/** West, south, east and north of a log's readings, degrees. */
export type LogBox = NonNullable<LogSpan["box"]>;

export interface FieldStand {
  readonly fieldId: string;
  /** The last two: the plan has no such field, or this run did not work it out; what is placed there counts all the same. */
  readonly state:
    | "waiting"
    | "on stick"
    | "part stripped"
    | "stripped"
    | "short"
    | "not in the plan"
    | "not worked out";
  /** True once a finished line says so: rates are not computed anew. */
  readonly frozen: boolean;
  /** True once a finished line says so of what is spread, as catch-up or broadcast. */
  readonly isSpreadFinished: boolean;
  /** Not above the field's. */
  readonly strippedAc: number;
  readonly areaAc: number;
  /** The field's acres less those that nothing may be laid on in the strip. */
  readonly toStripAc: number;
  /** Products of the strip maps of which nothing is entered, while another's pounds are. */
  readonly missing: readonly string[];
  /**
   * What this plan's maps of each product can lay on the acres that it has, of a strip pass that is begun: where all its lines
   * are from logs that say where they lie (`isLocated`), on as many acres there.
   */
  readonly stripReach: readonly (Reach & { readonly product: string; readonly isLocated: boolean })[];
  /**
   * Products of a strip pass that is begun whose pounds this plan's maps cannot have on their acres: it was changed since, or
   * ground was driven twice.
   */
  readonly notByMaps: readonly (Reach & { readonly product: string })[];
  /** lb that the ground got, all passes. */
  readonly p2o5Lb: number;
  readonly k2oLb: number;
  readonly placed: readonly {
    readonly product: string;
    readonly pass: PlacedEntry["pass"];
    readonly lb: number;
    readonly areaAc: number;
    readonly p2o5Lb: number;
    readonly k2oLb: number;
  }[];
  /** Numbers of the lines that say what is placed. */
  readonly placedLines: readonly number[];
  /** Last day with something placed or finished. */
  readonly lastDate: string | null;
  /** Last day with pounds placed in the strip. */
  readonly lastStripDate: string | null;
}

export interface PlannedField {
  readonly fieldId: string;
  readonly areaAc: number;
  /** Acres of it that the strip pass may bring something to; all where left out. */
  readonly toStripAc?: number;
  /** lb of all products in the strip; null when not known. */
  readonly plannedStripLb: number | null;
  /** Products that its strip maps lay; left out where they are not known. */
  readonly stripProducts?: readonly string[];
  /** lb of one of them in the strip maps; left out where they are not known. */
  readonly stripLbOf?: (product: string) => number;
  /**
   * What its strip maps of one of them can lay on so many acres of the field, or of the ground that boxes of degrees hold; left
   * out where they are not known.
   */
  readonly stripReachOf?: (product: string, areaAc: number, boxes?: readonly LogBox[]) => Reach;
}

/**
 * Where each field of the plan stands by the ledger: stripped once every product of its strip maps is entered and the acres
 * are there, or it is finished. Limits for "stripped" (98 % of the acres that may get something) and "short" (under 95 % of the
 * planned pounds, of all products or of one, when finished) are ours. Nothing is credited to a later year here: that takes the user's word.
 */
export function fieldStands(entries: readonly LedgerEntry[], fields: readonly PlannedField[]): FieldStand[] {
  const standing = standingEntries(entries);
  return fields.map(({ fieldId, areaAc, plannedStripLb, ...field }) => {
    const { toStripAc = areaAc, stripProducts = [], stripLbOf = () => 0, stripReachOf } = field;
    const own = standing.filter((entry) => "fieldId" in entry && entry.fieldId === fieldId);
    const placed = own.filter((entry): entry is LedgerEntry & PlacedEntry => entry.kind === "placed");
    const strip = placed.filter((entry) => entry.pass === "strip");
    const finished = own.some((entry) => entry.kind === "finished" && entry.pass === "strip");
    const laid = [...new Set(strip.map((one) => one.product))];
    const strippedAc = Math.min(areaAc, acresGoneOver(strip, stripProducts));
    const missing = laid.length === 0 ? [] : stripProducts.filter((product) => !laid.includes(product));
    const stripLb = sum(strip.map((entry) => entry.lb));
    // One product does not make up for another, unless one was laid that the maps do not have.
    const isOther = laid.some((product) => !stripProducts.includes(product));
    const isShort = (product: string): boolean =>
      stripLbOf(product) > LEAST_SHARE * (plannedStripLb ?? 0) &&
      sum(strip.filter((entry) => entry.product === product).map(({ lb }) => lb)) <
        SHORT_SHARE * stripLbOf(product);
    const short =
      finished &&
      ((plannedStripLb !== null && stripLb < SHORT_SHARE * plannedStripLb) ||
        (!isOther && stripProducts.some(isShort)));
    const isAll = isStripped({ strippedAc, toStripAc });
    const whole = finished || (isAll && missing.length === 0);
    const begun = stripProducts.flatMap((product) => {
      const lines = strip.filter((entry) => entry.product === product);
      if (finished || isAll || lines.length === 0 || stripReachOf === undefined) return [];
      const ac = sum(lines.map((entry) => entry.areaAc));
      const boxes = lines.flatMap(({ span }) => (span?.box === undefined ? [] : [span.box]));
      const anywhere = stripReachOf(product, ac);
      const isLocated = boxes.length === lines.length;
      const there = isLocated ? stripReachOf(product, ac, boxes) : anywhere;
      return [{ product, lb: sum(lines.map((entry) => entry.lb)), anywhere, there, isLocated }];
    });
    const stripReach = begun.map(({ product, there, isLocated }) => ({ product, ...there, isLocated }));
    const notByMaps = begun.flatMap(({ product, lb, anywhere }) => {
      const { leastLb, mostLb } = anywhere;
      const offLb = Math.max(lb - (1 + MISS_SHARE) * mostLb, (1 - MISS_SHARE) * leastLb - lb);
      return offLb > LEAST_SHARE * (plannedStripLb ?? 0) ? [{ product, ...anywhere }] : [];
    });
    const loaded = own.some((entry) => entry.kind === "loaded");
    const state = short
      ? "short"
      : whole
        ? "stripped"
        : strippedAc > 0
          ? "part stripped"
          : loaded
            ? "on stick"
            : "waiting";
    return {
      fieldId,
      state,
      frozen: finished,
      isSpreadFinished: own.some((entry) => entry.kind === "finished" && entry.pass !== "strip"),
      strippedAc,
      areaAc,
      toStripAc,
      missing,
      stripReach,
      notByMaps,
      p2o5Lb: sum(placed.map((entry) => entry.p2o5Lb)),
      k2oLb: sum(placed.map((entry) => entry.k2oLb)),
      placed: byProduct(placed),
      placedLines: placed.map(({ number }) => number),
      lastDate: lastOf(
        own.filter(({ kind }) => kind === "placed" || kind === "finished").map((one) => one.date),
      ),
      lastStripDate: lastOf(strip.map(({ date }) => date)),
    };
  });
}

/** Whether the acres gone over are all that are to be stripped, whatever is entered of them. */
export const isStripped = ({
  strippedAc,
  toStripAc,
}: Pick<FieldStand, "strippedAc" | "toStripAc">): boolean =>
  strippedAc > 0 && strippedAc >= WHOLE_SHARE * toStripAc;

/** What the ledger has of a field as placed, by product and pass, as far as it counts. */
export const placedIn = (entries: readonly LedgerEntry[], fieldId: string): FieldStand["placed"] =>
  byProduct(
    standingEntries(entries).filter(
      (entry): entry is LedgerEntry & PlacedEntry => entry.kind === "placed" && entry.fieldId === fieldId,
    ),
  );

/** Lines of a field's strip pass that count. */
export const stripEntries = (
  entries: readonly LedgerEntry[],
  fieldId: string,
): readonly (LedgerEntry & PlacedEntry)[] =>
  standingEntries(entries).filter(
    (entry): entry is LedgerEntry & PlacedEntry =>
      entry.kind === "placed" && entry.pass === "strip" && entry.fieldId === fieldId,
  );

/**
 * Acres that lines of one strip pass say were gone over. Products laid in one pass cover the same acres, so the widest counts;
 * one that is none of the maps' products (where these are known) was laid in place of those that bring the same nutrient,
 * on acres of its own.
 */
export function acresGoneOver(strip: readonly PlacedEntry[], stripProducts: readonly string[]): number {
  const isOther = ({ product }: PlacedEntry): boolean =>
    stripProducts.length > 0 && !stripProducts.includes(product);
  const acresOf = (lines: readonly PlacedEntry[]): number => sum(lines.map((one) => one.areaAc));
  const others = strip.filter(isOther);
  const mapped = [...new Set(strip.filter((one) => !isOther(one)).map(({ product }) => product))];
  const withOthers = mapped.map((product) => {
    const own = strip.filter((one) => one.product === product);
    const brings = (nutrient: "p2o5Lb" | "k2oLb"): boolean => own.some((one) => one[nutrient] > 0);
    const inPlace = others.filter(
      (one) => (brings("p2o5Lb") && one.p2o5Lb > 0) || (brings("k2oLb") && one.k2oLb > 0),
    );
    return acresOf([...own, ...inPlace]);
  });
  const alone = (["p2o5Lb", "k2oLb"] as const).map((nutrient) =>
    acresOf(others.filter((one) => one[nutrient] > 0)),
  );
  return Math.max(0, ...withOthers, ...alone, ...others.map((one) => one.areaAc));
}

/** Fields of which the ledger has something placed and that are not among the known: nothing is known of them but that. */
export function standsElsewhere(
  entries: readonly LedgerEntry[],
  known: readonly string[],
  isOfPlan: (fieldId: string) => boolean,
): FieldStand[] {
  const ids = standingEntries(entries).flatMap((one) => (one.kind === "placed" ? [one.fieldId] : []));
  const others = [...new Set(ids)].filter((id) => !known.includes(id));
  const unknownAc = others.map((fieldId) => ({
    fieldId,
    areaAc: Number.POSITIVE_INFINITY,
    plannedStripLb: null,
  }));
  return fieldStands(entries, unknownAc).map((stand) => ({
    ...stand,
    state: isOfPlan(stand.fieldId) ? "not worked out" : "not in the plan",
    // No acres are known but those that were gone over.
    areaAc: stand.strippedAc,
    toStripAc: stand.strippedAc,
  }));
}

const lastOf = (dates: readonly string[]): string | null => dates.toSorted().at(-1) ?? null;

function byProduct(placed: readonly PlacedEntry[]): FieldStand["placed"] {
  const keys = [...new Set(placed.map(({ product, pass }) => `${pass}\n${product}`))];
  return keys.map((key) => {
    const own = placed.filter(({ product, pass }) => `${pass}\n${product}` === key);
    const { product, pass } = own[0]!;
    const total = (of: (entry: PlacedEntry) => number): number => sum(own.map(of));
    const [lb, areaAc] = [total((one) => one.lb), total((one) => one.areaAc)];
    const [p2o5Lb, k2oLb] = [total((one) => one.p2o5Lb), total((one) => one.k2oLb)];
    return { product, pass, lb, areaAc, p2o5Lb, k2oLb };
  });
}
