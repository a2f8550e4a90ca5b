import { useEffect, useRef, useState } from "preact/hooks";
import { colours, numberText, ramps } from "#core";
import type { DrawnLayer, Ground } from "../engine/protocol.ts";
import { Fold } from "../parts/fold.tsx";
import { words } from "../state/figures.ts";
import { settings } from "../state/settings.ts";
import { fitted } from "./on-the-ground.ts";

const HIGH = 132;

/** Broadcast later as dots, larger for more, on the field's outline. */
export function Inset({ drawn, ground }: { drawn: DrawnLayer; ground: Ground }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { theme } = settings.value;
  const [wide, setWide] = useState(0);
  useEffect(() => {
    // A width or a style asked for while a move is shown would have the whole page laid out on its time.
    const watcher = new ResizeObserver(([seen]) => setWide(Math.round(seen!.contentRect.width)));
    if (canvas.current) watcher.observe(canvas.current);
    return () => watcher.disconnect();
  }, []);
  useEffect(() => {
    if (canvas.current && wide > 0) draw(canvas.current, wide, drawn, ground, theme === "sun");
  }, [drawn, ground, theme, wide]);
  const { layer } = drawn;
  return (
    <section class="box" aria-label={layer.title}>
      <h2>{layer.title}</h2>
      <canvas class="inset" ref={canvas} role="img" aria-label={about(layer)} />
      <Fold class="small" title={<>{layer.unit} by dot size</>}>
        {() => (
          <table>
            <tbody>
              {layer.classes.labels
                .map((label, k) => (
                  <tr key={label}>
                    <th scope="row">{label}</th>
                    <td class="figure">
                      {numberText(layer.classAreas[k]!, 1)} {words().area}
                    </td>
                  </tr>
                ))
                .toReversed()}
            </tbody>
          </table>
        )}
      </Fold>
    </section>
  );
}

const about = (layer: DrawnLayer["layer"]): string =>
  `${layer.title}: ${numberText(layer.least, 0)} to ${numberText(layer.most, 0)} ${layer.unit}, mean ${numberText(layer.mean, 0)}`;

function draw(
  canvas: HTMLCanvasElement,
  wide: number,
  drawn: DrawnLayer,
  ground: Ground,
  isSun: boolean,
): void {
  const fine = globalThis.devicePixelRatio || 1;
  canvas.width = wide * fine;
  canvas.height = HIGH * fine;
  const ink = canvas.getContext("2d");
  if (!ink) return;
  ink.scale(fine, fine);
  const { toPx, pxPerM } = fitted(ground.box, wide, HIGH, 4);
  const edge = new Path2D();
  for (const ring of ground.boundary.flat()) {
    ring.forEach((place, k) => {
      if (k === 0) edge.moveTo(...toPx(place));
      else edge.lineTo(...toPx(place));
    });
  }
  const dots = drawn.dots ?? new Float64Array(0);
  const byStep = new Map<number, Path2D>();
  for (let k = 0; k < dots.length; k += 4) {
    const [x, y] = toPx([dots[k]!, dots[k + 1]!]);
    const radius = Math.max(0.5, dots[k + 2]! * pxPerM);
    const step = dots[k + 3]!;
    const path = byStep.get(step) ?? new Path2D();
    path.moveTo(x + radius, y);
    path.arc(x, y, radius, 0, 2 * Math.PI);
    byStep.set(step, path);
  }
  for (const [step, path] of byStep) {
    ink.fillStyle = ramps.rate[step]!;
    ink.fill(path);
    if (step > 1) continue;
    ink.lineWidth = 0.4;
    ink.strokeStyle = isSun ? colours.black : colours.ink2;
    ink.stroke(path);
  }
  ink.lineWidth = 1.4;
  ink.strokeStyle = isSun ? colours.black : colours.ink;
  ink.stroke(edge);
}
