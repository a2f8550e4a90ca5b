import { type Signal, signal } from "@preact/signals";
import { type Layer, laidProducts, numberText, UNKNOWN } from "#core";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { AppliedLegend } from "../sheets/applied-legend.tsx";
import { farmChoice, farmList, pickField } from "../state/farm-list.ts";
import { area, farmLines, lbOf, mass, words } from "../state/figures.ts";
import { howFar, howFarWords } from "../state/how-far.ts";
import { wantedLayers } from "../state/look.ts";
import { comparedWith, mapBefore } from "../state/map-before.ts";
import { plan } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { hasFarmPlat, here } from "../state/route.ts";
import { productShown } from "../state/season-state.ts";

import { ClassesOfBoth } from "./before-box.tsx";

/** The table twin stands in place of the map. */
export const twinOpen: Signal<boolean> = signal(false);

/** The plat as a table: the same classes or fields, with the same numbers. */
export function Twin() {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by key
    <section class="twin" aria-label="Table of the plat" tabIndex={0}>
      {hasFarmPlat(here.value) ? (
        <FarmTwin />
      ) : productShown.value ? (
        <AppliedLegend applied={productShown.value} />
      ) : (
        <LayerTwin />
      )}
      <button type="button" onClick={() => (twinOpen.value = false)}>
        Back to the map
      </button>
    </section>
  );
}

function FarmTwin() {
  const of = plan.value!;
  const lines = new Map(farmLines.value.map((line) => [line.id, line]));
  const products = laidProducts(of);
  return (
    <table>
      <caption>Fields</caption>
      <thead>
        <tr>
          <th scope="col">field</th>
          <th scope="col" class="figure">
            {words().area}
          </th>
          <th scope="col">how far</th>
          {products.map((product) => (
            <th key={product} scope="col" class="figure">
              {product}, {words().mass}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {farmList.value.map((one) => {
          const line = lines.get(one.id);
          return (
            <tr key={one.id} class={one.id === farmChoice.value ? "chosen" : ""}>
              <th scope="row">
                <button type="button" class="link" onClick={() => pickField(one.id)}>
                  {one.name}
                </button>
              </th>
              <td class="figure">{line ? area(line.areaAc) : UNKNOWN}</td>
              <td>{howFarWords[howFar(one.id)]}</td>
              {products.map((product) => (
                <td key={product} class="figure">
                  {line ? mass(lbOf([line], product)) : UNKNOWN}
                </td>
              ))}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** The same classes before and now. */
const BothTwin = ({ layer }: { readonly layer: Layer }) => (
  <ClassesOfBoth
    layer={layer}
    was={mapBefore.value?.drawn.layer ?? null}
    caption={`${layer.title}, ${layer.unit}. Before: ${comparedWith.value?.words ?? ""}`}
  />
);

function LayerTwin() {
  const wanted = wantedLayers.value;
  const shown =
    field.value?.layers.filter(({ layer }) => layer.id === wanted.plat || layer.id === wanted.inset) ?? [];
  return (
    <>
      {shown.map(({ layer }) =>
        layer.id === wanted.plat && comparedWith.value !== null ? (
          <BothTwin key={layer.id} layer={layer} />
        ) : (
          <table key={layer.id}>
            <caption>
              {layer.title}, {layer.unit}
            </caption>
            <thead>
              <tr>
                <th scope="col">class, {layer.unit}</th>
                <FigureHeads of={[words().area, "share"]} />
              </tr>
            </thead>
            <tbody>
              {layer.classes.labels
                .map((label, k) => {
                  const all = layer.classAreas.reduce((sum, one) => sum + one, 0);
                  return (
                    <tr key={label}>
                      <th scope="row">
                        {label} {layer.classes.names[k] ?? ""}
                      </th>
                      <td class="figure">{numberText(layer.classAreas[k]!, 1)}</td>
                      <td class="figure">{all > 0 ? Math.round((100 * layer.classAreas[k]!) / all) : 0} %</td>
                    </tr>
                  );
                })
                .toReversed()}
            </tbody>
          </table>
        ),
      )}
    </>
  );
}
