import { Drawing } from "../parts/drawing.tsx";
import { productShown } from "../state/season-state.ts";
import { AppliedLegend } from "./applied-legend.tsx";

/** Placed less planned in place of the plat, once the logs are read. */
export function AppliedPlat() {
  const applied = productShown.value;
  if (!applied) return null;
  return (
    <section class="paper-view applied-view" id="plat" aria-label="Placed less planned">
      <Drawing
        svg={applied.drawing}
        about={`${applied.product}, placed less planned: ochre less, blue more`}
      />
      <div class="box">
        <h2>{applied.product}</h2>
        <AppliedLegend applied={applied} />
      </div>
    </section>
  );
}
