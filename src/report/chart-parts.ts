import { element, escapeText } from "./svg.ts";
import { type Inks, textFaces } from "./tokens.ts";

/** Size and inks of a chart. */
export interface ChartOptions {
  /** px. */
  readonly width: number;
  readonly height: number;
  readonly inks?: Inks;
}

/** A whole drawing, in px, with its title for whoever cannot see it. */
export const drawing = (
  { width, height }: { readonly width: number; readonly height: number },
  title: string,
  inside: string,
): string =>
  element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: "img",
      "aria-label": title,
    },
    `<title>${escapeText(title)}</title>${inside}`,
  );

/** Writes words of a chart in an ink, or in another `fill`: their foot at `y`, the end called `anchor` at `x`. */
export const textIn =
  (ink: string): ((x: number, y: number, words: string, anchor?: string, fill?: string) => string) =>
  (x, y, words, anchor = "middle", fill = ink) =>
    element(
      "text",
      { x, y, "font-family": textFaces, "font-size": 12, "text-anchor": anchor, fill },
      escapeText(words),
    );

/** A line of a chart; nothing for an empty path. */
export const chartLine = (d: string, stroke: string, weight: number, dashes?: string): string =>
  d === ""
    ? ""
    : element("path", {
        d,
        fill: "none",
        stroke,
        "stroke-width": String(weight),
        "stroke-dasharray": dashes,
      });
