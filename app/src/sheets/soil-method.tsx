import type { PlanAnisotropy, TestName } from "#core";
import type { TestSummary } from "../engine/protocol.ts";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { NeededLine, PickLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { planField } from "../state/look.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { said } from "../state/said.ts";
import {
  directionOf,
  methodOf,
  typedModel,
  withDirection,
  withMapMethod,
  withPower,
  withSupport,
} from "../state/soil-edits.ts";
import { beginModel, TypedVariogram } from "./soil-typed.tsx";

const told = {
  averaged:
    "The variogram is averaged over many, by what this field's samples say. It holds for every field.",
  pooled: "As averaged, with what the farm's fields of one test say added up. It holds for every field.",
  typed: "The variogram you type holds for this test in this field.",
  "inverse-distance": "Nearer samples weigh more. There is no ± and no odds. It holds for every field.",
} as const;

/** How the samples become this map; every choice is worked out at once. */
export function SoilMethod({ summary }: { summary: TestSummary }) {
  const of = plan.value;
  const one = planField.value;
  if (!of || !one) return null;
  const { test } = summary;
  const method = methodOf(of, one, test);
  return (
    <div class="method">
      <ChoiceLine
        label="Mapped by"
        about="How the samples become a map"
        value={method}
        options={[
          ["averaged", "averaged"],
          ...(of.fields.length > 1 || method === "pooled" ? [["pooled", "pooled"] as const] : []),
          ["typed", "typed variogram"],
          ["inverse-distance", "inverse distance"],
        ]}
        disabled={readOnly.value}
        onChoose={(chosen) => edit(withMapMethod(of, one, test, chosen, beginModel(summary)))}
      />
      <p class="small second">{told[method]}</p>
      {method === "typed" && <TypedVariogram summary={summary} model={typedModel(of, one, test)!} />}
      {method === "inverse-distance" && (
        <dl class="lines">
          <NeededLine
            label="Power of the distance"
            unit=""
            value={of.maps.power ?? 2}
            least={0.1}
            most={10}
            step={0.1}
            onTake={(power) => edit(withPower(of, power))}
          />
        </dl>
      )}
      {method !== "inverse-distance" && (
        <Fold class="small" title="Direction and support">
          <DirectionAndSupport test={test} />
        </Fold>
      )}
    </div>
  );
}

/** Whether ranges are longer one way than across it, and what is kriged; only the user asks for either. */
function DirectionAndSupport({ test }: { readonly test: TestName }) {
  const of = plan.value!;
  const one = planField.value!;
  const isTyped = methodOf(of, one, test) === "typed";
  const direction = directionOf(of, one, test);
  const put = (changed: PlanAnisotropy | null, what: string) =>
    edit(withDirection(of, one, test, changed, what));
  return (
    <>
      <dl class="lines">
        <NeededLine
          label="Longest range points, clockwise from north"
          unit="degrees"
          value={direction?.angleDeg ?? 0}
          least={-360}
          most={360}
          onTake={(angleDeg) =>
            put({ angleDeg, ratio: direction?.ratio ?? 1 }, `direction ${said(angleDeg)} degrees`)
          }
        />
        <NeededLine
          label="Range across it over range along it, 1 for none"
          unit=""
          value={direction?.ratio ?? 1}
          least={0.01}
          most={1}
          step={0.01}
          onTake={(ratio) =>
            ratio === 1
              ? put(null, "all directions alike")
              : put({ angleDeg: direction?.angleDeg ?? 0, ratio }, `ratio across ${ratio}`)
          }
        />
        <PickLine
          label="Each value is"
          value={of.maps.support ?? "cell"}
          options={[
            ["cell", "the mean of a cell"],
            ["point", "the point in its middle"],
          ]}
          onChoose={(support) => edit(withSupport(of, support as "cell" | "point"))}
        />
      </dl>
      <p class="second">
        {isTyped ? "The direction is this variogram's." : "The direction holds for every field."} What is
        kriged holds for every field; a point on a sample stands out as a spike.
      </p>
    </>
  );
}
