import {
  bandFactor,
  capital,
  IN_CROP_CARE,
  needPartInWords,
  numberText,
  oxideText,
  type PlanSplit,
  type SplitMethod,
  splitMethodInWords,
  UNKNOWN,
} from "#core";
import { BigNumber } from "../parts/bench.tsx";
import { Choices } from "../parts/choices.tsx";
import { FigureLine, PickLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { figures, rate, tilde, words } from "../state/figures.ts";
import { planField } from "../state/look.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { said } from "../state/said.ts";
import { withBandFactor, withMethod, withSplit, withStarter } from "../state/split-edits.ts";
import { Money } from "./split-money.tsx";
import { Layers, Priority } from "./split-priority.tsx";

/** The one number of the way chosen. */
export function SplitHeadline() {
  const shown = field.value;
  const view = shown?.split;
  if (!shown || !view) return <BigNumber value={UNKNOWN} words={`${words().rate}, being worked out`} />;
  const ceiling = shown.ceilingLbPerAc;
  if (view.optimum) {
    const { worth } = view.optimum;
    if (worth.dollarsPerLb === null) {
      return (
        <BigNumber
          value={UNKNOWN}
          words={`need is short: what one more lb in the strip would bring has no price; the limit is the ${worth.limit}`}
        />
      );
    }
    if (worth.dollarsPerLb < 0.0005) {
      return (
        <BigNumber value={`${tilde()}$0`} words="is what one more lb in the strip saves at these prices" />
      );
    }
    return (
      <BigNumber
        value={`${tilde()}$${worth.dollarsPerLb.toFixed(3)}`}
        words={
          worth.limit === "none"
            ? "a pound: nothing limits the strip"
            : worth.limit === "mean rate"
              ? "is what one more lb in the strip is worth; the limit is the mean rate"
              : `is what one more lb in the strip costs in time; the limit is the ${worth.limit}`
        }
      />
    );
  }
  if (view.share !== null) {
    return (
      <BigNumber
        value={`${tilde()}${numberText(100 * view.share, 0)} %`}
        words={
          view.share >= 1
            ? "of what the limits leave goes in the strip: the cap cuts nothing"
            : "of what lies above the starter goes in the strip"
        }
      />
    );
  }
  if (view.layers.length > 0) {
    const cut = view.layers.find((layer) => layer.needLb > 1 && layer.stripLb < layer.needLb * (1 - 1e-6));
    return cut ? (
      <BigNumber
        value={`${tilde()}${numberText((100 * cut.stripLb) / cut.needLb, 0)} %`}
        words={`of ${needPartInWords(cut.name)} stays in the strip; what comes after it waits for the spreader`}
      />
    ) : (
      <BigNumber value={`${tilde()}100 %`} words="of what the limits leave fits in the strip" />
    );
  }
  if (ceiling == null)
    return (
      <BigNumber
        value={`${tilde()}${rate(figures.value?.stripMeanLbPerAc ?? Number.NaN)}`}
        words={`${words().rate} in the strip on the average: the cap cuts nothing, no ceiling is needed`}
      />
    );
  return (
    <BigNumber
      value={`${tilde()}${rate(ceiling)}`}
      words={`${words().rate} of all products is the ceiling anywhere in the strip, before rates are rounded to steps`}
    />
  );
}

const METHODS: readonly SplitMethod[] = ["ceiling", "share", "priority", "optimum"];

/** The way the need is split, with the figures it asks for. */
export function SplitWay() {
  const of = plan.value!;
  const method = of.split.method ?? "ceiling";
  const one = planField.value;
  const guideOfP = one?.nutrients?.P2O5?.guide ?? one?.guide ?? null;
  const byGuide = typeof of.split.bandFactorP2O5 === "object" ? guideOfP : null;
  const factor = bandFactor(of.split, guideOfP);
  return (
    <>
      <Choices
        about="Way to split"
        value={method}
        options={METHODS.map((one) => [one, capital(splitMethodInWords(one))] as const)}
        disabled={readOnly.value}
        onChoose={(chosen) => edit(withMethod(of, chosen))}
      />
      <p class="small second">{told[method]}</p>
      {method === "priority" && <Priority />}
      {method === "optimum" && <Money />}
      <Fold title="Starter, acres a day, time of the spreader">
        <dl class="lines">
          {(["P2O5", "K2O"] as const).map((oxide) => (
            <FigureLine
              key={oxide}
              label={`Starter ${oxideText(oxide)}, first in the strip`}
              unit="lb/ac"
              value={of.split.starterLbPerAc?.[oxide] ?? null}
              onTake={(value) => edit(withStarter(of, oxide, value))}
            />
          ))}
          <FigureLine
            label="Cap by acres a day (the rig must be told)"
            unit="ac"
            value={of.split.acresPerDay ?? null}
            least={1}
            onTake={(value) =>
              edit(
                withSplit(
                  of,
                  { acresPerDay: value },
                  value === null ? "cap as typed" : `cap: the rig still does ${said(value)} ac a day`,
                ),
              )
            }
          />
          <FigureLine
            label={`P₂O₅ in the strip below critical counts as more: factor 0.5 to 1${byGuide ? `, ${byGuide}` : ""}`}
            unit=""
            value={factor === 1 ? null : factor}
            least={0.5}
            most={1}
            onTake={(value) => edit(withBandFactor(of, byGuide, value))}
          />
          <PickLine
            label="The spreader comes"
            value={of.split.broadcastWhen ?? ""}
            options={[
              ["", "not stated"],
              ["after-harvest", "after harvest"],
              ["before-crop", "before the crop"],
              ["in-crop", "in the crop"],
            ]}
            onChoose={(when) =>
              edit(
                withSplit(
                  of,
                  { broadcastWhen: when === "" ? null : (when as NonNullable<PlanSplit["broadcastWhen"]>) },
                  `spreader: ${when === "" ? "not stated" : when.replace("-", " ")}`,
                ),
              )
            }
          />
        </dl>
        {of.split.broadcastWhen === "in-crop" && <p class="doubt">{capital(IN_CROP_CARE)}.</p>}
        {of.split.bandFactorP2O5 !== undefined && (
          <p class="doubt">
            No guide read here cuts a rate for banding as a rule. What is left out draws the soil down: see
            the balance of the need.
          </p>
        )}
      </Fold>
      <Layers />
    </>
  );
}

const told: Readonly<Record<SplitMethod, string>> = {
  ceiling: "The flattest strip: no place gets more than the ceiling.",
  share: "Every place keeps the same share of what it needs above the starter.",
  priority:
    "Starter, then this crop's need below critical, maintenance, build-up; potash leaves before phosphate.",
  optimum: "The cheapest of product, rig hours and spreader passes under the limits; worked out by a solver.",
};
