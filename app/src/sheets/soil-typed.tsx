import { type ComponentChildren, Fragment } from "preact";
import { lengthIn, type PlanModel, type PlanStructure, TEST_UNITS } from "#core";
import type { TestSummary } from "../engine/summaries.ts";
import { NeededLine, PickLine } from "../parts/figure-line.tsx";
import { words } from "../state/figures.ts";
import { planField } from "../state/look.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { said } from "../state/said.ts";
import { settings } from "../state/settings.ts";
import { withModel } from "../state/soil-edits.ts";

/** One spherical structure with nugget, sill and mean range of the model in use; of the samples where there is none. */
export function beginModel({ variogram, taken }: TestSummary): PlanModel {
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

const FORMS = [
  ["spherical", "spherical"],
  ["exponential", "exponential"],
  ["gaussian", "Gaussian"],
  ["matern", "Matérn"],
] as const;

/** The variogram typed for one test of one field, structure by structure. */
export function TypedVariogram({ summary, model }: TypedProps) {
  const of = plan.value!;
  const one = planField.value!;
  const { test } = summary;
  const unit = TEST_UNITS[test];
  const perM = lengthIn(1, settings.value.system);
  const put = (changed: PlanModel, what: string) => edit(withModel(of, one, test, changed, what));
  const withPart = (k: number, part: PlanStructure, what: string) =>
    put({ ...model, structures: model.structures.map((old, i) => (i === k ? part : old)) }, what);
  return (
    <dl class="lines">
      <NeededLine
        label="Nugget"
        unit={`${unit} squared`}
        value={model.nugget}
        step={0.1}
        onTake={(nugget) => put({ ...model, nugget }, `nugget ${said(nugget)}`)}
      />
      {model.structures.map((part, k) => {
        const which = model.structures.length > 1 ? ` ${k + 1}` : "";
        return (
          <Fragment key={k}>
            <PickLine
              label={`Form${which}`}
              value={part.type}
              options={FORMS}
              onChoose={(chosen) => {
                const type = chosen as PlanStructure["type"];
                const { kappa: _, ...bare } = part;
                withPart(k, { ...bare, type, ...(type === "matern" ? { kappa: 0.5 } : {}) }, type);
              }}
            />
            <NeededLine
              label={`Partial sill${which}`}
              unit={`${unit} squared`}
              value={part.partialSill}
              step={0.1}
              onTake={(partialSill) =>
                withPart(k, { ...part, partialSill }, `partial sill ${said(partialSill)}`)
              }
            />
            <NeededLine
              label={`Range${which}`}
              unit={words().length}
              value={Math.round(part.rangeM * perM)}
              least={1}
              onTake={(range) =>
                withPart(
                  k,
                  { ...part, rangeM: tidyLength(range / perM) },
                  `range ${said(range)} ${words().length}`,
                )
              }
            />
            {part.type === "matern" && (
              <NeededLine
                label={`Smoothness${which}`}
                unit=""
                value={part.kappa ?? 0.5}
                least={0.1}
                step={0.1}
                onTake={(kappa) => withPart(k, { ...part, kappa }, `smoothness ${said(kappa)}`)}
              />
            )}
            {model.structures.length > 1 && (
              <ButtonLine>
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
              </ButtonLine>
            )}
          </Fragment>
        );
      })}
      {model.structures.length < MOST_STRUCTURES && (
        <ButtonLine>
          <button
            type="button"
            class="link"
            disabled={readOnly.value}
            onClick={() => put(withOneMore(model), `structure ${model.structures.length + 1} added`)}
          >
            Add a structure
          </button>
        </ButtonLine>
      )}
    </dl>
  );
}

/** A button on a line of its own, below the figures. */
const ButtonLine = ({ children }: { readonly children: ComponentChildren }) => (
  <div>
    <dt />
    <dd>{children}</dd>
  </div>
);

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
