import { counted, LEVER_LB_PER_AC, loadWord, numberText } from "#core";
import type { MoreAcres } from "../engine/split-summary.ts";
import { Drawing } from "../parts/drawing.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { area, heavy, rate, words } from "../state/figures.ts";
import { plan } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { rigWanted } from "./rig-lines.tsx";

/** Acres a day against the rate, what buys acres, and the figures they come from. */
export function SplitCapacity() {
  const view = field.value?.split?.capacity;
  const shown = field.value;
  if (shown?.split && !view)
    return (
      <p class="small second">
        Acres a fill and a day: type {rigWanted(plan.value!)} under “Rig and tender”.
      </p>
    );
  if (!shown || !view) return null;
  const { area: ac } = words();
  return (
    <>
      <figure>
        <Drawing svg={view.svg} about={view.about} />
        <figcaption class="small second">
          Heavy: from full. Thin: rig line; dotted: tender line, both steady. Broken: one more tender, from
          full. Steady now {area(view.steadyAcPerDay, 0)} {ac} a day.
        </figcaption>
      </figure>
      <p class="small">
        {view.acPerFill === null
          ? "Nothing is laid here."
          : `${area(view.acPerFill)} ${ac} a fill, ${counted(view.fills, loadWord(view))} here; `}
        {view.acPerFill === null
          ? ""
          : view.bound === "tender"
            ? `the tender is the limit, ${numberText(view.waitMinutesPerFill, 0)} min waited a ${loadWord(view)}.`
            : "the rig is the limit."}
      </p>
      {view.levers && (
        <>
          <table>
            <thead>
              <tr>
                <th scope="col">what buys {ac} a day</th>
                <FigureHeads of={["steady", "from full", "leaves for broadcast"]} />
              </tr>
            </thead>
            <tbody>
              <tr>
                <th scope="row">
                  {rate(LEVER_LB_PER_AC)} {words().rate} off the strip, every product alike
                </th>
                <More of={view.levers.lowerRate} />
                <td class="figure">
                  {heavy(LEVER_LB_PER_AC * shown.areaAc)} {words().heavy}
                </td>
              </tr>
              <tr>
                <th scope="row">one more tender</th>
                <More of={view.levers.anotherTender} />
                <td class="figure">nothing</td>
              </tr>
            </tbody>
          </table>
          <p class="small second">
            Steady is what a long day comes to. A day from full is made of whole loads, its figure goes in
            jumps: where a tender is on its way as the bins run empty it can lie below steady.
          </p>
        </>
      )}
    </>
  );
}

const More = ({ of }: { readonly of: MoreAcres }) => (
  <>
    <td class="figure">{signed(of.steady)}</td>
    <td class="figure">{signed(of.fromFull)}</td>
  </>
);

/** Acres a day more or less. */
const signed = (acPerDay: number): string => `${acPerDay < -0.05 ? "−" : "+"}${area(Math.abs(acPerDay))}`;
