import { type Notice, QuestionError } from "../../errors/index.ts";
import { type FieldStand, type LedgerEntry, standingEntries } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { oneNameEach, orderStand } from "../../order/index.ts";
import { LB_PER_TON, numberText } from "../../units/index.ts";
import { AnswerReader, type Answers } from "../document/answers.ts";
import type { PlanCarried, PlanOrder, PlanSeason } from "../document/document-season-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { stockNotices } from "../order/order-notices.ts";
import { elsewhereNotices } from "../stands/placed-notices.ts";
import { coverAfter, type LastField } from "./cover-after.ts";
import { cropAfter } from "./crop-after.ts";
import { optionsAfter } from "./crop-before.ts";

/** The plan of the season after. */
export interface NextSeason {
  readonly plan: Plan;
  readonly notices: readonly Notice[];
}

/**
 * The plan of the season after `last`: boundaries, lines, rig, guides, samples and exclusions stay, crops go on in the
 * field's rotation, days move on a year, stock is what the record leaves. What the ledger holds is carried along to be
 * seen; nothing of it is credited. Crops without a rotation and yield goals of a changed crop are asked: `crop.FIELD`,
 * `yield.FIELD`. Credits, budget, prices and booking of last year are left out, and what goes with a crop that does not
 * follow itself. `had`: acres of each field, what its maps were to bring, and whether its year of build-up was assumed.
 * Throws `QuestionError` and what `orderStand` throws.
 */
export function nextSeasonPlan(
  last: Plan,
  name: string,
  date: string,
  stands: readonly FieldStand[],
  entries: readonly LedgerEntry[],
  had: ReadonlyMap<string, LastField>,
  answers: Answers,
): NextSeason {
  const seasonYear = last.seasonYear + 1;
  const notices: Notice[] = elsewhereNotices(stands);
  const reader = new AnswerReader(answers);
  const carried = last.fields.flatMap((field) =>
    carriedOf(last, field, stands, entries, had.get(field.id)?.areaAc),
  );
  const fields = last.fields.map((field): PlanField => {
    // Of several fields each has its own crop and goal: the key of a question is that field's.
    const asks = { id: field.id, name: field.name, isAlone: last.fields.length > 1 };
    const { crop, rotation } = cropAfter(field, asks, reader, answers, notices);
    const yieldBuPerAc =
      crop === field.crop && answers[`yield.${field.id}`] === undefined && answers.yield === undefined
        ? field.yieldBuPerAc
        : reader.number(
            "yield",
            asks,
            `Which yield goal for ${crop || "the crop"}${asks.isAlone ? ` in ${field.name}` : ""}, bushels per acre?`,
          );
    const asked = optionsAfter(field, crop === "" ? field.crop : crop, reader, answers, notices);
    const { credits, rotation: _, needFrom, alsoFor: __, guideOptions: ___, ...ofCrop } = field;
    const { residueLbPerAc, yieldZones, secondYieldBuPerAc, ...ofAnyCrop } = ofCrop;
    if (crop !== field.crop) notices.push(...leftWithCrop(field, seasonYear));
    if (credits !== undefined)
      tell(
        notices,
        "credits-left-out",
        `${field.name}: credits of ${last.seasonYear} are not carried on; type those of ${seasonYear}`,
        field.id,
      );
    if (needFrom?.kind === "rates")
      tell(
        notices,
        "rates-kept",
        `${field.name}: the adviser's rates of ${last.seasonYear} are still in use; give this season's`,
        field.id,
      );
    const stand = stands.find(({ fieldId }) => fieldId === field.id);
    const cover = coverAfter(last, field, stand, had.get(field.id));
    notices.push(...cover.notices);
    const earlier = [...(field.earlier ?? []), ...cover.earlier];
    const isYearAssumed = had.get(field.id)?.isYearAssumed === true;
    if (isYearAssumed)
      tell(
        notices,
        "first-season-kept",
        `${field.name}: samples for P or K have no date; ${last.seasonYear} was counted as year 1 of build-up and stays so (firstSeasonYear in plan.json): change it with new samples`,
        field.id,
      );
    return {
      ...(crop === field.crop ? ofCrop : ofAnyCrop),
      ...(needFrom === undefined ? {} : { needFrom }),
      crop,
      yieldBuPerAc,
      ...asked,
      ...(rotation === undefined ? {} : { rotation }),
      ...(earlier.length === 0 ? {} : { earlier }),
      ...(isYearAssumed ? { firstSeasonYear: last.seasonYear } : {}),
    };
  });
  if (reader.open.length > 0) throw new QuestionError(reader.open);
  const {
    budget,
    carried: before = [],
    order,
    season,
    cropYear: _,
    pricesUsdPerTon: prices,
    seed,
    ...rest
  } = last;
  if (seed?.acknowledged !== undefined)
    tell(
      notices,
      "acknowledgement-left-out",
      `that ${seed.acknowledged.by} took note of the salt near the seed was for ${last.seasonYear}; look at it again and type it anew`,
      "seed.acknowledged",
    );
  const changed = fields.filter((field, k) => field.crop !== last.fields[k]!.crop).map(({ id }) => id);
  for (const { id, fields: own = [] } of season?.planters ?? [])
    if (own.some((field) => changed.includes(field)))
      tell(
        notices,
        "planter-fields-kept",
        `planter ${id} keeps the fields of ${last.seasonYear}, ${own.join(", ")}, and their crops have changed: give each planter this season's`,
        "season.planters",
      );
  if (budget !== undefined)
    tell(notices, "budget-left-out", "the budget of last season is not carried on", "");
  if (prices !== undefined)
    tell(notices, "prices-left-out", "prices of last season are not carried on; type this season's", "");
  tell(
    notices,
    "nothing-credited",
    "what fields got last season is shown beside them and credited nowhere: type a credit where you want one",
    "",
  );
  return {
    plan: {
      ...rest,
      name: name.slice(0, 60),
      seasonYear,
      date,
      fields,
      ...(seed === undefined ? {} : { seed: withoutNote(seed) }),
      ...(season === undefined ? {} : { season: aYearOn(season) }),
      ...orderAfter(order, stands, notices),
      ...(carried.length + before.length === 0 ? {} : { carried: [...before, ...carried] }),
    },
    notices,
  };
}

/** Somebody took note of one season's rates; the next one's are others. */
function withoutNote({ acknowledged: _, ...seed }: NonNullable<Plan["seed"]>): NonNullable<Plan["seed"]> {
  return seed;
}

const tell = (notices: Notice[], code: string, message: string, where: string): void => {
  notices.push({ code, message, where });
};

/** What went with last season's crop and is left out, as another follows it. */
function leftWithCrop(
  { name, id, residueLbPerAc, yieldZones, secondYieldBuPerAc }: PlanField,
  seasonYear: number,
): Notice[] {
  const what = [
    ...(residueLbPerAc === undefined ? [] : ["the residue taken off"]),
    ...(yieldZones === undefined ? [] : [`the yield goals by zone of ${yieldZones.source}`]),
    ...(secondYieldBuPerAc === undefined ? [] : ["the second crop's yield goal"]),
  ];
  if (what.length === 0) return [];
  const message = `${name}: ${what.join(" and ")} went with last season's crop and ${what.length > 1 ? "are" : "is"} not carried on; type what goes with that of ${seasonYear}`;
  return [{ code: "crop-figures-left-out", message, where: id }];
}

function carriedOf(
  last: Plan,
  field: PlanField,
  stands: readonly FieldStand[],
  entries: readonly LedgerEntry[],
  areaAc: number | undefined,
): PlanCarried[] {
  const stand = stands.find((one) => one.fieldId === field.id);
  const harvested = standingEntries(entries).findLast(
    (entry) => entry.kind === "yield" && entry.fieldId === field.id,
  );
  if (stand === undefined || areaAc === undefined || (stand.placed.length === 0 && harvested === undefined))
    return [];
  return [
    {
      field: field.id,
      seasonYear: last.seasonYear,
      crop: field.crop,
      state: stand.state,
      placedLbPerAc: { P2O5: stand.p2o5Lb / areaAc, K2O: stand.k2oLb / areaAc },
      ...(harvested?.kind === "yield" ? { yieldBuPerAc: harvested.buPerAc } : {}),
    },
  ];
}

/** Tons due that are a rounding of tickets. */
const LEAST_DUE_TONS = 0.005;

/**
 * On hand of a product, whoever sold it: what was, and what was delivered, less what the ledger says was placed. It stands
 * with the first of its terms, so that it counts once. The booking stays with its season; what is
 * due of it is told. Throws what `orderStand` throws.
 */
function orderAfter(
  order: PlanOrder | undefined,
  stands: readonly FieldStand[],
  notices: Notice[],
): { readonly order?: PlanOrder } {
  if (order === undefined) return {};
  const { book = [], terms: typed = [], ...shares } = order;
  const terms = oneNameEach(typed);
  const stood = orderStand(oneNameEach(book, terms), []);
  for (const { product, bySupplier } of stood)
    for (const { supplier, dueTons, bookedPricePerTon } of bySupplier) {
      if (dueTons < LEAST_DUE_TONS) continue;
      const usd =
        bookedPricePerTon === null
          ? ""
          : `, $${numberText(dueTons * bookedPricePerTon, 0)} at $${numberText(bookedPricePerTon, 2)} a ton without freight,`;
      const message = `${product}: ${numberText(dueTons, 2)} tons${usd} are booked with ${supplier} and not delivered; they are not in this plan. Book here what still comes of them`;
      tell(notices, "booked-not-delivered", message, product);
    }
  const products = [...new Set([...terms, ...stood].map(({ product }) => product))];
  const kept = products.flatMap((product) => {
    const own = terms.filter((term) => term.product === product);
    const before = sum(own.map((term) => term.onHandLb ?? 0));
    const { deliveredTons = 0, bySupplier = [] } = stood.find((one) => one.product === product) ?? {};
    const placed = sum(
      stands.flatMap((stand) => stand.placed.filter((one) => one.product === product).map((one) => one.lb)),
    );
    const onHandLb = Math.max(0, Math.round(before + deliveredTons * LB_PER_TON - placed));
    const had = { onHandLb: before, deliveredTons };
    notices.push(...stockNotices(product, placed, had).filter(({ code }) => code === "placed-beyond-stock"));
    if (onHandLb > 0)
      tell(
        notices,
        "stock-carried",
        `${product}: ${numberText(onHandLb, 0)} lb should be on hand by tickets and ledger; weigh it`,
        product,
      );
    // What was delivered without terms lies there too.
    if (own.length === 0 && onHandLb > 0) return [{ product, supplier: bySupplier[0]!.supplier, onHandLb }];
    return own.map((term, i) => ({ ...term, onHandLb: i === 0 ? onHandLb : 0 }));
  });
  return { order: { ...shares, ...(kept.length === 0 ? {} : { terms: kept }) } };
}

/** Days typed for a season, a year later; 29 February becomes the 28th. */
function aYearOn(season: PlanSeason): PlanSeason {
  const later = (day: string): string => {
    const moved = `${Number(day.slice(0, 4)) + 1}${day.slice(4)}`;
    return moved.endsWith("-02-29") ? `${moved.slice(0, 8)}28` : moved;
  };
  const { start, workableDays, planters, humidity, ...rest } = season;
  const span = <T extends { readonly from: string; readonly to: string }>(one: T): T => ({
    ...one,
    from: later(one.from),
    to: later(one.to),
  });
  return {
    ...rest,
    start: later(start),
    ...(workableDays === undefined ? {} : { workableDays: workableDays.map(span) }),
    ...(humidity === undefined ? {} : { humidity: humidity.map(span) }),
    ...(planters === undefined
      ? {}
      : { planters: planters.map((planter) => ({ ...planter, startsOn: later(planter.startsOn) })) }),
  };
}
