import { GAP_IDS, type GapId, knowsMeanOnly, laidProducts, numberText, oxideText, rateIn } from "#core";
import { Bench } from "../parts/bench.tsx";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { Notices } from "../parts/notices.tsx";
import { NumberField } from "../parts/number-field.tsx";
import { figures, lbOf, mass, productsOf, rate, tilde, words } from "../state/figures.ts";
import { doubts, isKept } from "../state/how-far.ts";
import { chosenField, gapOfPart, partOfGap, planField } from "../state/look.ts";
import { beside, edit, endDrag, plan, putBeside, readOnly } from "../state/opened.ts";
import { withBroadcast, withCap, withCapBasis, withSharing } from "../state/plan-edits.ts";
import { field, isBehind, refusal } from "../state/results.ts";
import { goTo, here } from "../state/route.ts";
import { settings } from "../state/settings.ts";
import { splitKey } from "../state/split-key.ts";
import { beforeDrag } from "./need.tsx";
import { SplitBins } from "./split-bins.tsx";
import { SplitCapacity } from "./split-capacity.tsx";
import { SplitRig } from "./split-rig.tsx";
import { SplitSeed } from "./split-seed.tsx";
import { SplitHeadline, SplitWay } from "./split-way.tsx";

/** What goes in the strip and what is broadcast later, under one ceiling; the cap is live. */
export function SplitSheet() {
  const of = plan.value;
  const shown = field.value;
  const id = chosenField.value;
  if (!of || !id) return null;
  const products = laidProducts(of);
  const gap = gapOfPart(here.value.part);
  const part = gap ? partOfGap(gap) : products.includes(here.value.part) ? here.value.part : "both";
  // The one on the plat stays to choose when an edit has closed it.
  const gaps = GAP_IDS.filter((one) => one === gap || shown?.split?.gaps.includes(one));
  const kept = isKept(of, id);
  return (
    <Bench
      title="Split between strip and broadcast"
      actions={
        <button
          type="button"
          class="action"
          disabled={readOnly.value || !shown || isBehind.value || refusal.value !== null}
          onClick={() => {
            putBeside({ keptSplit: { ...beside.value.keptSplit, [id]: splitKey(of, id) } });
            goTo({ sheet: "strips", field: here.value.field });
          }}
        >
          {kept ? "Kept. Go on to strips" : "Keep this split"}
        </button>
      }
    >
      <SplitHeadline />
      <Cap />
      <SplitWay />
      <SplitCapacity />
      <ChoiceLine
        label="On the plat"
        about="What the plat shows"
        value={part}
        options={[
          ["both", products.length > 2 ? "all" : "both"],
          ...products.map((product) => [product, product] as const),
          ...gaps.map((one) => [partOfGap(one), gapText(one)] as const),
        ]}
        onChoose={(chosen) => goTo({ ...here.value, sheet: "split", part: chosen === "both" ? "" : chosen })}
      />
      <PassTable />
      <SplitRig />
      <SplitSeed />
      <SplitBins />
      <Notices notices={doubts.value.split ?? []} />
    </Bench>
  );
}

/** `P₂O₅ short`, `K₂O over`: against the need. */
function gapText(id: GapId): string {
  const [side, oxide] = id.split("/") as [string, string];
  return `${oxideText(oxide)} ${side}`;
}

/** The cap: a number and a slider. It is stored in lb/ac whatever the page shows. */
function Cap() {
  const of = plan.value!;
  const one = planField.value;
  const perShown = rateIn(1, settings.value.system);
  const cap = of.split.capLbPerAc;
  const isMeanOnly = knowsMeanOnly(of.split);
  // What the plan has, 200.5 too; kg/ha to a tenth.
  const capShown = Number((cap * perShown).toFixed(settings.value.system === "us" ? 2 : 1));
  const before = beforeDrag("cap")?.split.capLbPerAc ?? cap;
  const all = figures.value
    ? figures.value.products.reduce((sum, { lb }) => sum + lb, 0) / figures.value.acres
    : cap;
  const most = Math.max(
    100,
    Math.ceil((1.25 * Math.max(all, Number.isFinite(cap) ? Math.min(cap, 2 * all) : 0)) / 50) * 50,
  );
  return (
    <>
      <NumberField
        label="Cap: all products together in the strip"
        unit={words().rate}
        value={capShown}
        least={0}
        most={Math.round(most * perShown)}
        step={1}
        disabled={readOnly.value}
        ends={["0", numberText(most * perShown, 0)]}
        onMove={(value, isDone) => {
          const lbPerAc = Math.round((value / perShown) * 100) / 100;
          if (capShown !== value) edit(withCap(of, lbPerAc, before, settings.value.system), "cap");
          if (isDone) endDrag();
        }}
      />
      {isMeanOnly && !(of.split.method === "optimum" && of.split.optimum?.capHolds === false) && (
        <div class="pair">
          <span class="second">It limits</span>
          <span>the field's mean</span>
        </div>
      )}
      {!isMeanOnly && (
        <ChoiceLine
          label="It limits"
          about="What the cap limits"
          value={of.split.capBasis}
          options={[
            ["field-mean", "the field's mean"],
            ["most-in-a-cell", "every place"],
          ]}
          onChoose={(basis) => edit(withCapBasis(of, basis))}
          disabled={readOnly.value}
        />
      )}
      {(of.split.method ?? "ceiling") !== "priority" && of.split.method !== "optimum" && (
        <ChoiceLine
          label="Under it"
          about="How products share the strip"
          value={of.split.within}
          options={[
            ["first-11-52-0", "phosphate first"],
            ["alike", "cut alike"],
          ]}
          onChoose={(within) => edit(withSharing(of, within))}
          disabled={readOnly.value}
        />
      )}
      {one && (
        <ChoiceLine
          label="The rest is"
          about="What the strip leaves"
          value={one.broadcast}
          options={[
            ["later", "broadcast later"],
            ["none", "not placed"],
          ]}
          onChoose={(broadcast) => edit(withBroadcast(of, one, broadcast))}
          disabled={readOnly.value}
        />
      )}
    </>
  );
}

function PassTable() {
  const shown = field.value;
  if (!shown) return null;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">product</th>
          <FigureHeads
            of={[`strip, ${words().mass}`, `mean ${words().rate}`, `broadcast, ${words().mass}`]}
          />
        </tr>
      </thead>
      <tbody>
        {productsOf([shown]).map((product) => {
          const strip = lbOf([shown], product, "strip");
          return (
            <tr key={product}>
              <th scope="row">{product}</th>
              <td class="figure">{tilde() + mass(strip)}</td>
              <td class="figure">{tilde() + rate(strip / shown.areaAc)}</td>
              <td class="figure">{tilde() + mass(lbOf([shown], product, "broadcast"))}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
