import { useState } from "preact/hooks";
import { lengthText, numberText, TEST_UNITS, variogramChart } from "#core";
import type { TestSummary } from "../engine/protocol.ts";
import { Drawing } from "../parts/drawing.tsx";
import { Fold } from "../parts/fold.tsx";
import { words } from "../state/figures.ts";
import { settings } from "../state/settings.ts";

/** From the samples to this map: the ten decisions, and the variogram. */
export function SoilComputed({ summary }: { summary: TestSummary }) {
  const { method, decisions, variogram } = summary;
  return (
    <Fold class="small" title="How computed">
      {() => (
        <>
          <p>{method}.</p>
          {decisions.length > 0 && (
            <ol>
              {decisions.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ol>
          )}
          {variogram.bins.length > 0 && <Variogram summary={summary} />}
        </>
      )}
    </Fold>
  );
}

function Variogram({ summary }: { summary: TestSummary }) {
  const { variogram, test } = summary;
  const { bins, model, band, fitted } = variogram;
  const [isCompared, setCompared] = useState(false);
  const unit = TEST_UNITS[test];
  const { system } = settings.value;
  return (
    <>
      <figure>
        <figcaption>
          <b>Variogram</b>. Circle: pairs of samples at like distance, larger for more pairs.
          {model ? " Line: the one used." : " No variogram is used."}
          {band.length > 0 ? " Ruled: where 90 % of the averaged ones lie." : ""}
          {isCompared && fitted ? " Broken: the least-squares fit." : ""}
        </figcaption>
        <Drawing
          svg={variogramChart(
            { bins, model, band, unit, system, fitted: isCompared ? (fitted?.model ?? null) : null },
            { width: 360, height: 190 },
          )}
          about={`Variogram of soil ${test}: ${bins.length} distances`}
        />
      </figure>
      {fitted && (
        <label>
          <input
            type="checkbox"
            checked={isCompared}
            onChange={(event) => setCompared(event.currentTarget.checked)}
          />
          <span>Compare with a least-squares fit</span>
        </label>
      )}
      {isCompared && fitted && <FitInWords fit={fitted} unit={unit} />}
    </>
  );
}

interface FitProps {
  readonly fit: NonNullable<TestSummary["variogram"]["fitted"]>;
  readonly unit: string;
}

/** The classical fit in figures; it changes nothing on the map. */
function FitInWords({ fit, unit }: FitProps) {
  const { nugget, structures } = fit.model;
  const { partialSill, range } = structures[0]!;
  return (
    <p class="second">
      Spherical, weighted by pairs over squared distance: nugget {numberText(nugget, 1)}, partial sill{" "}
      {numberText(partialSill, 1)} {unit} squared, range {lengthText(range, settings.value.system)}{" "}
      {words().length}.
      {fit.rangeAtLimit
        ? " The range is at the edge of those tried: the circles do not show where it levels off."
        : ""}{" "}
      For comparison only; the map does not use it.
    </p>
  );
}
