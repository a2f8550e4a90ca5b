import { type Oxide, oxideText } from "#core";
import { rate, words } from "../state/figures.ts";
import { bandText } from "../state/need-edits.ts";
import { pointed } from "../state/results.ts";

/** The arithmetic at the place read out, by the rule that made the map. */
export function NeedSteps({ oxide }: { oxide: Oxide }) {
  const now = pointed.value?.explained?.[oxide] ?? null;
  return (
    <details class="small" open>
      <summary>How computed at a place</summary>
      {now === null ? (
        <p class="second">Point at the field to see the arithmetic there.</p>
      ) : (
        <>
          <p>
            <b>
              {rate(now.needLbPerAc, 1)} {words().mass} {oxideText(oxide)}/{words().area}
            </b>{" "}
            needed there{now.band === "" ? "" : `, ${bandText(now.band)}`}.
          </p>
          <ol>
            {now.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </>
      )}
    </details>
  );
}
