import { type NeedFigures, type Oxide, oxideText } from "#core";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { FigureLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { area, mass, rate, tilde, words } from "../state/figures.ts";
import { type DrivenBy, withCost, withDrivenBy } from "../state/need-edits.ts";
import { edit, type Opened, opened, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";

/** Figures that only come once the hand has rested, kept until they come again. */
let last: { readonly of: Opened | null; readonly key: string; readonly figures: NeedFigures } | null = null;

/** The three readings of the field's need beside each other; one of them drives the rates. */
export function NeedFiguresTable({ oxide }: { oxide: Oxide }) {
  const of = plan.value;
  const shown = field.value;
  if (!of || !shown) return null;
  const { figures: all, from } = shown.need;
  if (from === "rates") return null;
  const figures = all[oxide];
  const key = `${shown.id} ${oxide}`;
  const isFull = figures.expectedLb !== null;
  const before = last?.of === opened.value && last?.key === key ? last.figures : null;
  if (isFull) last = { of: opened.value, key, figures };
  const drivenBy = of.need?.drivenBy ?? "mapped-test";
  const hasCosts = of.need?.usdPerLbMissing !== undefined && of.need.usdPerLbExcess !== undefined;
  const held = (now: number | null, old: number | null | undefined) =>
    now !== null ? { lb: now, mark: tilde() } : { lb: old ?? Number.NaN, mark: old == null ? "" : "~" };
  const rows: readonly {
    readonly by: DrivenBy | null;
    readonly text: string;
    readonly lb: number;
    readonly mark: string;
    readonly isOff?: boolean;
  }[] = [
    { by: "mapped-test", text: "of the mapped test", lb: figures.mappedTestLb, mark: tilde() },
    {
      by: "expected",
      text: "expected over what the test may be",
      ...held(figures.expectedLb, before?.expectedLb),
    },
    {
      by: "weighted",
      text: "weighted by what a lb costs",
      isOff: !hasCosts,
      ...held(figures.weightedLb, hasCosts ? before?.weightedLb : null),
    },
    { by: null, text: "mean of the needs at the samples", lb: figures.atSamplesLb, mark: tilde() },
    { by: null, text: "as one flat rate", lb: figures.flatLbPerAc * shown.areaAc, mark: tilde() },
  ];
  return (
    <>
      <table class="drives">
        <thead>
          <tr>
            <th scope="col">
              need of the field; the rates{of.fields.length > 1 ? " of all fields" : ""} follow
            </th>
            <FigureHeads of={[`${words().mass} ${oxideText(oxide)}`, words().rate]} />
          </tr>
        </thead>
        <tbody>
          {rows.map(({ by, text, lb, mark, isOff }) => (
            <tr key={text} class={by === drivenBy ? "chosen" : ""}>
              <td>
                {by === null ? (
                  <span class="second">{text}</span>
                ) : (
                  <label>
                    <input
                      type="radio"
                      name="driven-by"
                      checked={by === drivenBy}
                      disabled={readOnly.value || isOff === true}
                      onChange={() => edit(withDrivenBy(of, by))}
                    />
                    {text}
                  </label>
                )}
              </td>
              <td class="figure">
                {mark}
                {mass(lb)}
              </td>
              <td class="figure">{rate(lb / shown.areaAc, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {figures.partedAc > 0.05 && (
        <p class="small">
          The first two part by over 5 % of the mean need on {area(figures.partedAc)} {words().area}.
        </p>
      )}
      <Fold class="small costs" title="What a lb costs">
        {() => (
          <>
            <p class="second">For the weighted need. In every field; there is no usual figure.</p>
            <dl class="lines">
              <CostLine cost="usdPerLbMissing" label="$ a missing lb of oxide costs" />
              <CostLine cost="usdPerLbExcess" label="$ an excess lb of oxide costs" />
            </dl>
          </>
        )}
      </Fold>
    </>
  );
}

function CostLine({ cost, label }: { cost: "usdPerLbMissing" | "usdPerLbExcess"; label: string }) {
  const of = plan.value!;
  const value = of.need?.[cost];
  return (
    <FigureLine
      label={label}
      unit=""
      value={value ?? null}
      least={0.01}
      step={0.01}
      onTake={(typed) => edit(withCost(of, cost, typed))}
    />
  );
}
