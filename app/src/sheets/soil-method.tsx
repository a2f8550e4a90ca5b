import { Fragment } from "preact";
import {
  M_PER_FT,
  numberText,
  type PlanAnisotropy,
  type PlanModel,
  type PlanStructure,
  type TestName,
} from "#core";
import type { TestSummary } from "../engine/protocol.ts";
import { Choices } from "../parts/choices.tsx";
import { DraftInput } from "../parts/draft-input.tsx";
import { words } from "../state/figures.ts";
import { chosenField } from "../state/look.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { settings } from "../state/settings.ts";
import {
  directionOf,
  methodOf,
  typedModel,
  withDirection,
  withMapMethod,
  withModel,
  withPower,
  withSupport,
} from "../state/soil-edits.ts";

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
  const one = of?.fields.find(({ id }) => id === chosenField.value);
  if (!of || !one) return null;
  const { test } = summary;
  const method = methodOf(of, one, test);
  return (
    <div class="method">
      <div class="pair">
        <span class="second">Mapped by</span>
        <Choices
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
      </div>
      <p class="small second">{told[method]}</p>
      {method === "typed" && <TypedVariogram summary={summary} model={typedModel(of, one, test)!} />}
      {method === "inverse-distance" && (
        <p class="row small">
          <label for="power">Power of the distance</label>
          <DraftInput
            id="power"
            type="number"
            min={0.5}
            step={0.5}
            value={String(of.maps.power ?? 2)}
            disabled={readOnly.value}
            onTake={(text) => {
              const power = Number(text);
              if (!(power > 0) || power > 10) return false;
              if (power !== (of.maps.power ?? 2)) edit(withPower(of, power));
              return true;
            }}
          />
        </p>
      )}
      {method !== "inverse-distance" && (
        <details class="small">
          <summary>Direction and support</summary>
          <DirectionAndSupport test={test} />
        </details>
      )}
    </div>
  );
}

interface DirectionProps {
  readonly test: TestName;
}

/** Whether ranges are longer one way than across it, and what is kriged; only the user asks for either. */
function DirectionAndSupport({ test }: DirectionProps) {
  const of = plan.value!;
  const one = of.fields.find(({ id }) => id === chosenField.value)!;
  const isTyped = methodOf(of, one, test) === "typed";
  const direction = directionOf(of, one, test);
  const put = (changed: PlanAnisotropy | null, what: string) =>
    edit(withDirection(of, one, test, changed, what));
  return (
    <>
      <dl class="lines">
        <Figure
          label="Longest range points, degrees clockwise from north"
          value={direction?.angleDeg ?? 0}
          least={-360}
          most={360}
          onTake={(angleDeg) =>
            put({ angleDeg, ratio: direction?.ratio ?? 1 }, `direction ${numberText(angleDeg, 0)} degrees`)
          }
        />
        <Figure
          label="Range across it over range along it, 1 for none"
          value={direction?.ratio ?? 1}
          least={0.01}
          most={1}
          onTake={(ratio) =>
            ratio === 1
              ? put(null, "all directions alike")
              : put({ angleDeg: direction?.angleDeg ?? 0, ratio }, `ratio across ${ratio}`)
          }
        />
        <Line label="Each value is">
          <select
            aria-label="What is kriged"
            value={of.maps.support ?? "cell"}
            disabled={readOnly.value}
            onChange={(event) => edit(withSupport(of, event.currentTarget.value as "cell" | "point"))}
          >
            <option value="cell">the mean of a cell</option>
            <option value="point">the point in its middle</option>
          </select>
        </Line>
      </dl>
      <p class="second">
        {isTyped ? "The direction is this variogram's." : "The direction holds for every field."} What is
        kriged holds for every field; a point on a sample stands out as a spike.
      </p>
    </>
  );
}

/** One spherical structure with nugget, sill and mean range of the model in use; of the samples where there is none. */
function beginModel({ variogram, taken }: TestSummary): PlanModel {
  const { model } = variogram;
  const parts = model?.structures ?? [];
  const sill = parts.reduce((sum, part) => sum + part.partialSill, 0);
  const spherical = (partialSill: number, rangeM: number): PlanStructure => ({
    type: "spherical",
    partialSill: tidy(partialSill),
    rangeM: tidy(rangeM),
  });
  if (model && sill > 0) {
    const range = parts.reduce((sum, part) => sum + part.partialSill * part.range, 0) / sill;
    return { nugget: tidy(model.nugget), structures: [spherical(sill, range)] };
  }
  const mean = taken.reduce((sum, { value }) => sum + value, 0) / Math.max(1, taken.length);
  const variance = taken.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / Math.max(1, taken.length);
  const farthest = Math.max(100, ...variogram.bins.map((bin) => bin.distanceM));
  return { nugget: 0, structures: [spherical(variance, farthest)] };
}

const tidy = (value: number): number => Number(value.toPrecision(3));

interface TypedProps {
  readonly summary: TestSummary;
  readonly model: PlanModel;
}

const types = ["spherical", "exponential", "gaussian", "matern"] as const;

function TypedVariogram({ summary, model }: TypedProps) {
  const of = plan.value!;
  const one = of.fields.find(({ id }) => id === chosenField.value)!;
  const { test } = summary;
  const unit = test === "CEC" ? "meq/100 g" : "ppm";
  const perM = settings.value.system === "us" ? 1 / M_PER_FT : 1;
  const put = (changed: PlanModel, what: string) => edit(withModel(of, one, test, changed, what));
  const withPart = (k: number, part: PlanStructure, what: string) =>
    put({ ...model, structures: model.structures.map((old, i) => (i === k ? part : old)) }, what);
  return (
    <dl class="lines">
      <Figure
        label={`Nugget, ${unit} squared`}
        value={model.nugget}
        least={0}
        onTake={(nugget) => put({ ...model, nugget }, `nugget ${numberText(nugget, 1)}`)}
      />
      {model.structures.map((part, k) => {
        const which = model.structures.length > 1 ? ` ${k + 1}` : "";
        return (
          <Fragment key={k}>
            <Line label={`Form${which}`}>
              <select
                aria-label={`Form of the variogram${which}`}
                value={part.type}
                disabled={readOnly.value}
                onChange={(event) => {
                  const type = event.currentTarget.value as PlanStructure["type"];
                  const { kappa: _, ...bare } = part;
                  withPart(k, { ...bare, type, ...(type === "matern" ? { kappa: 0.5 } : {}) }, type);
                }}
              >
                {types.map((type) => (
                  <option key={type} value={type}>
                    {type === "gaussian" ? "Gaussian" : type === "matern" ? "Matérn" : type}
                  </option>
                ))}
              </select>
            </Line>
            <Figure
              label={`Partial sill${which}, ${unit} squared`}
              value={part.partialSill}
              least={0}
              onTake={(partialSill) =>
                withPart(k, { ...part, partialSill }, `partial sill ${numberText(partialSill, 1)}`)
              }
            />
            <Figure
              label={`Range${which}, ${words().length}`}
              value={Math.round(part.rangeM * perM)}
              least={1}
              onTake={(range) =>
                withPart(
                  k,
                  { ...part, rangeM: tidyLength(range / perM) },
                  `range ${numberText(range, 0)} ${words().length}`,
                )
              }
            />
            {part.type === "matern" && (
              <Figure
                label={`Smoothness${which}`}
                value={part.kappa ?? 0.5}
                least={0.1}
                onTake={(kappa) => withPart(k, { ...part, kappa }, `smoothness ${numberText(kappa, 1)}`)}
              />
            )}
            {model.structures.length > 1 && (
              <Line label="">
                <button
                  type="button"
                  class="link"
                  disabled={readOnly.value}
                  onClick={() =>
                    put(
                      { ...model, structures: model.structures.filter((_, i) => i !== k) },
                      `structure${which} taken out`,
                    )
                  }
                >
                  Take structure{which} out
                </button>
              </Line>
            )}
          </Fragment>
        );
      })}
      {model.structures.length < MOST_STRUCTURES && (
        <Line label="">
          <button
            type="button"
            class="link"
            disabled={readOnly.value}
            onClick={() => put(withOneMore(model), `structure ${model.structures.length + 1} added`)}
          >
            Add a structure
          </button>
        </Line>
      )}
    </dl>
  );
}

/** Nested structures that one can still read off a chart; the plan's file takes eight. */
const MOST_STRUCTURES = 4;

/** Half of the last structure's sill goes to a new one of three times its range. */
function withOneMore(model: PlanModel): PlanModel {
  const last = model.structures.at(-1);
  if (!last) return { ...model, structures: [{ type: "spherical", partialSill: model.nugget, rangeM: 200 }] };
  const half = tidy(last.partialSill / 2);
  const more: PlanStructure = { type: "spherical", partialSill: half, rangeM: tidyLength(3 * last.rangeM) };
  return {
    ...model,
    structures: [...model.structures.slice(0, -1), { ...last, partialSill: half }, more],
  };
}

const tidyLength = (metres: number): number => Math.round(metres * 100) / 100;

const Line = ({ label, children }: { label: string; children: preact.ComponentChildren }) => (
  <div>
    <dt>{label}</dt>
    <dd>{children}</dd>
  </div>
);

interface FigureProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most?: number;
  readonly onTake: (value: number) => void;
}

const Figure = ({ label, value, least, most = Number.POSITIVE_INFINITY, onTake }: FigureProps) => (
  <Line label={label}>
    <DraftInput
      type="number"
      aria-label={label}
      min={least}
      step={0.1}
      value={String(value)}
      disabled={readOnly.value}
      onTake={(text) => {
        const typed = text === "" ? Number.NaN : Number(text);
        if (!Number.isFinite(typed) || typed < least || typed > most) return false;
        if (typed !== value) onTake(typed);
        return true;
      }}
    />
  </Line>
);
