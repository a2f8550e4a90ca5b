import { Fragment } from "preact";
import { lengthIn, numberText, type PlanModel, type PlanStructure, TEST_UNITS } from "#core";
import type { TestSummary } from "../engine/summaries.ts";
import { words } from "../state/figures.ts";
import { planField } from "../state/look.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { settings } from "../state/settings.ts";
import { withModel } from "../state/soil-edits.ts";
import { Figure, Line } from "./soil-lines.tsx";

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

const types = ["spherical", "exponential", "gaussian", "matern"] as const;

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
