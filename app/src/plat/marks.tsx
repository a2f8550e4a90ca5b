import { type Signal, signal } from "@preact/signals";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { marker, neatLine, northArrow, scaleBar, scaleLength } from "#core";
import type { PlatMap } from "../map/plat-map.ts";
import { field, pointed } from "../state/results.ts";
import { hasFarmPlat, here } from "../state/route.ts";
import { fillsShown } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";
import { twinOpen } from "./twin.tsx";

/** Rises whenever the map has moved. */
export const redraws: Signal<number> = signal(0);

/** The ground view within the plat, px. */
interface View {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Neat line, north arrow, scale bar, read-out ring and its leader: SVG over the map. */
export function Marks({ map }: { map: PlatMap | null }) {
  const over = useRef<SVGSVGElement>(null);
  const [size, setSize] = useState({ width: 0, height: 0, view: { left: 0, top: 0, width: 0, height: 0 } });
  useLayoutEffect(() => {
    const plat = over.current?.parentElement;
    if (!plat) return;
    const measure = () => {
      const outer = plat.getBoundingClientRect();
      const inner = plat.querySelector(".ground-view")!.getBoundingClientRect();
      setSize({
        width: Math.round(outer.width),
        height: Math.round(outer.height),
        view: {
          left: inner.left - outer.left,
          top: inner.top - outer.top,
          width: inner.width,
          height: inner.height,
        },
      });
    };
    const watcher = new ResizeObserver(measure);
    watcher.observe(plat);
    watcher.observe(plat.querySelector(".ground-view")!);
    return () => watcher.disconnect();
  }, []);
  void redraws.value;
  const { width, height, view } = size;
  const { system } = settings.value;
  const pxPerM = map?.pxPerM() ?? 0;
  // The table of the plat has no ground to mark.
  const isShown = pxPerM > 0 && width > 0 && !twinOpen.value;
  const bar = isShown ? scaleLength(pxPerM, 210, system) : null;
  const low = view.top + view.height;
  const svg =
    width === 0
      ? ""
      : neatLine(width, height, bar ? bar.px / 2 : 100) +
        (isShown
          ? scaleBar(view.left + view.width - (bar?.px ?? 0) - 40, low - 34, pxPerM, 210, system)
          : "") +
        (isShown ? northArrow(view.left + view.width - 20, low - 66) : "");
  return (
    <svg
      class="marks"
      ref={over}
      aria-hidden="true"
      dangerouslySetInnerHTML={{
        __html: svg + (map && isShown ? ringAndLeader(map, size) + stopMarks(map, size.view) : ""),
      }}
    />
  );
}

/** Stops to fill on their sheet: numbered squares, the next one in the signal colour, side by side where they meet. */
function stopMarks(map: PlatMap, view: View): string {
  const shown = fillsShown.value;
  if (here.value.sheet !== "fills" || !shown || shown.field !== field.value?.id) return "";
  const taken: (readonly [number, number])[] = [];
  const marks = shown.stopsAt.map((at, s) => {
    const place = map.project(at);
    const x = view.left + place.x;
    let y = view.top + place.y;
    while (taken.some(([a, b]) => Math.abs(a - x) < 20 && Math.abs(b - y) < 20)) y += 22;
    taken.push([x, y]);
    if (place.x < 0 || place.y < 0 || place.x > view.width || place.y > view.height) return "";
    const fill = s === 0 ? "var(--flag)" : "var(--ink)";
    return `<g data-stop="${s + 1}"><rect x="${(x - 10).toFixed(1)}" y="${(y - 10).toFixed(1)}" width="20" height="20" fill="${fill}" stroke="var(--paper)" stroke-width="2"/><text x="${x.toFixed(1)}" y="${(y + 4.5).toFixed(1)}" text-anchor="middle" font-size="13" font-weight="700" fill="var(--paper)">${s + 1}</text></g>`;
  });
  return marks.reverse().join("");
}

function ringAndLeader(
  map: PlatMap,
  { width, view }: { readonly width: number; readonly view: View },
): string {
  const at = pointed.value;
  if (!at || !field.value || hasFarmPlat(here.value)) return "";
  const place = map.project(at.at);
  if (place.x < 0 || place.y < 0 || place.x > view.width || place.y > view.height) return "";
  const [x, y] = [view.left + place.x, view.top + place.y];
  const box = document.querySelector(".read-out")?.getBoundingClientRect();
  const plat = document.querySelector(".plat")?.getBoundingClientRect();
  let leader = "";
  if (box && plat && at.readOut && width > 700) {
    // A box scrolled out of its column is pointed at where the column ends.
    const boxY = Math.min(Math.max(box.top - plat.top + 12, view.top), view.top + view.height);
    const boxX = box.left - plat.left;
    const path = `M${x.toFixed(1)} ${y.toFixed(1)}L${boxX.toFixed(1)} ${boxY.toFixed(1)}`;
    leader = `<path d="${path}" stroke="var(--paper)" stroke-width="3"/><path d="${path}" stroke="var(--ink)" stroke-width="0.9"/>`;
  }
  return leader + marker(x, y);
}
