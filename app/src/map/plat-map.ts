import { type GeoJSONSource, Map as MapLibre, setWorkerUrl } from "maplibre-gl";
import workerUrl from "maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url";
import { ramps } from "#core";
import "maplibre-gl/dist/maplibre-gl.css";
import type { FeatureCollection } from "geojson";
import type { DrawnLayer, Ground, LonLat, PassLines } from "../engine/protocol.ts";
import {
  bandShapes,
  collection,
  criticalShapes,
  edgeShapes,
  type FarmField,
  farmNames,
  farmRules,
  farmShapes,
  groundShapes,
  lineShapes,
  maskShapes,
  passNames,
  passShapes,
  sampleShapes,
  shareOf,
  tickShapes,
} from "./shapes.ts";
import { platStyle } from "./style.ts";

setWorkerUrl(workerUrl);

/** Metres in a pixel at zoom 0 on the equator, tiles of 512. */
const M_PER_PX = 78_271.517;
/** A pass narrower than this shows with its neighbours as one, px. */
const NARROWEST_PX = 4;
/** Segments shorter than this get no ticks at their ends, px. */
const TICKS_FROM_PX = 12;

export interface PlatHooks {
  hovered(at: LonLat | null): void;
  tapped(at: LonLat): void;
  picked(field: string): void;
  moved(): void;
  /** Nothing is left to draw; `isAll` when everything given so far is on the map. */
  idle(isAll: boolean): void;
}

/** The one owner of the map. Give it shapes in degrees; it draws them and says where the pointer is. */
export class PlatMap {
  private readonly map: MapLibre;
  private readonly hooks: PlatHooks;
  private readonly ready: Promise<void>;
  private passes: PassLines | null = null;
  /** Ramp steps that the passes on the map have. */
  private steps: Int8Array | null = null;
  private segmentM = 30;
  private every = 1;
  /** Shapes given that the map has not been told yet. */
  private waiting = 0;
  private box: Ground["box"] | null = null;
  private readonly drawn = new Map<string, FeatureCollection>();

  constructor(container: HTMLElement, hooks: PlatHooks) {
    this.hooks = hooks;
    this.map = new MapLibre({
      container,
      style: platStyle(),
      attributionControl: false,
      keyboard: false,
      dragRotate: false,
      pitchWithRotate: false,
      touchPitch: false,
      renderWorldCopies: false,
      fadeDuration: 0,
      maxZoom: 21,
      center: [-90, 41],
      zoom: 12,
      locale: { "Map.Title": "Plat" },
    });
    this.map.touchZoomRotate.disableRotation();
    this.ready = new Promise((resolve) => void this.map.once("load", () => resolve()));
    this.map.on("mousemove", (event) => hooks.hovered([event.lngLat.lng, event.lngLat.lat]));
    this.map.on("mouseout", () => hooks.hovered(null));
    this.map.on("click", (event) => hooks.tapped([event.lngLat.lng, event.lngLat.lat]));
    this.map.on("move", () => hooks.moved());
    void this.ready.then(() => hooks.moved());
    this.map.on("resize", () => hooks.moved());
    this.map.on("idle", () => hooks.idle(this.waiting === 0));
    this.map.on("zoom", () => this.thinOut());
    this.map.on("resize", () => this.fit());
  }

  canvas(): HTMLCanvasElement {
    return this.map.getCanvas();
  }

  frame(box: Ground["box"]): void {
    this.box = box;
    this.fit();
  }

  fit(): void {
    if (!this.box) return;
    const [west, south, east, north] = this.box;
    this.map.fitBounds([west, south, east, north], {
      padding: { left: 22, right: 46, top: 26, bottom: 48 },
      animate: false,
      duration: 0,
    });
  }

  zoomBy(steps: number): void {
    this.map.zoomTo(this.map.getZoom() + steps, { duration: 0 });
  }

  project(at: LonLat): { x: number; y: number } {
    return this.map.project([at[0], at[1]]);
  }

  /** The farm's field at a place, told to the one who asked for taps on fields. */
  pickField(at: LonLat): void {
    const found = this.map.queryRenderedFeatures(this.project(at) as never, { layers: ["farm-fill"] })[0];
    if (typeof found?.properties.id === "string") this.hooks.picked(found.properties.id);
  }

  keepInView(at: LonLat): void {
    if (!this.map.getBounds().contains([at[0], at[1]])) this.map.panTo([at[0], at[1]], { duration: 0 });
  }

  /** Screen px in a metre of ground at the middle of the view. */
  pxPerM(): number {
    const { lat } = this.map.getCenter();
    return 2 ** this.map.getZoom() / (M_PER_PX * Math.cos((lat * Math.PI) / 180));
  }

  async showGround(ground: Ground | null): Promise<void> {
    await this.put("ground", ground && groundShapes(ground));
    await this.put("mask", ground && maskShapes(ground));
  }

  async showSteps(drawn: DrawnLayer | null, ground: Ground | null): Promise<void> {
    const both = drawn && ground;
    await this.put("bands", both && bandShapes(drawn, ground));
    await this.put("edges", drawn && edgeShapes(drawn));
    await this.put("critical", drawn && criticalShapes(drawn));
    performance.mark("map told");
  }

  async showSamples(ground: Ground | null, test: "P" | "K" | "CEC"): Promise<void> {
    await this.put("samples", ground && sampleShapes(ground, test));
  }

  async showLine(ground: Ground | null): Promise<void> {
    await this.put("line-ab", ground && lineShapes(ground));
  }

  async showPasses(passes: PassLines | null, segmentM: number, named: boolean): Promise<void> {
    this.passes = passes;
    this.segmentM = segmentM;
    this.steps = null;
    await this.put("passes", passes && passShapes(passes));
    await this.put("ticks", passes && tickShapes(passes));
    await this.put("names", passes && named ? passNames(passes) : null);
    this.every = 0;
    this.thinOut();
  }

  /** Rule every segment by its ramp step, -1 for none; only what changed is set. */
  async showRates(steps: Int8Array): Promise<void> {
    await this.ready;
    const before = this.steps;
    this.steps = steps;
    for (let id = 0; id < steps.length; id++) {
      const step = steps[id]!;
      if (before?.[id] === step) continue;
      this.map.setFeatureState({ source: "passes", id }, { step, share: shareOf(step) });
    }
    performance.mark("map told");
  }

  async showFarm(fields: readonly FarmField[] | null): Promise<void> {
    await this.put("farm", fields && farmShapes(fields));
    await this.put("farm-rules", fields && farmRules(fields));
    const [one] = fields ?? [];
    if (one) this.map.setPaintProperty("farm-rules", "line-width", groundWidth(["get", "w"], one.label[1]));
    await this.put("farm-names", fields && farmNames(fields));
  }

  destroy(): void {
    this.map.remove();
  }

  private async put(source: string, shapes: FeatureCollection | null): Promise<void> {
    this.waiting++;
    await this.ready;
    this.waiting--;
    const data = shapes ?? nothing;
    if (this.drawn.get(source) === nothing && data === nothing) return;
    this.drawn.set(source, data);
    this.map.getSource<GeoJSONSource>(source)?.setData(data);
  }

  /** Widths in ground units; passes too narrow to read show as every 2nd, 4th, 8th, that many times as wide. */
  private thinOut(): void {
    const { passes } = this;
    if (!passes) return;
    const widest = passes.widthM.reduce((most, width) => Math.max(most, width), 0);
    const pxPerM = this.pxPerM();
    let every = 1;
    while (widest * pxPerM * every < NARROWEST_PX && every < 64) every *= 2;
    const ticks = this.segmentM * pxPerM >= TICKS_FROM_PX ? "visible" : "none";
    this.map.setLayoutProperty("ticks", "visibility", ticks);
    if (every === this.every) return;
    this.every = every;
    const lat = passes.ends[1] ?? 0;
    const width = ["*", every, ["get", "w"], ["coalesce", ["feature-state", "share"], 0]];
    const filter = every === 1 ? null : ["==", ["%", ["get", "pass"], every], 0];
    this.map.setPaintProperty("passes", "line-width", groundWidth(width, lat));
    const colours = ramps.rate.flatMap((colour, step) => [step, colour]);
    this.map.setPaintProperty("passes", "line-color", [
      "match",
      ["coalesce", ["feature-state", "step"], -1],
      ...colours,
      "rgba(0,0,0,0)",
    ] as never);
    for (const layer of ["passes", "hairlines"]) this.map.setFilter(layer, filter as never);
  }
}

const nothing = collection([]);

/** A width in metres of ground, right at every zoom. */
function groundWidth(metres: unknown, lat: number): never {
  const k = 2 ** 10 / (M_PER_PX * Math.cos((lat * Math.PI) / 180));
  const at = (scale: number) => ["*", metres, scale];
  return ["interpolate", ["exponential", 2], ["zoom"], 10, at(k), 20, at(1024 * k)] as never;
}
