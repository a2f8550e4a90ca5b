import type {
  ExpressionFilterSpecification,
  GeoJSONSourceSpecification,
  StyleSpecification,
} from "maplibre-gl";
import { colours, lineWeights } from "#core";

/** Faces for text on the map; drawn from the computer's own fonts, nothing is fetched. */
const MAP_FACES: string[] = ["Liberation Sans", "Arial", "sans-serif"];

/** Nothing is laid on the page's paper yet. No tiles, no glyphs, no sprite. */
export const bareStyle = (): StyleSpecification => ({ version: 8, sources: {}, layers: [] });

/**
 * Cut for the map at this zoom at most: a field lies in one or two cuts then, 0.2 m fine, whatever it is seen from.
 */
const CUT_ZOOM = 14;

/** How a source's shapes are cut up. */
export const emptySource = (): GeoJSONSourceSpecification => ({
  type: "geojson",
  data: { type: "FeatureCollection", features: [] },
  maxzoom: CUT_ZOOM,
});

/** Layers that draw themselves lie under this one: the paper around the field covers what of them lies there. */
export const OVER_OWN_LAYERS = "around";

/** The field's own shape beside the paper around it. */
const IS_FIELD: ExpressionFilterSpecification = ["==", ["get", "is"], "field"];

/** A fill whose edge lies under a line needs no smooth edge of its own. */
const UNDER_A_LINE = { "fill-antialias": false } as const;

/** Layers from the ground up; each comes onto the map with the first shapes of its source. */
export const platLayers = (): PlatLayer[] => [
  {
    id: "farm-fill",
    type: "fill",
    source: "farm",
    paint: { "fill-color": ["get", "colour"], ...UNDER_A_LINE },
  },
  {
    id: "farm-rules",
    type: "line",
    source: "farm-rules",
    paint: { "line-color": ["get", "colour"], "line-width": 1 },
  },
  {
    id: "ground-fill",
    type: "fill",
    source: "ground",
    filter: IS_FIELD,
    paint: { "fill-color": colours.sheet, ...UNDER_A_LINE },
  },
  {
    id: "around",
    type: "fill",
    source: "ground",
    filter: ["==", ["get", "is"], "around"],
    paint: { "fill-color": colours.paper, ...UNDER_A_LINE },
  },
  { ...line("boundary", "ground", colours.ink, lineWeights.boundary), filter: IS_FIELD },
  line("farm-edges", "farm", colours.ink, lineWeights.medium),
  chosen("chosen-casing", colours.paper, 8),
  chosen("chosen", colours.flag, 3.4),
  line("kept-off-casing", "kept-off", colours.paper, 3.4),
  {
    ...line("kept-off", "kept-off", colours.ink, lineWeights.boundary),
    paint: { "line-color": colours.ink, "line-width": lineWeights.boundary, "line-dasharray": [2, 1.6] },
  },
  line("line-ab-casing", "line-ab", colours.paper, 4),
  {
    id: "line-ab",
    type: "line",
    source: "line-ab",
    paint: {
      "line-color": colours.ink,
      "line-width": lineWeights.critical,
      "line-dasharray": [6, 1.5, 1, 1.5],
    },
  },
  {
    id: "sample-dots",
    type: "circle",
    source: "samples",
    filter: ["!=", ["get", "off"], true],
    paint: {
      "circle-radius": 2.2,
      "circle-color": colours.ink,
      "circle-stroke-color": colours.paper,
      "circle-stroke-width": 1.2,
    },
  },
  {
    id: "samples-left-out",
    type: "circle",
    source: "samples",
    filter: ["==", ["get", "off"], true],
    paint: {
      "circle-radius": 3,
      "circle-color": colours.paper,
      "circle-stroke-color": colours.ink,
      "circle-stroke-width": 1.6,
    },
  },
  line("draft-casing", "draft", colours.paper, 5),
  line("draft", "draft", colours.flag, lineWeights.boundary),
  {
    id: "draft-corners",
    type: "circle",
    source: "draft",
    filter: ["==", ["geometry-type"], "Point"],
    paint: {
      "circle-radius": 4,
      "circle-color": colours.flag,
      "circle-stroke-color": colours.paper,
      "circle-stroke-width": 1.6,
    },
  },
  text("sample-values", "samples", 13, { "text-offset": [0, -0.9], "text-allow-overlap": false }),
  text("pass-names", "names", 12, { "text-allow-overlap": false, "symbol-sort-key": ["get", "order"] }),
  text("farm-names", "farm-names", 12, {
    "symbol-sort-key": ["get", "order"],
    "text-line-height": 1.1,
    "text-max-width": 20,
  }),
];

export type PlatLayer =
  | LineLayer
  | SymbolLayer
  | Extract<StyleSpecification["layers"][number], { type: "fill" | "circle" }>;
type LineLayer = Extract<StyleSpecification["layers"][number], { type: "line" }>;
type SymbolLayer = Extract<StyleSpecification["layers"][number], { type: "symbol" }>;

function line(id: string, source: string, colour: string, width: number): LineLayer {
  return {
    id,
    type: "line",
    source,
    layout: { "line-join": "round" },
    paint: { "line-color": colour, "line-width": width },
  };
}

/** The chosen field on the farm's plat. */
function chosen(id: string, colour: string, width: number): LineLayer {
  return { ...line(id, "farm", colour, width), filter: ["==", ["get", "chosen"], true] };
}

function text(
  id: string,
  source: string,
  size: number,
  layout: NonNullable<SymbolLayer["layout"]>,
): SymbolLayer {
  return {
    id,
    type: "symbol",
    source,
    layout: {
      "text-field": ["get", "text"],
      "text-font": MAP_FACES,
      "text-size": size,
      "text-padding": 1,
      ...layout,
    },
    paint: { "text-color": colours.ink, "text-halo-color": colours.paper, "text-halo-width": 2.2 },
  };
}
