import { AppliedLegend } from "../sheets/applied-legend.tsx";
import { productShown } from "../state/season-state.ts";
import { ReadOutBox } from "./read-out-box.tsx";
import { TwinButton } from "./twin-button.tsx";

/** Beside the plat of a log: acres by placed less planned, and the read-out. */
export function AppliedColumn() {
  const applied = productShown.value;
  if (!applied) return null;
  return (
    <div class="column applied-column">
      <section class="box" aria-label="Legend">
        <h2>Placed, {applied.product}</h2>
        <AppliedLegend applied={applied} />
      </section>
      <TwinButton />
      <ReadOutBox />
    </div>
  );
}
