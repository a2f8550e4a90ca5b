import { assumedInWords } from "#core";
import { Fold } from "../parts/fold.tsx";
import { plan } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { RigLines, rigWanted } from "./rig-lines.tsx";

/** The rig, and what its figures make of this field. */
export function SplitRig() {
  const view = field.value?.split;
  return (
    <Fold title="Rig and tender">
      {view && view.missing.length > 0 && (
        <p class="small second">
          Type {rigWanted(plan.value!)}, and the sheet tells acres a fill and acres a day.
        </p>
      )}
      <RigLines />
      {view?.capacity && (
        <ul class="small">
          {view.capacity.lines.map((line) => (
            <li key={line}>{line.trim()}</li>
          ))}
          {view.capacity.assumed
            .filter((one) => one.status === "unconfirmed")
            .map((one) => (
              <li key={one.key}>
                Unconfirmed: {assumedInWords(one, plan.value!.rig.bins)} ({one.source})
              </li>
            ))}
        </ul>
      )}
    </Fold>
  );
}
