import { numberText, type Oxide, oxideText } from "#core";
import { rate, words } from "../state/figures.ts";
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
            {now.guide}, soil {oxide === "P2O5" ? "P" : "K"} {numberText(now.testPpm, 1)} ppm
            {now.cecMeq === null ? "" : `, CEC ${numberText(now.cecMeq, 1)} meq/100 g`}: {now.band}.
          </p>
          {now.crops.map(({ crop, yieldBuPerAc, lbPerAc, steps }) => (
            <section key={crop} aria-label={crop}>
              {now.crops.length > 1 && (
                <p>
                  <b>{crop}</b>, {numberText(yieldBuPerAc, 0)} bu/ac: {numberText(lbPerAc, 1)} lb/ac
                </p>
              )}
              <ol>
                {steps.map((step) => (
                  <li key={step}>{step}</li>
                ))}
              </ol>
            </section>
          ))}
          <p>
            <b>
              {rate(now.needLbPerAc, 1)} {words().mass} {oxideText(oxide)}/{words().area}
            </b>{" "}
            needed there
            {now.parts === null
              ? "."
              : `; the guide at the mapped test says ${rate(now.atTestLbPerAc, 1)}: ${now.parts}.`}
          </p>
        </>
      )}
    </details>
  );
}
