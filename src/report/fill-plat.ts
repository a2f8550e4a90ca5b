import type { FieldFills, Plan } from "../plan/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { LayerOptions } from "./layer.ts";
import { layerIds, layerOf } from "./layers.ts";
import { layoutOf, type PlatOptions, plat } from "./plat.ts";
import { element } from "./svg.ts";
import { colours, inkOf, textFaces } from "./tokens.ts";

/** Half the side of a stop's square, px. */
const HALF = 9;

/**
 * The strip plat with the stops on it: a numbered square where the rig stands, `next` in the signal colour (a white square
 * with a double edge in black). Stops that fall together stand side by side. Same input, same text.
 */
export function fillPlat(
  plan: Plan,
  field: DrawnField,
  fills: FieldFills,
  options: PlatOptions & { readonly next?: number; readonly layer?: LayerOptions },
): string {
  const ids = layerIds(plan, field).filter((one) => one.startsWith("strip/"));
  const id = ids.find((one) => one === "strip/all") ?? ids[0]!;
  const keepClear = fills.stops.map(({ place }) => place);
  const drawing = plat(plan, field, layerOf(plan, field, id, options.layer), { ...options, keepClear });
  const { toPx } = layoutOf(field, options);
  const colour = options.inks !== "black";
  const taken: [number, number][] = [];
  const marks = fills.stops.map((stop) => {
    let [x, y] = toPx(stop.place);
    while (taken.some(([a, b]) => Math.abs(a - x) < 2 * HALF && Math.abs(b - y) < 2 * HALF))
      y += 2 * HALF + 2;
    taken.push([x, y]);
    const isNext = stop.number === (options.next ?? 1);
    const fill = isNext ? (colour ? colours.flag : colours.white) : inkOf(options.inks);
    const ink = inkOf(options.inks);
    const square = element("rect", {
      x: x - HALF,
      y: y - HALF,
      width: 2 * HALF,
      height: 2 * HALF,
      fill,
      stroke: isNext && !colour ? ink : colours.white,
      "stroke-width": "1.5",
    });
    const number = element(
      "text",
      {
        x,
        y: y + 4.5,
        "font-family": textFaces,
        "font-size": 13,
        "font-weight": "bold",
        "text-anchor": "middle",
        fill: isNext && !colour ? ink : colours.white,
      },
      String(stop.number),
    );
    return `<g data-stop="${stop.number}">${square}${number}</g>`;
  });
  return drawing.replace(/<\/svg>$/, `${marks.join("")}</svg>`);
}
