import { oxideText } from "#core";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { Choices } from "../parts/choices.tsx";
import { Notices } from "../parts/notices.tsx";
import { NumberField } from "../parts/number-field.tsx";
import { mass, rate, tilde, words } from "../state/figures.ts";
import { doubts } from "../state/how-far.ts";
import { planField } from "../state/look.ts";
import { edit, endDrag, history, plan, readOnly } from "../state/opened.ts";
import { withYield } from "../state/plan-edits.ts";
import { field } from "../state/results.ts";
import { goTo, here } from "../state/route.ts";
import { GuideFigures } from "./guide-figures.tsx";
import { GuideStanding } from "./guide-standing.tsx";
import { BelowCriticalFirst, NeedBalance, NeedClasses, Setbacks } from "./need-accounts.tsx";
import { NeedFiguresTable } from "./need-figures.tsx";
import { NeedGuide } from "./need-guide.tsx";
import { OwnTables } from "./need-own-table.tsx";
import { NeedSteps } from "./need-steps.tsx";
import { TakeCare } from "./take-care.tsx";

/** What every place needs by the field's guide, lb of oxide an acre. */
export function NeedSheet() {
  const oxide = here.value.part === "K2O" ? "K2O" : "P2O5";
  const shown = field.value;
  const balance = shown?.balances.find((one) => one.nutrient === oxide);
  const mean = shown?.needMeanLbPerAc[oxide] ?? Number.NaN;
  return (
    <Bench
      title="Need"
      aside={
        <Choices
          about="Oxide"
          value={oxide}
          options={[
            ["P2O5", oxideText("P2O5")],
            ["K2O", oxideText("K2O")],
          ]}
          onChoose={(part) => goTo({ ...here.value, sheet: "need", part })}
        />
      }
      actions={
        <button
          type="button"
          class="action"
          onClick={() => goTo({ sheet: "split", field: here.value.field })}
        >
          Go on to split
        </button>
      }
    >
      <BigNumber
        value={rate(mean, 1)}
        words={`${words().mass} ${oxideText(oxide)}/${words().area} on the average, ${tilde()}${mass(balance?.needLb ?? Number.NaN)} ${words().mass} in the field`}
      />
      <NeedGuide oxide={oxide} />
      <YieldGoal />
      <NeedFiguresTable oxide={oxide} />
      <GuideStanding oxide={oxide} />
      <GuideFigures oxide={oxide} />
      <NeedSteps oxide={oxide} />
      <OwnTables oxide={oxide} />
      <NeedClasses oxide={oxide} />
      <BelowCriticalFirst />
      <NeedBalance oxide={oxide} />
      <Setbacks />
      <TakeCare />
      <Notices notices={(doubts.value.need ?? []).filter(({ code }) => !shownAbove.has(code))} />
    </Bench>
  );
}

/** Notices whose matter stands on the sheet in full. */
const shownAbove = new Set(["guide-unconfirmed", "guide-superseded", "guide-overridden", "no-setbacks"]);

/** Changes map and totals while it moves. */
function YieldGoal() {
  const of = plan.value;
  const one = planField.value;
  if (!of || !one) return null;
  const before = beforeDrag(`yield ${one.id}`)?.fields.find(({ id }) => id === one.id)?.yieldBuPerAc;
  return (
    <>
      <NumberField
        label="Yield goal"
        unit="bu/ac"
        value={one.yieldBuPerAc}
        least={1}
        most={Math.max(one.crop === "corn" ? 320 : 120, one.yieldBuPerAc)}
        step={1}
        disabled={readOnly.value}
        onMove={(value, isDone) => {
          if (value !== one.yieldBuPerAc) {
            edit(withYield(of, one, value, before ?? one.yieldBuPerAc), `yield ${one.id}`);
          }
          if (isDone) endDrag();
        }}
      />
      {one.yieldZones && (
        <p class="small second">
          Zones of {one.yieldZones.source} have yield goals of their own, and this one is for ground in none
          of them.
        </p>
      )}
    </>
  );
}

/** The plan as it was when the drag began, while it lasts. */
export function beforeDrag(grip: string) {
  const last = history.value?.past.at(-1);
  return last?.grip === grip ? last.plan : undefined;
}
