import { effect } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { PlatMap } from "../map/plat-map.ts";
import { comparedWith, lineAt, mapBefore, moveLine } from "../state/map-before.ts";
import { plan } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { here } from "../state/route.ts";
import { settings } from "../state/settings.ts";
import { stepsOf } from "./keep-map-in-step.ts";
import { twinOpen } from "./twin.tsx";

/** Share of the plat's width that an arrow key moves the line, and with Shift. */
const STEP = 0.02;
const STRIDE = 0.1;

/** The map as it was, left of a line that can be moved, over the map now. */
export function BeforeMap({ map }: { readonly map: PlatMap | null }) {
  if (!map || comparedWith.value === null || twinOpen.value) return null;
  return <Halves map={map} />;
}

function Halves({ map }: { readonly map: PlatMap }) {
  const half = useRef<HTMLDivElement>(null);
  const line = useRef<HTMLDivElement>(null);
  const grip = useRef<HTMLButtonElement>(null);
  const [still, setStill] = useState<PlatMap | null>(null);

  useEffect(() => {
    let isGone = false;
    let made: PlatMap | null = null;
    let ends: readonly (() => void)[] = [];
    void import("../map/plat-map.ts").then(({ PlatMap }) => {
      if (isGone || !half.current) return;
      made = new PlatMap(half.current, silent, true);
      ends = [made.follow(map), ...keepInStep(made)];
      setStill(made);
    });
    return () => {
      isGone = true;
      for (const end of ends) end();
      made?.destroy();
    };
  }, [map]);

  // The page's security policy forbids a style attribute, not a style set by script.
  useEffect(
    () =>
      effect(() => {
        const share = lineAt.value;
        const percent = Math.round(100 * share);
        if (half.current) half.current.style.clipPath = `inset(0 ${100 - percent}% 0 0)`;
        if (line.current) line.current.style.left = `${percent}%`;
        grip.current?.setAttribute("aria-valuenow", String(percent));
        grip.current?.setAttribute("aria-valuetext", `${percent} % of the plat shows before`);
      }),
    [],
  );

  const drag = (event: PointerEvent) => {
    const view = line.current?.parentElement?.getBoundingClientRect();
    if (!view || !grip.current?.hasPointerCapture(event.pointerId)) return;
    moveLine((event.clientX - view.left) / view.width - lineAt.peek());
  };
  return (
    <>
      <div
        class="before-half"
        ref={half}
        aria-hidden="true"
        data-told={mapBefore.value !== null && still !== null}
      />
      <div class="before-line" ref={line}>
        <span class="before-word" aria-hidden="true">
          before
        </span>
        <span class="now-word" aria-hidden="true">
          now
        </span>
        <button
          ref={grip}
          type="button"
          class="before-grip"
          role="slider"
          aria-orientation="horizontal"
          aria-valuemin={0}
          aria-valuemax={100}
          aria-valuenow={50}
          aria-label={`Line between before and now: drag it, or move it with the arrow keys, with Shift by ${100 * STRIDE} %`}
          onPointerDown={(event) => grip.current?.setPointerCapture(event.pointerId)}
          onPointerMove={drag}
          onKeyDown={(event) => {
            const by = moves[event.key];
            if (by === undefined) return;
            event.preventDefault();
            event.stopPropagation();
            moveLine(event.shiftKey && Math.abs(by) === STEP ? Math.sign(by) * STRIDE : by);
          }}
        >
          <svg viewBox="0 0 40 24" aria-hidden="true">
            <path d="M2 19h8l6-13h8l6 13h8" />
          </svg>
        </button>
      </div>
    </>
  );
}

const moves: Readonly<Record<string, number>> = {
  ArrowLeft: -STEP,
  ArrowDown: -STEP,
  ArrowRight: STEP,
  ArrowUp: STEP,
  Home: -1,
  End: 1,
};

/** Nobody points at a still map. */
const silent = { hovered() {}, tapped() {}, picked() {}, moved() {}, idle() {} };

/** Tell the still map what stood before, whenever that changes. */
function keepInStep(still: PlatMap): (() => void)[] {
  let edge: unknown = null;
  let passes: unknown = null;
  return [
    effect(() => still.wear(settings.value.theme)),
    effect(() => {
      const now = field.value;
      const was = mapBefore.value;
      if (!now || !was) return;
      const { drawn } = was;
      const { ground } = now;
      if (ground !== edge) {
        edge = ground;
        still.showGround(ground);
      }
      const isRuled = drawn.layer.draws === "passes";
      still.showSteps(isRuled ? null : drawn, ground);
      const lines = isRuled ? (was.passes ?? now.passes) : null;
      if (lines !== passes) {
        passes = lines;
        still.showPasses(lines, plan.peek()?.rig.segmentM ?? 30, here.peek().sheet === "strips");
      }
      if (isRuled) still.showRates(stepsOf(drawn.layer));
    }),
  ];
}
