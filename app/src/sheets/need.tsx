import { cropsOf, guideById, guides, numberText, oxideText } from "#core";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { Choices } from "../parts/choices.tsx";
import { Notices } from "../parts/notices.tsx";
import { NumberField } from "../parts/number-field.tsx";
import { mass, rate, words } from "../state/figures.ts";
import { doubts } from "../state/how-far.ts";
import { chosenField } from "../state/look.ts";
import { edit, endDrag, history, plan, readOnly } from "../state/opened.ts";
import { withGuide, withYield } from "../state/plan-edits.ts";
import { field } from "../state/results.ts";
import { goTo, here } from "../state/route.ts";

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
        words={`${words().mass} ${oxideText(oxide)}/${words().area} on the average, ${mass(balance?.needLb ?? Number.NaN)} ${words().mass} in the field`}
      />
      <Choosing />
      <Notices notices={doubts.value.need ?? []} />
    </Bench>
  );
}

/** Guide and yield goal; both change map and totals at once. */
function Choosing() {
  const of = plan.value;
  const one = of?.fields.find(({ id }) => id === chosenField.value);
  if (!of || !one) return null;
  const own = of.ownGuides ?? [];
  const known = guides.filter((guide) => cropsOf(guide).includes(one.crop));
  const chosen = guides.find((guide) => guide.id === one.guide);
  const before = beforeDrag(`yield ${one.id}`)?.fields.find(({ id }) => id === one.id)?.yieldBuPerAc;
  return (
    <>
      <dl class="lines">
        <div>
          <dt>
            <label for="guide">Guide</label>
          </dt>
          <dd>
            <select
              id="guide"
              value={one.guide}
              disabled={readOnly.value}
              onChange={(event) => edit(withGuide(of, one, event.currentTarget.value))}
            >
              {known.map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
              {own.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </dd>
        </div>
        <div>
          <dt>Crop</dt>
          <dd>{one.crop}</dd>
        </div>
      </dl>
      <NumberField
        label="Yield goal"
        unit="bu/ac"
        value={one.yieldBuPerAc}
        least={1}
        most={one.crop === "corn" ? 320 : 120}
        step={1}
        disabled={readOnly.value}
        onMove={(value, isDone) => {
          if (value !== one.yieldBuPerAc) {
            edit(withYield(of, one, value, before ?? one.yieldBuPerAc), `yield ${one.id}`);
          }
          if (isDone) endDrag();
        }}
      />
      {chosen && (
        <p class="small second">
          {chosen.publication}, {chosen.region}. {guideById(one.guide).rounding.note} Guide figures are read
          from the bulletin unless flagged; {numberText(one.yieldBuPerAc, 0)} bu/ac is the goal used.
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
