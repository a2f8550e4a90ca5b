import { APPLIED_LIMITS, AS_PLANNED, appliedShare, colours, lineWeights, ramps, signedText } from "#core";
import type { AppliedShown } from "../engine/season-protocol.ts";
import { area, words } from "../state/figures.ts";

const stepWords = (step: number): string => {
  const percent = (limit: number): string => signedText(100 * limit, 0);
  const [low, high] = [APPLIED_LIMITS[step - 1], APPLIED_LIMITS[step]];
  if (low === undefined) return `under ${percent(high!)}`;
  return high === undefined ? `over ${percent(low)}` : `${percent(low)} to ${percent(high)}`;
};

/** Three passes as on the plat: wider for farther off the plan, parted where it is more, broken where it is less. */
const Swatch = ({ step }: { readonly step: number }) => {
  const off = Math.abs(step - AS_PLANNED);
  const width = 8 * appliedShare(step);
  const rules = "M5 0v16M13 0v16M21 0v16";
  return (
    <svg class="swatch" viewBox="0 0 26 16" aria-hidden="true">
      <rect width="26" height="16" fill={colours.sheet} />
      {off > 0 && (
        <path
          d={rules}
          stroke={ramps.diff[step]}
          stroke-width={width}
          stroke-dasharray={step < AS_PLANNED ? "4 3" : undefined}
        />
      )}
      {step > AS_PLANNED && <path d={rules} stroke={colours.sheet} stroke-width={0.3 * width} />}
      {off === 0 && <path d={rules} stroke="var(--ink-2)" stroke-width={lineWeights.hairline} />}
      <rect x="0.5" y="0.5" width="25" height="15" fill="none" stroke="var(--ink-2)" />
    </svg>
  );
};

/** Acres of each step of placed less planned, most on top. */
export const AppliedLegend = ({ applied }: { readonly applied: AppliedShown }) => (
  <table>
    <caption class="small second">
      Placed less planned, % of the plan; two rules are more, a broken one is less
    </caption>
    <tbody>
      {applied.acres
        .map((acres, step) => ({ acres, step }))
        .reverse()
        .map(({ acres, step }) => (
          <tr key={step}>
            <td>
              <Swatch step={step} />
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
