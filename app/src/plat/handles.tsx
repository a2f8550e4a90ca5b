import { useEffect, useRef } from "preact/hooks";
import type { LonLat } from "../engine/protocol.ts";
import type { PlatMap } from "../map/plat-map.ts";
import { drawing } from "../state/drawing.ts";
import { withPlaces } from "../state/drive-edits.ts";
import { planField } from "../state/look.ts";
import { edit, endDrag, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { here } from "../state/route.ts";
import { redraws } from "./marks.tsx";
import { arrows, moved } from "./on-the-ground.ts";

/** px that a handle keeps from the edge of the view. */
const INSET_PX = 18;
/** Metres that an arrow key moves an end, and with Shift. */
const STEP_M = 1;
const STRIDE_M = 10;

/** The ends of a straight guidance line, to be dragged or moved with the arrow keys. */
export function LineHandles({ map }: { map: PlatMap | null }) {
  const of = plan.value;
  const one = planField.value;
  const ends = lineEnds(one?.driveAlong);
  const shown = field.value?.ground;
  const line = ends ?? shown?.guidance;
  if (!map || !of || !one || here.value.sheet !== "strips" || drawing.value) return null;
  if (line?.length !== 2 || readOnly.value || shown?.id !== one.id) return null;
  const move = (k: 0 | 1, to: LonLat) => {
    const now = plan.peek()!;
    const current = planField.peek()!;
    const places = (lineEnds(current.driveAlong) ?? line).map((end, i) => (i === k ? to : end));
    edit(withPlaces(now, current, places), `line ${one.id} ${k}`);
  };
  return (
    <>
      <Handle map={map} letter="A" at={line[0]!} other={line[1]!} onMove={(to) => move(0, to)} />
      <Handle map={map} letter="B" at={line[1]!} other={line[0]!} onMove={(to) => move(1, to)} />
    </>
  );
}

/** Ends typed or dragged, which are newer than what the map was sent. */
function lineEnds(
  driveAlong: NonNullable<typeof plan.value>["fields"][number]["driveAlong"],
): readonly LonLat[] | null {
  if (!driveAlong || "headingDeg" in driveAlong || driveAlong.places.length !== 2) return null;
  return driveAlong.places.map(({ lonDeg, latDeg }) => [lonDeg, latDeg]);
}

interface HandleProps {
  readonly map: PlatMap;
  readonly letter: "A" | "B";
  readonly at: LonLat;
  readonly other: LonLat;
  readonly onMove: (to: LonLat) => void;
}

function Handle({ map, letter, at, other, onMove }: HandleProps) {
  const button = useRef<HTMLButtonElement>(null);
  void redraws.value;
  useEffect(() => {
    const element = button.current;
    const view = element?.parentElement?.getBoundingClientRect();
    if (!element || !view) return;
    const { x, y } = inView(map.project(at), map.project(other), view);
    // The page's security policy forbids a style attribute, not a style set by script.
    element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
  });
  const drag = (event: PointerEvent) => {
    const element = button.current;
    const view = element?.parentElement?.getBoundingClientRect();
    if (!view || !element?.hasPointerCapture(event.pointerId)) return;
    onMove(map.placeAt(event.clientX - view.left, event.clientY - view.top));
  };
  return (
    <button
      ref={button}
      type="button"
      class="line-end"
      aria-label={`Line end ${letter}: drag it, or move it with the arrow keys, with Shift by ${STRIDE_M} m`}
      onPointerDown={(event) => button.current?.setPointerCapture(event.pointerId)}
      onPointerMove={drag}
      onPointerUp={endDrag}
      onPointerCancel={endDrag}
      onKeyDown={(event) => {
        const way = arrows[event.key];
        if (!way) return;
        event.preventDefault();
        event.stopPropagation();
        const stepM = event.shiftKey ? STRIDE_M : STEP_M;
        onMove(moved(at, way[0] * stepM, way[1] * stepM));
      }}
      onBlur={endDrag}
    >
      {letter}
    </button>
  );
}

interface Px {
  readonly x: number;
  readonly y: number;
}

/** An end where it lies, or where the line towards the other end enters the view. */
function inView(end: Px, other: Px, view: { readonly width: number; readonly height: number }): Px {
  let least = 0;
  const [dx, dy] = [other.x - end.x, other.y - end.y];
  const clip = (from: number, by: number, low: number, high: number) => {
    if (by === 0) return;
    const [a, b] = [(low - from) / by, (high - from) / by];
    least = Math.max(least, Math.min(a, b));
  };
  clip(end.x, dx, INSET_PX, view.width - INSET_PX);
  clip(end.y, dy, INSET_PX, view.height - INSET_PX);
  const share = Math.min(1, least);
  return { x: end.x + share * dx, y: end.y + share * dy };
}
