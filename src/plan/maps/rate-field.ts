import type { Prescription } from "../../prescription/index.ts";
import type { Highs } from "../../split/index.ts";
import type { PlanField } from "../document/document-types.ts";
import { type FieldProducts, fieldProducts, type SettledBlend } from "../document/field-products.ts";
import { type StageContext, type Staged, stage } from "../document/stage.ts";
import { type AskedField, askField, type Work } from "../need/ask-field.ts";
import type { BudgetCut, FieldCuts } from "../need/spend-budget.ts";
import type { LaidPasses, Pieces } from "../results/drive-result-types.ts";
import type { Wanted } from "../results/need-result-types.ts";
import type { Broadcast, Split } from "../results/result-types.ts";
import { driveGeometry, withPounds } from "./drive-figures.ts";
import { removalIn } from "./field-accounts.ts";
import { cutPasses, cutSpreaderCells, passSlice } from "./field-pieces.ts";
import { splitField, splitSlice } from "./split-field.ts";
import { wantedToSpread } from "./wanted-to-spread.ts";
import { broadcastMaps, stripMaps } from "./write-maps.ts";

/** What is settled for all fields before any is split. */
export interface Settled {
  readonly blends: readonly SettledBlend[];
  /** Loaded for the optimum only. */
  readonly highs: Highs | null;
}

/** A field as far as its maps without files, stage by stage. */
export interface RatedField {
  /** What is wanted of it as the spreader's maps have it: by the lower cut, where there is one. */
  readonly asked: AskedField;
  readonly laid: FieldProducts;
  readonly shares: Staged<Split>;
  readonly passes: Staged<LaidPasses>;
  readonly strip: Staged<ReturnType<typeof stripMaps>>;
  readonly swaths: Staged<Pieces>;
  readonly driving: ReturnType<typeof withPounds>;
  readonly broadcast: Staged<Broadcast>;
  /** Strip first, then broadcast. */
  readonly maps: readonly Prescription[];
}

/** What of each product is for the strip, what for the spreader, of a field that was asked. */
export async function splitAsked(
  work: Work,
  field: PlanField,
  context: StageContext,
  { checked, cells, soil, excluded, need, wanted }: AskedField,
  { blends, highs }: Settled,
): Promise<{ readonly laid: FieldProducts; readonly shares: Staged<Split> }> {
  const { plan } = work;
  const laid = fieldProducts(plan, field.id, blends);
  const inBins = laid.bins.map(({ product }) => product);
  const shares = await stage(
    context,
    "split",
    [cells, soil, excluded, need, wanted],
    [splitSlice(plan), inBins, field],
    () =>
      splitField({
        plan,
        field,
        laid,
        cells: cells.value,
        wanted: wanted.value,
        need: need.value,
        stripExcluded: excluded.value.strip,
        cecMeq: soil.value.maps.CEC?.estimate,
        removal: removalIn(work, field, checked.value, cells.value),
        highs,
      }),
  );
  return { laid, shares };
}

/** A field from its files to the rates of its maps, each stage naming the slice of the plan and the results it reads. */
export async function rateField(
  work: Work,
  field: PlanField,
  context: StageContext,
  { cut, spreadCut }: FieldCuts,
  settled: Settled,
): Promise<RatedField> {
  const { plan } = work;
  const { rig, spreader } = plan;
  const whole = await askField(work, field, context, cut);
  const { checked, cells, excluded } = whole;
  const { laid, shares } = await splitAsked(work, field, context, whole, settled);
  const wanted = spreadCut === null ? whole.wanted : await wantedBeside(spreadCut);
  const asked = { ...whole, wanted };
  const names = [field.id, plan.fields.map((one) => one.id)];
  const { ground } = excluded.value;
  const swath = [passSlice(rig, field, plan.seasonYear), ground.strip];
  const passes = await stage(context, "passes", [checked, cells], swath, () =>
    cutPasses(rig, field, plan.seasonYear, checked.value, cells.value, ground.strip),
  );
  const rules = [rig, plan.split, names, plan.controller, field.nutrients];
  const strip = await stage(context, "strip rates", [cells, shares, passes], rules, () =>
    stripMaps(plan, field, laid, cells.value, shares.value, passes.value),
  );
  const swaths = await stage(context, "spreader cells", [checked, cells], [spreader, ground.surface], () =>
    cutSpreaderCells(spreader, checked.value, cells.value, ground.surface),
  );
  const figures = await stage(context, "driving", [passes], rig, () => driveGeometry(rig, passes.value));
  const driving = withPounds(rig, figures.value, field, strip.value.maps);
  const sources = [cells, wanted, shares, passes, strip, swaths];
  const spread = [spreader, laid.spread, field.broadcast, names];
  const broadcast = await stage(context, "broadcast rates", sources, spread, () =>
    broadcastMaps({
      plan,
      field,
      laid,
      split: shares.value,
      cells: cells.value,
      wanted: wanted.value,
      passes: passes.value,
      strip: strip.value.maps,
      swaths: swaths.value,
      isCatchUp: false,
    }),
  );
  const maps = [...strip.value.maps, ...broadcast.value.prescriptions];
  return { asked, laid, shares, passes, strip, swaths, driving, broadcast, maps };

  async function wantedBeside(spreadCut: BudgetCut): Promise<Staged<Wanted>> {
    const lower = (await askField(work, field, context, spreadCut)).wanted;
    return stage(context, "wanted to spread", [cells, whole.wanted, lower, shares], null, () =>
      wantedToSpread(cells.value, whole.wanted.value, lower.value, shares.value),
    );
  }
}
