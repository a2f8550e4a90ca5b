import { needPartInWords, oxideText, SPLIT_LAYERS, type SplitLayer } from "#core";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { mass, words } from "../state/figures.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { withSplit } from "../state/split-edits.ts";

const swapped = (layer: SplitLayer): SplitLayer =>
  (layer.endsWith("P2O5") ? layer.replace("P2O5", "K2O") : layer.replace("K2O", "P2O5")) as SplitLayer;

/** What stays in the strip first, and how its parts share the cap. */
export function Priority() {
  const of = plan.value!;
  const isPotash = of.split.order?.[0]?.endsWith("K2O") ?? false;
  return (
    <>
      <ChoiceLine
        label="Within a part"
        about="Which oxide stays first"
        value={isPotash ? "K2O" : "P2O5"}
        options={[
          ["P2O5", `${oxideText("P2O5")} stays first`],
          ["K2O", `${oxideText("K2O")} stays first`],
        ]}
        disabled={readOnly.value}
        onChoose={(oxide) =>
          edit(
            withSplit(
              of,
              { order: oxide === "P2O5" ? null : SPLIT_LAYERS.map(swapped) },
              `${oxideText(oxide)} stays in the strip first`,
            ),
          )
        }
      />
      <ChoiceLine
        label="Parts go in"
        about="How parts share the cap"
        value={of.split.across ?? "field"}
        options={[
          ["field", "over the whole field in turn"],
          ["cell", "under one ceiling"],
        ]}
        disabled={readOnly.value}
        onChoose={(across) =>
          edit(
            withSplit(
              of,
              { across },
              across === "field" ? "parts over the whole field in turn" : "parts under one ceiling",
            ),
          )
        }
      />
    </>
  );
}

/** Parts of the need in the order they stay, with what of each does. */
export function Layers() {
  const layers = field.value?.split?.layers.filter((layer) => layer.needLb > 0.5) ?? [];
  if (layers.length === 0) return null;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">stays in this order</th>
          <FigureHeads of={[`need, ${words().mass}`, `in the strip, ${words().mass}`]} />
        </tr>
      </thead>
      <tbody>
        {layers.map((layer) => (
          <tr key={layer.name}>
            <th scope="row">{needPartInWords(layer.name)}</th>
            <td class="figure">{mass(layer.needLb)}</td>
            <td class="figure">{mass(layer.stripLb)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
