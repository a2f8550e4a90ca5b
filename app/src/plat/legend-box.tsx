import { legend, numberText } from "#core";
import type { DrawnLayer } from "../engine/protocol.ts";
import { Drawing } from "../parts/drawing.tsx";
import { words } from "../state/figures.ts";
import { TwinButton } from "./twin-button.tsx";

/** The legend as a histogram, with the table of the same classes one press away. */
export function LegendBox({ drawn }: { drawn: DrawnLayer }) {
  const { layer } = drawn;
  const classes = layer.classes.labels.map(
    (label, k) => `${label}: ${numberText(layer.classAreas[k]!, 1)} ${words().area}`,
  );
  const width = columnWidth();
  return (
    <section aria-label="Legend">
      <Drawing
        svg={legend(layer, { id: `legend-${layer.id.replaceAll("/", "-")}`, width })}
        about={`${layer.title}, ${layer.unit}. ${classes.toReversed().join("; ")}`}
      />
      <TwinButton />
    </section>
  );
}

const columnWidth = (): number => (globalThis.matchMedia?.("(min-width: 1600px)").matches ? 232 : 196);
