import { Map as MapLibre, setWorkerUrl } from "maplibre-gl";
import workerUrl from "maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url";
import "maplibre-gl/dist/maplibre-gl.css";
import type { DrawnLayer, Ground, LonLat, LonLatRings, PassLines } from "../engine/protocol.ts";
import { breathe } from "../engine/yielding.ts";
import { LayerStack } from "./layer-stack.ts";
import { PassLayer } from "./pass-layer.ts";
import {
  draftShapes,
  type Edge,
  type FarmField,
  farmNames,
  farmRules,
  farmShapes,
  groundShapes,
  keptOffShapes,
  lineShapes,
  passNames,
  sampleShapes,
} from "./shapes.ts";
import { StepLayer } from "./step-layer.ts";
import { bareStyle } from "./style.ts";

setWorkerUrl(workerUrl);

/** The layers that draw themselves. */
const STEPS = "steps";
const PASSES = "passes";
/** A piece of work longer than this is followed by a pause, ms. */
const LET_GO_MS = 10;
/** The map's square at zoom 0, px. */
const SQUARE_PX = 512;
/** Metres in a pixel at zoom 0 on the equator. */
const M_PER_PX = 78_271.517;
/** A pass narrower than this shows with its neighbours as one, px. */
const NARROWEST_PX = 4;
/** Segments shorter than this get no ticks at their ends, px. */
const TICKS_FROM_PX = 12;

interface PlatHooks {
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
  /** The map can be drawn on, and has been told all before. */
  private ready: Promise<void>;
  private isGone = false;
  /** What of the farm's shapes is on the map. */
  private farmShown: string | undefined = undefined;
  private passes: PassLines | null = null;
  private readonly stepped: StepLayer;
  private readonly ruled: PassLayer;
  private segmentM = 30;
  /** Shapes given that the map has not been told yet. */
  private waiting = 0;
  private box: Ground["box"] | null = null;
  private readonly layers: LayerStack;

  /** A still map takes no pointer and no key: it shows what the one it follows shows. */
  constructor(container: HTMLElement, hooks: PlatHooks, isStill = false) {
    this.hooks = hooks;
    performance.mark("map library begins");
    this.map = new MapLibre({
      container,
      style: bareStyle(),
      attributionControl: false,
      interactive: !isStill,
      keyboard: false,
      dragRotate: false,
      pitchWithRotate: false,
      touchPitch: false,
      renderWorldCopies: false,
      fadeDuration: 0,
      validateStyle: false,
      maxZoom: 21,
      center: [-90, 41],
      zoom: 12,
      locale: { "Map.Title": "Plat" },
    });
    performance.mark("map library stands");
    this.map.touchZoomRotate.disableRotation();
    this.layers = new LayerStack(this.map, [STEPS, PASSES]);
    this.stepped = new StepLayer(STEPS, () => SQUARE_PX * 2 ** this.map.getZoom());
    this.ruled = new PassLayer(PASSES, () => this.pxPerM());
    this.ready = new Promise((resolve) => void this.map.once("style.load", () => resolve()));
    // A new card knows nothing of a layer that draws itself.
    this.map.on("webglcontextrestored", () => {
      this.ready = new Promise((resolve) => void this.map.once("style.load", () => resolve()));
      this.draw((on) => {
        if (!this.stepped.isEmpty) on.lay(this.stepped);
        if (this.passes) on.lay(this.ruled);
      });
    });
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
    this.draw(() => this.fit());
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

  /** Show the same ground as another map of the same size, until the end that is returned. */
  follow(other: PlatMap): () => void {
    const see = () => void this.map.jumpTo({ center: other.map.getCenter(), zoom: other.map.getZoom() });
    other.map.on("move", see);
    see();
    return () => void other.map.off("move", see);
  }

  zoomBy(steps: number): void {
    this.map.zoomTo(this.map.getZoom() + steps, { duration: 0 });
  }

  project(at: LonLat): { x: number; y: number } {
    return this.map.project([at[0], at[1]]);
  }

  /** The place at px of the map's view. */
  placeAt(x: number, y: number): LonLat {
    const { lng, lat } = this.map.unproject([x, y]);
    return [lng, lat];
  }

  /** The farm's field at a place, told to the one who asked for taps on fields. */
  pickField(at: LonLat): void {
    if (!this.layers.isOn("farm-fill")) return;
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

  wear(theme: "light" | "sun"): void {
    this.draw((on) => {
      on.wear(theme);
      this.stepped.wear(theme);
      this.ruled.wear(theme);
    });
  }

  showGround(ground: Edge | null): void {
    this.draw((on) => on.put("ground", ground && groundShapes(ground)));
  }

  showSteps(drawn: DrawnLayer | null, ground: Ground | null): void {
    this.draw((on) => {
      this.stepped.showSteps(drawn, ground);
      if (!this.stepped.isEmpty) on.lay(this.stepped);
      performance.mark("map told");
    });
  }

  showSamples(ground: Ground | null, test: "P" | "K" | "CEC"): void {
    this.draw((on) => on.put("samples", ground && sampleShapes(ground, test)));
  }

  showLine(ground: Ground | null): void {
    this.draw((on) => on.put("line-ab", ground && lineShapes(ground)));
  }

  /** Outlines of ground that is kept off. */
  showKeptOff(parts: readonly LonLatRings[]): void {
    this.draw((on) => on.put("kept-off", parts.length === 0 ? null : keptOffShapes(parts)));
  }

  /** Corners as they are drawn. */
  showDraft(corners: readonly LonLat[]): void {
    this.draw((on) => on.put("draft", corners.length === 0 ? null : draftShapes(corners)));
  }

  showPasses(passes: PassLines | null, segmentM: number, named: boolean): void {
    this.draw((on) => {
      this.passes = passes;
      this.segmentM = segmentM;
      this.ruled.showPasses(passes);
      this.thinOut();
      if (passes) on.lay(this.ruled);
    });
    this.draw((on) => on.put("names", passes && named ? passNames(passes) : null));
  }

  /** Rule every segment by its ramp step, -1 for none. */
  showRates(steps: Int8Array): void {
    this.draw(() => {
      this.ruled.showRates(steps);
      performance.mark("map told");
    });
  }

  /** Rule every segment by what was placed there less what was planned. */
  showApplied(steps: Int8Array): void {
    this.draw(() => this.ruled.showApplied(steps));
  }

  showFarm(fields: readonly FarmField[] | null): void {
    const [one] = fields ?? [];
    const isRuled = fields?.some(({ rules }) => rules.length > 0);
    // While a farm is worked out the words come often, and the shapes stay.
    const shapes = JSON.stringify(fields?.map(({ id, colour, chosen, box }) => [id, colour, chosen, box]));
    const areNew = shapes !== this.farmShown;
    this.farmShown = shapes;
    this.draw((on) => {
      if (one) on.set("farm-rules", "paint", "line-width", groundWidth(["get", "w"], one.label[1]));
      if (areNew) on.put("farm", fields && farmShapes(fields));
      on.put("farm-rules", fields && isRuled ? farmRules(fields) : null);
      on.put("farm-names", fields && farmNames(fields));
      if (one) performance.mark("farm told");
    });
  }

  destroy(): void {
    this.isGone = true;
    this.map.remove();
  }

  /** As soon as the map can be drawn on, in the order asked; the page is let go between long pieces. */
  private draw(work: (on: LayerStack) => void): void {
    const isFirst = this.waiting === 0;
    if (isFirst) this.hooks.idle(false);
    this.waiting++;
    this.ready = this.ready.then(async () => {
      // Whoever gave the shapes has a task of its own, and so has the drawing.
      if (isFirst) await breathe();
      if (this.isGone) return;
      const start = performance.now();
      this.waiting--;
      try {
        work(this.layers);
      } catch (error) {
        reportError(error);
      }
      // What was on the map already leaves nothing to draw, and the map says nothing of it.
      if (this.waiting === 0 && this.map.loaded() && !this.stepped.isBehind && !this.ruled.isBehind)
        this.hooks.idle(true);
      if (performance.now() - start > LET_GO_MS) await breathe();
    });
  }

  /** Passes too narrow to read show as every 2nd, 4th, 8th, that many times as wide. */
  private thinOut(): void {
    const { passes } = this;
    if (!passes) return;
    const widest = passes.widthM.reduce((most, width) => Math.max(most, width), 0);
    const pxPerM = this.pxPerM();
    let every = 1;
    while (widest * pxPerM * every < NARROWEST_PX && every < 64) every *= 2;
    this.ruled.thinOut(every, this.segmentM * pxPerM >= TICKS_FROM_PX);
  }
}

/** A width in metres of ground, right at every zoom. */
function groundWidth(metres: unknown, lat: number): never {
  const k = 2 ** 10 / (M_PER_PX * Math.cos((lat * Math.PI) / 180));
  const at = (scale: number) => ["*", metres, scale];
  return ["interpolate", ["exponential", 2], ["zoom"], 10, at(k), 20, at(1024 * k)] as never;
}
