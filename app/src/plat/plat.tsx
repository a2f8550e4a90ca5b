import { effect, signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { PlatMap } from "../map/plat-map.ts";
import { addCorner, drawing } from "../state/drawing.ts";
import { pickField } from "../state/farm-list.ts";
import { isOfBefore } from "../state/figures.ts";
import { chosenField, planField, wantedLayers } from "../state/look.ts";
import { canDraw, isMapless } from "../state/mapless.ts";
import { plan } from "../state/opened.ts";
import { field, pointed } from "../state/results.ts";
import { hasFarmPlat, here } from "../state/route.ts";
import { askReadOut, tellDrawn } from "../state/work.ts";
import { BeforeMap } from "./before-map.tsx";
import { Column } from "./column.tsx";
import { LineHandles } from "./handles.tsx";
import { keepMapInStep } from "./keep-map-in-step.ts";
import { Marks, redraws } from "./marks.tsx";
import { moveReadOut } from "./move-read-out.ts";
import { Twin, twinOpen } from "./twin.tsx";

/** Sheet and moment when the map last had everything drawn; tests wait for it. */
const idles = signal("");

/** The open sheet's map: ground view, neat line, legend and read-out. */
export function Plat() {
  const view = useRef<HTMLDivElement>(null);
  const [map, setMap] = useState<PlatMap | null>(null);

  useEffect(() => {
    let isGone = false;
    let made: PlatMap | null = null;
    let endSteps = () => {};
    void import("../map/plat-map.ts").then(({ PlatMap }) => {
      if (isGone || !view.current) return;
      if (!canDraw()) {
        isMapless.value = true;
        tellDrawn();
        return;
      }
      made = new PlatMap(view.current, {
        hovered: (at) => {
          if (pointed.peek()?.pinned || hasFarmPlat(here.peek())) return;
          if (at) askReadOut(at, false);
        },
        tapped: (at) => tapped(made!, at),
        picked: pickField,
        idle: (isAll) => {
          const isDrawn = isAll && isShown();
          if (isDrawn) tellDrawn();
          idles.value = isDrawn ? `${location.hash} ${performance.now().toFixed(0)}` : "";
        },
        moved: () => {
          redraws.value++;
        },
      });
      const shown = made;
      shown.canvas().addEventListener("keydown", (event) => {
        if (moveReadOut(shown, event)) event.preventDefault();
      });
      setMap(made);
      endSteps = keepMapInStep(made);
    });
    return () => {
      isGone = true;
      endSteps();
      made?.destroy();
    };
  }, []);

  useEffect(() => {
    if (!map) return;
    return effect(() => {
      map
        .canvas()
        .setAttribute(
          "aria-label",
          `Plat of ${planField.value?.name ?? "the farm"}. Arrow keys move the read-out, Enter pins it, T shows the table of classes.`,
        );
    });
  }, [map]);

  return (
    <section class="plat" id="plat" aria-label="Plat" data-idle={idles.value}>
      <div class="ground-view">
        <div class="canvas" ref={view} />
        <div class="zoom" hidden={isMapless.value}>
          <button type="button" aria-label="Closer" onClick={() => map?.zoomBy(1)}>
            +
          </button>
          <button type="button" aria-label="Farther" onClick={() => map?.zoomBy(-1)}>
            −
          </button>
          <button type="button" aria-label="Whole field" onClick={() => map?.fit()}>
            ▢
          </button>
        </div>
        {isMapless.value && (
          <p class="mapless" role="status">
            This browser draws no map here (WebGL is off). Figures, files and sheets work.
          </p>
        )}
        {!isMapless.value && isOfBefore.value && <p class="of-before">Map of the plan before</p>}
        <BeforeMap map={map} />
        <LineHandles map={map} />
        {twinOpen.value && <Twin />}
      </div>
      <Column />
      <Marks map={map} />
    </section>
  );
}

/** What the open sheet wants on the map has been worked out. */
function isShown(): boolean {
  const shown = field.peek();
  if (!plan.peek() || !shown) return false;
  const { plat } = wantedLayers.peek();
  return (
    plat === null || (shown.id === chosenField.peek() && shown.layers.some(({ layer }) => layer.id === plat))
  );
}

function tapped(map: PlatMap, at: readonly [number, number]): void {
  if (hasFarmPlat(here.peek())) {
    map.pickField(at);
    return;
  }
  if (drawing.peek() && here.peek().sheet === "strips") addCorner([at[0], at[1]]);
  askReadOut([at[0], at[1]], true);
}
