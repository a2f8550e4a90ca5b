import { classSwatch, type Layer, numberText, signedText, UNKNOWN } from "#core";
import type { DrawnLayer } from "../engine/protocol.ts";
import { Choices } from "../parts/choices.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { baseline } from "../state/compare.ts";
import { area, words } from "../state/figures.ts";
import {
  acresChanged,
  canCompare,
  comparedWith,
  hasTwoWaysBack,
  howFarBack,
  isComparing,
  isTold,
  lineAt,
  mapBefore,
} from "../state/map-before.ts";
import { isBehind, refusal } from "../state/results.ts";

/** Puts the map before the last edit beside the map now, or takes it away again. */
export function CompareButton() {
  if (!canCompare.value) return null;
  return (
    <button
      type="button"
      class="link small compare"
      aria-pressed={isComparing.value}
      onClick={() => (isComparing.value = !isComparing.value)}
    >
      {isComparing.value ? "Only the map now" : "Before and now"}
    </button>
  );
}

/** The legend of both maps: the same classes, with the acres of each before and now. */
export function BeforeBox({ drawn }: { readonly drawn: DrawnLayer }) {
  const { layer } = drawn;
  const was = mapBefore.value?.drawn.layer;
  return (
    <section class="box before-box" aria-label="Before and now">
      <h2>{layer.title}</h2>
      <p class="second">
        {layer.unit}. Before: {comparedWith.value?.words}.
      </p>
      {hasTwoWaysBack.value && (
        <Choices
          about="What before is"
          value={howFarBack.value}
          options={[
            ["edit", "last edit"],
            ["baseline", baseline.value?.words ?? ""],
          ]}
          onChoose={(back) => {
            howFarBack.value = back;
          }}
        />
      )}
      <Choices
        about="Which map the plat shows"
        value={lineAt.value === 1 ? "before" : lineAt.value === 0 ? "now" : "both"}
        options={[
          ["before", "before"],
          ["both", "both"],
          ["now", "now"],
        ]}
        onChoose={(shown) => {
          lineAt.value = { before: 1, both: 0.5, now: 0 }[shown];
        }}
      />
      <p role="status">
        {isTold.value
          ? was
            ? changeWords(was, layer)
            : "There was no such map before."
          : "The map before is being worked out."}
      </p>
      <ClassesOfBoth layer={layer} was={was ?? null} />
    </section>
  );
}

function changeWords(was: Layer, now: Layer): string {
  const mean =
    was.mean === now.mean
      ? "Mean as before."
      : `Mean ${numberText(was.mean, 1)}, now ${numberText(now.mean, 1)}.`;
  const acres = acresChanged.value;
  if (!acres) return `${mean} The passes lie elsewhere now.`;
  const unit = words().area;
  if (acres.moreAc === 0 && acres.lessAc === 0) {
    if (refusal.value) return "The map now is of the plan before one that cannot be worked out.";
    return isBehind.value ? "The map now is being worked out." : "The same everywhere on this map.";
  }
  return `${mean} More on ${area(acres.moreAc)} ${unit}, less on ${area(acres.lessAc)}, about the same on ${area(acres.sameAc)}.`;
}

interface ClassesProps {
  readonly layer: Layer;
  /** Null while the map before is not told. */
  readonly was: Layer | null;
  /** Over the table, in place of the swatches of the map. */
  readonly caption?: string;
}

/** A row a class, most on top: acres before, acres now. */
export const ClassesOfBoth = ({ layer, was, caption }: ClassesProps) => (
  <table>
    {caption && <caption>{caption}</caption>}
    <thead>
      <tr>
        <th scope="col">{!caption ? words().area : `class, ${layer.unit}`}</th>
        <FigureHeads
          of={
            !caption ? ["before", "now"] : [`before, ${words().area}`, `now, ${words().area}`, "difference"]
          }
        />
      </tr>
    </thead>
    <tbody>
      {layer.classes.labels
        .map((label, k) => {
          const now = layer.classAreas[k]!;
          const before = was?.classAreas[k];
          return (
            <tr key={label}>
              <th scope="row">
                {!caption && <Swatch layer={layer} k={k} />}
                {label} {layer.classes.names[k] ?? ""}
              </th>
              <td class="figure">{before === undefined ? UNKNOWN : numberText(before, 1)}</td>
              <td class="figure">{numberText(now, 1)}</td>
              {caption && <td class="figure">{before === undefined ? UNKNOWN : gapText(now - before)}</td>}
            </tr>
          );
        })
        .toReversed()}
    </tbody>
  </table>
);

/** A class as it looks on the plat; its words stand beside it. */
const Swatch = ({ layer, k }: { readonly layer: Layer; readonly k: number }) => (
  <span
    class="class-swatch"
    aria-hidden="true"
    dangerouslySetInnerHTML={{ __html: classSwatch(layer, k, `both-${layer.id.replaceAll("/", "-")}`) }}
  />
);

const gapText = (gap: number): string => (Math.abs(gap) < 0.05 ? "same" : signedText(gap, 1));
