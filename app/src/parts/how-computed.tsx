import { numberText, oxideText } from "#core";
import { farmLines, figures, heavy, lbOf, mass, rate, scope, shownFigures, words } from "../state/figures.ts";
import { field } from "../state/results.ts";
import { FigureHeads } from "./figure-heads.tsx";
import { Panel } from "./panel.tsx";

/** The balance in full: product by pass, and each oxide's line with what its parts mean. */
export function HowComputed({ close }: { close: () => void }) {
  const now = figures.value;
  if (!now) return null;
  const lines = scope.value === "field" ? (field.value ? [field.value] : []) : farmLines.value;
  const maps = lines.flatMap((line) => line.maps);
  const nitrogen = maps.reduce((lb, map) => lb + (map.totalLb * map.analysis.n) / 100, 0);
  return (
    <Panel class="how-computed" about="How the balance is computed" close={close}>
      <h2>How computed</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">product</th>
            <FigureHeads
              of={[`strip, ${words().mass}`, `broadcast, ${words().mass}`, `both, ${words().heavy}`]}
            />
          </tr>
        </thead>
        <tbody>
          {now.products.map(({ product, lb }) => (
            <tr key={product}>
              <th scope="row">{product}</th>
              <td class="figure">{mass(lbOf(lines, product, "strip"))}</td>
              <td class="figure">{mass(lbOf(lines, product, "broadcast"))}</td>
              <td class="figure">{heavy(lb)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {now.balances.map((balance) => {
        const { need, strip, broadcast, credits, shortage, excess, rounding } = shownFigures(balance);
        const text = (value: number) => numberText(value, 0);
        return (
          <p key={balance.nutrient} class="small">
            <b>{oxideText(balance.nutrient)}</b>: {text(need)} {words().mass} by the guide = {text(strip)} by
            the strip files + {text(broadcast)} by the broadcast files + {text(credits)} credited +{" "}
            {text(shortage)} that nothing brings − {text(excess)} over the need − {text(rounding)} rounding
            (files less need).
          </p>
        );
      })}
      {nitrogen > 0 && (
        <p class="small">
          The products bring {rate(nitrogen / now.acres)} {words().mass} N/{words().area}: take it off your
          nitrogen plan.
        </p>
      )}
    </Panel>
  );
}
