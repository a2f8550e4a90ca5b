import { computed } from "@preact/signals";
import { legend, numberText } from "#core";
import type { DrawnLayer } from "../engine/protocol.ts";
import { Drawing } from "../parts/drawing.tsx";
import { words } from "../state/figures.ts";
import { settings } from "../state/settings.ts";
import { LeftOutLine } from "./left-out-line.tsx";

/** The legend as a histogram, with the table of the same classes one press away. */
export function LegendBox({ drawn }: { drawn: DrawnLayer }) {
  const { layer } = drawn;
  const classes = layer.classes.labels.map(
    (label, k) => `${label}: ${numberText(layer.classAreas[k]!, 1)} ${words().area}`,
  );
  const width = isWide.value ? 232 : 196;
  const [kind, test] = layer.id.split("/");
  return (
    <section aria-label="Legend">
      <Drawing
        svg={legend(layer, { id: `legend-${layer.id.replaceAll("/", "-")}`, width })}
        about={`${layer.title}, ${layer.unit}. ${classes.toReversed().join("; ")}`}
      />
      {kind === "soil" && <LeftOutLine test={test!} />}
    </section>
  );
}

/** The column is wide on a wide screen and in the sun. */
const isWide = computed(
  () => settings.value.theme === "sun" || (globalThis.matchMedia?.("(min-width: 1600px)").matches ?? false),
);
