import { area, words } from "../state/figures.ts";
import { field } from "../state/results.ts";

/** Acres by the odds that the test lies below the critical level. */
export function OddsBox({ test }: { test: string }) {
  const odds = field.value?.tests.find((one) => one.test === test)?.odds;
  if (!odds) return null;
  const rows = [
    ["likely below (8 in 10)", odds.likelyBelowAc],
    ["cannot say", odds.cannotSayAc],
    ["likely above (8 in 10)", odds.likelyAboveAc],
  ] as const;
  const all = odds.likelyBelowAc + odds.cannotSayAc + odds.likelyAboveAc;
  return (
    <section class="box odds-box" aria-label="Odds">
      <h2>Below {odds.level}?</h2>
      {rows.map(([label, acres]) => (
        <div key={label} class="odds">
          <span>{label}</span>
          <b>
            {area(acres)} {words().area}
          </b>
          <svg viewBox="0 0 174 6" preserveAspectRatio="none" aria-hidden="true">
            <rect x="0.5" y="0.5" width="173" height="5" fill="none" stroke="var(--ink-2)" />
            <rect x="0" y="0" width={all > 0 ? (174 * acres) / all : 0} height="6" fill="var(--ink)" />
          </svg>
        </div>
      ))}
    </section>
  );
}
