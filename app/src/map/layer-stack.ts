import type { FeatureCollection } from "geojson";
import type { GeoJSONSource, Map as MapLibre } from "maplibre-gl";
import { type PlatLayer, platLayers, sourceOf } from "./style.ts";

type Kind = "paint" | "layout" | "filter";

/**
 * The plat's layers, each put on the map when its source first has shapes: an empty source costs the map as much work
 * at every zoom as a full one. What is set on a layer before then holds when it comes.
 */
export class LayerStack {
  private readonly map: MapLibre;
  private readonly layers: Map<string, PlatLayer>;
  private readonly drawn = new Map<string, FeatureCollection>();

  constructor(map: MapLibre) {
    this.map = map;
    this.layers = new Map(platLayers().map((layer) => [layer.id, layer]));
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
    this.map.addSource(source, { ...sourceOf(source), data });
    const order = [...this.layers.keys()];
    for (const [k, layer] of [...this.layers.values()].entries()) {
      if (layer.source !== source) continue;
      this.map.addLayer(
        layer,
        order.slice(k + 1).find((id) => this.map.getLayer(id)),
      );
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

const nothing: FeatureCollection = { type: "FeatureCollection", features: [] };
