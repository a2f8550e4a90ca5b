import { counted, LEVER_LB_PER_AC, numberText, unitWords } from "#core";
import { Drawing } from "../parts/drawing.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { area, heavy } from "../state/figures.ts";
import { field } from "../state/results.ts";
import { settings } from "../state/settings.ts";

/** Acres a day against the rate, what buys acres, and the figures they come from. */
export function SplitCapacity() {
  const view = field.value?.split?.capacity;
  const shown = field.value;
  if (shown?.split && !view)
    return (
      <p class="small second">Acres a fill and a day: type speed and bin volumes under “Rig and tender”.</p>
    );
  if (!shown || !view) return null;
  const { area: ac } = unitWords(settings.value.system);
  return (
    <>
      <figure>
        <Drawing svg={view.svg} about={view.about} />
        <figcaption class="small second">
          Heavy: from full. Thin: rig line; dotted: tender line, both steady. Broken: one more tender. Steady
          now {area(view.steadyAcPerDay, 0)} {ac} a day.
        </figcaption>
      </figure>
      <p class="small">
        {view.acPerFill === null
          ? "Nothing is laid here."
          : `${area(view.acPerFill)} ${ac} a fill, ${counted(view.fills, "fill")} here; `}
        {view.acPerFill === null
          ? ""
          : view.bound === "tender"
            ? `the tender is the limit, ${numberText(view.waitMinutesPerFill, 0)} min waited a fill.`
            : "the rig is the limit."}
      </p>
      {view.lowerRateAcPerDay !== null && (
        <table>
          <thead>
            <tr>
              <th scope="col">what buys acres</th>
              <FigureHeads of={[`${ac} a day, steady`, "leaves for broadcast"]} />
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">{LEVER_LB_PER_AC} lb/ac off the strip</th>
              <td class="figure">+{area(view.lowerRateAcPerDay)}</td>
              <td class="figure">
                {heavy(LEVER_LB_PER_AC * shown.areaAc)} {unitWords(settings.value.system).heavy}
              </td>
            </tr>
            <tr>
              <th scope="row">one more tender</th>
              <td class="figure">+{area(view.anotherTenderAcPerDay ?? 0)}</td>
              <td class="figure">nothing</td>
            </tr>
          </tbody>
        </table>
      )}
    </>
  );
}
