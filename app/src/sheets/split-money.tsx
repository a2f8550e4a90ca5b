import { numberText, oxideText, passCostsInWords } from "#core";
import { FigureLine, PickLine } from "../parts/figure-line.tsx";
import { mass, words } from "../state/figures.ts";
import { edit, plan } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { saidUsd } from "../state/said.ts";
import { withOptimum } from "../state/split-edits.ts";

/** Prices that the cheapest split weighs, and what it came to. */
export function Money() {
  const of = plan.value!;
  const optimum = of.split.optimum ?? {};
  const view = field.value?.split?.optimum;
  return (
    <>
      <dl class="lines">
        <PickLine
          label="The cap"
          value={optimum.capHolds === false ? "no" : "yes"}
          options={[
            ["yes", "holds"],
            ["no", "does not hold: cost decides"],
          ]}
          onChoose={(holds) =>
            edit(
              withOptimum(
                of,
                { capHolds: holds === "no" ? false : null },
                holds === "no" ? "least cost without the cap" : "least cost under the cap",
              ),
            )
          }
        />
        <FigureLine
          label="An hour of the rig, timeliness included"
          unit="$"
          value={optimum.usdPerRigHour ?? null}
          onTake={(value) => edit(withOptimum(of, { usdPerRigHour: value }, `rig hour ${saidUsd(value)}`))}
        />
        <FigureLine
          label="A broadcast pass"
          unit="$/ac"
          value={optimum.usdPerAcPass ?? null}
          onTake={(value) =>
            edit(withOptimum(of, { usdPerAcPass: value }, `broadcast pass ${saidUsd(value)}/ac`))
          }
        />
        {(["P2O5", "K2O"] as const).map((oxide) => (
          <FigureLine
            key={oxide}
            label={`A lb ${oxideText(oxide)} worth more in the strip by`}
            unit="$"
            value={optimum.usdPerLbPlaced?.[oxide] ?? null}
            onTake={(value) => {
              const { [oxide]: _, ...others } = optimum.usdPerLbPlaced ?? {};
              const next = value === null ? others : { ...others, [oxide]: value };
              const left = Object.keys(next).length === 0 ? null : next;
              edit(
                withOptimum(
                  of,
                  { usdPerLbPlaced: left },
                  `${oxideText(oxide)} placed ${saidUsd(value)} a lb`,
                ),
              );
            }}
          />
        ))}
      </dl>
      {view && (
        <p class="small second">
          {passCostsInWords(view)} {numberText(view.classes, 0)} classes of need
          {view.stepLbPerAc > 0
            ? `; ${mass(view.movedLb.P2O5 + view.movedLb.K2O)} ${words().mass} of oxide change place by them`
            : ""}
          .
        </p>
      )}
    </>
  );
}
