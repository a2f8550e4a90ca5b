import type { FeatureCollection } from "geojson";
import type { CustomLayerInterface, GeoJSONSource, Map as MapLibre } from "maplibre-gl";
import { colours } from "#core";
import { emptySource, OVER_OWN_LAYERS, type PlatLayer, platLayers } from "./style.ts";

type Kind = "paint" | "layout" | "filter";

/**
 * The plat's layers, each put on the map when its source first has shapes: an empty source costs the map as much work
 * at every zoom as a full one. What is set on a layer before then holds when it comes.
 */
export class LayerStack {
  private readonly map: MapLibre;
  private readonly layers: Map<string, PlatLayer>;
  private readonly drawn = new Map<string, FeatureCollection>();
  /** From the ground up. */
  private readonly order: readonly string[];

  /** `own`: ids of the layers that draw themselves, from the ground up. */
  constructor(map: MapLibre, own: readonly string[]) {
    this.map = map;
    this.layers = new Map(platLayers().map((layer) => [layer.id, layer]));
    this.order = [...this.layers.keys()].flatMap((id) => (id === OVER_OWN_LAYERS ? [...own, id] : [id]));
  }

  /** Put a layer that draws itself at its place. */
  lay(layer: CustomLayerInterface): void {
    if (!this.isOn(layer.id)) this.map.addLayer(layer, this.nextOver(layer.id));
  }

  /** Give a source its shapes; null empties it. */
  put(source: string, shapes: FeatureCollection | null): void {
    const before = this.drawn.get(source);
    if (shapes === null && (before === undefined || before === nothing)) return;
    const data = shapes ?? nothing;
    this.drawn.set(source, data);
    if (before !== undefined) {
      this.map.getSource<GeoJSONSource>(source)?.setData(data);
      return;
    }
    this.map.addSource(source, { ...emptySource(), data });
    for (const layer of this.layers.values()) {
      if (layer.source === source) this.map.addLayer(layer, this.nextOver(layer.id));
    }
  }

  /** The lowest layer on the map that lies over one. */
  private nextOver(layer: string): string | undefined {
    return this.order.slice(this.order.indexOf(layer) + 1).find((id) => this.isOn(id));
  }

  /** The paper's and the lines' colours of a theme; what is set by the data stays. */
  wear(theme: "light" | "sun"): void {
    const isSun = theme === "sun";
    // Ground of the lowest class is paper too, whatever its data say.
    const ground = ["literal", [colours.paper, colours.sheet]];
    const fill = ["case", ["in", ["get", "colour"], ground], colours.white, ["get", "colour"]];
    this.set("farm-fill", "paint", "fill-color", isSun ? fill : ["get", "colour"]);
    for (const { id, paint } of platLayers()) {
      const given = paint as Readonly<Record<string, unknown>>;
      const worn = isSun ? sunPaint(given) : given;
      // The widths of rules come from the rates.
      if (id === "farm-rules") continue;
      for (const [name, light] of Object.entries(given)) {
        if (typeof light === "string" || typeof light === "number") this.set(id, "paint", name, worn[name]);
      }
    }
  }

  isOn(layer: string): boolean {
    return this.map.getLayer(layer) !== undefined;
  }

  set(layer: string, kind: "paint" | "layout", name: string, value: unknown): void;
  set(layer: string, kind: "filter", name: null, value: unknown): void;
  set(layer: string, kind: Kind, name: string | null, value: unknown): void {
    if (this.isOn(layer)) {
      if (kind === "paint") this.map.setPaintProperty(layer, name as never, value as never);
      else if (kind === "layout") this.map.setLayoutProperty(layer, name as never, value as never);
      else this.map.setFilter(layer, value as never);
      return;
    }
    const { [kind]: had, ...rest } = this.layers.get(layer)! as PlatLayer & Partial<Record<Kind, unknown>>;
    const now = kind === "filter" ? value : { ...(had as object), [name!]: value };
    this.layers.set(layer, (now == null ? rest : { ...rest, [kind]: now }) as PlatLayer);
  }
}

/** In the sun paper is white, ink black and every line half as heavy again; the ramps stay. */
function sunPaint(paint: Readonly<Record<string, unknown>>): Record<string, unknown> {
  const swapped: Readonly<Record<string, string>> = {
    [colours.paper]: colours.white,
    [colours.sheet]: colours.white,
    [colours.ink]: colours.black,
    [colours.ink2]: colours.black,
    [colours.flag]: colours.sunFlag,
  };
  return Object.fromEntries(
    Object.entries(paint).map(([name, value]) => {
      if (typeof value === "string") return [name, swapped[value] ?? value];
      return [name, name === "line-width" && typeof value === "number" ? value * 1.5 : value];
    }),
  );
}

const nothing: FeatureCollection = { type: "FeatureCollection", features: [] };
