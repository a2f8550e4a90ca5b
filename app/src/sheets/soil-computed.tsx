import { variogramChart } from "#core";
import type { TestSummary } from "../engine/protocol.ts";
import { Drawing } from "../parts/drawing.tsx";
import { settings } from "../state/settings.ts";

/** From the samples to this map: the ten decisions, and the variogram. */
export function SoilComputed({ summary }: { summary: TestSummary }) {
  const { method, decisions, variogram, test } = summary;
  const unit = test === "CEC" ? "meq/100 g" : "ppm";
  const { system } = settings.value;
  return (
    <details class="small">
      <summary>How computed</summary>
      <p>{method}.</p>
      {decisions.length > 0 && (
        <ol>
          {decisions.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ol>
      )}
      {variogram.bins.length > 0 && (
        <figure>
          <figcaption>
            <b>Variogram</b>. Circle: pairs of samples at like distance, larger for more pairs.
            {variogram.model ? " Line: the one used." : " No variogram is used."}
            {variogram.fitted ? " Broken: fitted to the circles by least squares, for comparison." : ""}
          </figcaption>
          <Drawing
            svg={variogramChart({ ...variogram, unit, system }, { width: 360, height: 190 })}
            about={`Variogram of soil ${test}: ${variogram.bins.length} distances`}
          />
        </figure>
      )}
    </details>
  );
}
