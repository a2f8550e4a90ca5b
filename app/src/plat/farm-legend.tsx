import { passShare, ramps, sum } from "#core";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { area, farmLines, words } from "../state/figures.ts";
import { bermGlyphs, howFar, howFarWords } from "../state/how-far.ts";
import { plan } from "../state/opened.ts";
import { orderClasses } from "../state/order-classes.ts";

/** How far the fields are: a berm a step done. */
export function FarmLegend() {
  const of = plan.value!;
  const byStep = ([1, 2, 3, 4, 5] as const).map((step) => {
    const there = new Set(of.fields.flatMap(({ id }) => (howFar(id) === step ? [id] : [])));
    const known = farmLines.value.filter(({ id }) => there.has(id));
    // Of a field that is not worked out nobody knows the acres yet.
    const acres = known.length < there.size ? Number.NaN : sum(known.map(({ areaAc }) => areaAc));
    return { step, count: there.size, acres };
  });
  return (
    <section class="box" aria-label="Legend">
      <h2>How far</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">step</th>
            <FigureHeads of={["fields", words().area]} />
          </tr>
        </thead>
        <tbody>
          {byStep.map(({ step, count, acres }) => (
            <tr key={step}>
              <th scope="row">
                <span aria-hidden="true">{bermGlyphs(step)} </span>
                {howFarWords[step]}
              </th>
              <td class="figure">{count}</td>
              <td class="figure">{area(acres)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Fields by pounds of product an acre. */
export function OrderLegend() {
  const { labels, steps, acres } = orderClasses.value;
  return (
    <section class="box" aria-label="Legend">
      <h2>Strip and broadcast</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">product, {words().rate}</th>
            <th scope="col" class="figure">
              {words().area}
            </th>
          </tr>
        </thead>
        <tbody>
          {labels
            .map((label, k) => (
              <tr key={label}>
                <td class="kept-together">
                  <svg class="swatch" viewBox="0 0 30 16" aria-hidden="true">
                    <path
                      d="M5 0v16M15 0v16M25 0v16"
                      stroke={ramps.rate[steps[k]!]}
                      stroke-width={10 * passShare(steps[k]!)}
                    />
                    <rect x="0.5" y="0.5" width="29" height="15" fill="none" stroke="var(--ink-2)" />
                  </svg>
                  {label}
                </td>
                <td class="figure">{area(acres[k]!)}</td>
              </tr>
            ))
            .toReversed()}
        </tbody>
      </table>
    </section>
  );
}
