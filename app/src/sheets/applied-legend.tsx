import { APPLIED_LIMITS, numberText, ramps } from "#core";
import type { AppliedShown } from "../engine/season-protocol.ts";
import { area, words } from "../state/figures.ts";

const stepWords = (step: number): string => {
  const percent = (limit: number): string => `${limit > 0 ? "+" : ""}${numberText(100 * limit, 0)}`;
  const [low, high] = [APPLIED_LIMITS[step - 1], APPLIED_LIMITS[step]];
  if (low === undefined) return `under ${percent(high!)}`;
  return high === undefined ? `over ${percent(low)}` : `${percent(low)} to ${percent(high)}`;
};

/** Acres of each step of placed less planned, most on top. */
export const AppliedLegend = ({ applied }: { readonly applied: AppliedShown }) => (
  <table>
    <caption class="small second">Placed less planned, % of the plan; more is outlined</caption>
    <tbody>
      {applied.acres
        .map((acres, step) => ({ acres, step }))
        .reverse()
        .map(({ acres, step }) => (
          <tr key={step}>
            <td>
              <svg class="swatch" width="22" height="14" aria-hidden="true">
                <rect
                  width="22"
                  height="14"
                  fill={ramps.diff[step]}
                  stroke={step > (ramps.diff.length - 1) / 2 ? "var(--ink)" : "var(--ink-2)"}
                  stroke-width={step > (ramps.diff.length - 1) / 2 ? "3" : "0.8"}
                />
              </svg>
            </td>
            <th scope="row">{stepWords(step)}</th>
            <td class="figure">
              {area(acres)} {words().area}
            </td>
          </tr>
        ))}
    </tbody>
  </table>
);
