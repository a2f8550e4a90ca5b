import type { CustomLayerInterface, CustomRenderMethodInput, Map as MapLibre } from "maplibre-gl";
import { appliedShare, colours, lineWeights, passShare, ramps } from "#core";
import type { PassLines } from "../engine/protocol.ts";
import {
  COLOUR,
  ENDS,
  HAIRLINES,
  passProgram,
  RECORD,
  RULES,
  SHARE_AND_GAP,
  TICKS,
  WIDTH_AND_NUMBER,
} from "./pass-programs.ts";

const TICK_PX = 0.9;
/** Lines are heavier in the sun. */
const HEAVIER = 1.5;
const BYTES = 4;
/** A segment has its numbers at each corner: where the processor draws, copies of one shape cost a call each. */
const CORNERS = 4;
/** Bytes of a colour, a share and whether a gap parts the rule. */
const STEP = 8;

/** The middle step of the ramp of differences. */
const AS_PLANNED = (ramps.diff.length - 1) / 2;

/** Red, green, blue of a colour written with six digits. */
const rgb = (colour: string): [number, number, number] => [
  Number.parseInt(colour.slice(1, 3), 16),
  Number.parseInt(colour.slice(3, 5), 16),
  Number.parseInt(colour.slice(5, 7), 16),
];

interface OnCard {
  readonly gl: WebGL2RenderingContext;
  readonly program: WebGLProgram;
  readonly array: WebGLVertexArrayObject;
  readonly segments: WebGLBuffer;
  readonly steps: WebGLBuffer;
  readonly order: WebGLBuffer;
  readonly place: Map<string, WebGLUniformLocation | null>;
}

/**
 * The passes: every segment a rule in its rate's colour, as wide as its rate's share of the pass, with ticks where
 * segments end and a hairline along the pass, dotted where nothing comes. Drawn straight from arrays, so that a move costs the map no shapes.
 */
export class PassLayer implements CustomLayerInterface {
  readonly id: string;
  readonly type: "custom" = "custom";
  readonly renderingMode: "2d" = "2d";
  /** What was set last is not drawn yet. */
  isBehind = false;
  private readonly pxPerM: () => number;
  private map: MapLibre | null = null;
  private card: OnCard | null = null;
  /** Ends in the map's square from `origin`, width in metres and pass number of each segment, once for each corner. */
  private segments: Float32Array<ArrayBuffer> = new Float32Array(0);
  /** Colour and share of each segment, four bytes each, once for each corner. */
  private steps: Uint8Array<ArrayBuffer> = new Uint8Array(0);
  private origin: readonly [number, number] = [0, 0];
  private isNew = { segments: false, steps: false };
  private every = 1;
  private hasTicks = false;
  private isSun = false;

  constructor(id: string, pxPerM: () => number) {
    this.id = id;
    this.pxPerM = pxPerM;
  }

  /** The segments to draw, without rates until they are given; null for none. */
  showPasses(passes: PassLines | null): void {
    const count = passes?.pass.length ?? 0;
    this.segments = new Float32Array(CORNERS * RECORD * count);
    this.steps = new Uint8Array(CORNERS * STEP * count);
    this.isNew = { segments: true, steps: true };
    if (passes) {
      const { ends, widthM, pass, headland } = passes;
      this.origin = inSquare(ends[0] ?? 0, ends[1] ?? 0);
      const [x0, y0] = this.origin;
      for (let k = 0; k < count; k++) {
        const [ax, ay] = inSquare(ends[4 * k]!, ends[4 * k + 1]!);
        const [bx, by] = inSquare(ends[4 * k + 2]!, ends[4 * k + 3]!);
        // Headland passes are counted from 1: thinned out, the outermost stays.
        const number = headland[k] === 1 ? pass[k]! - 1 : pass[k]!;
        fourTimes(this.segments, k, [ax - x0, ay - y0, bx - x0, by - y0, widthM[k]!, number]);
      }
    }
    this.draw();
  }

  /** The ramp step of each segment, -1 for none. */
  showRates(steps: Int8Array): void {
    this.look(steps, ramps.rate, passShare, () => false);
  }

  /** Placed less planned: wider for farther off the plan, two rules where it is more, one where it is less; a hairline as planned. */
  showApplied(steps: Int8Array): void {
    this.look(steps, ramps.diff, appliedShare, (step) => step > AS_PLANNED);
  }

  private look(
    steps: Int8Array,
    ramp: readonly string[],
    share: (step: number) => number,
    isDouble: (step: number) => boolean,
  ): void {
    const none = new Uint8Array(STEP);
    const records = ramp.map((colour, step) =>
      Uint8Array.of(...rgb(colour), 255, Math.round(255 * share(step)), isDouble(step) ? 255 : 0, 0, 0),
    );
    steps.forEach((step, k) => {
      fourTimes(this.steps, k, records[step] ?? none);
    });
    this.isNew.steps = true;
    this.draw();
  }

  /** Only every so many-th pass, that many times as wide, with ticks or without. */
  thinOut(every: number, hasTicks: boolean): void {
    if (every === this.every && hasTicks === this.hasTicks) return;
    this.every = every;
    this.hasTicks = hasTicks;
    this.draw();
  }

  wear(theme: "light" | "sun"): void {
    this.isSun = theme === "sun";
    this.draw();
  }

  onAdd(map: MapLibre, gl: WebGL2RenderingContext): void {
    this.map = map;
    const program = passProgram(gl);
    const [segments, steps, order] = [gl.createBuffer()!, gl.createBuffer()!, gl.createBuffer()!];
    this.card = { gl, program, array: gl.createVertexArray()!, segments, steps, order, place: new Map() };
    this.isNew = { segments: true, steps: true };
  }

  onRemove(): void {
    const { card } = this;
    this.card = null;
    this.map = null;
    if (!card) return;
    card.gl.deleteBuffer(card.segments);
    card.gl.deleteBuffer(card.steps);
    card.gl.deleteBuffer(card.order);
    card.gl.deleteVertexArray(card.array);
    card.gl.deleteProgram(card.program);
  }

  render(gl: WebGL2RenderingContext, { defaultProjectionData }: CustomRenderMethodInput): void {
    this.isBehind = false;
    const card = this.card;
    const count = this.segments.length / RECORD / CORNERS;
    if (!card || count === 0) return;
    this.upload(card);
    gl.useProgram(card.program);
    gl.bindVertexArray(card.array);
    const at = (name: string) => placeOf(card, name);
    gl.uniformMatrix4fv(at("to_clip"), false, moved(defaultProjectionData.mainMatrix, this.origin));
    const finePx = globalThis.devicePixelRatio || 1;
    gl.uniform2f(at("view_px"), gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.uniform1f(at("px_per_m"), this.pxPerM() * finePx);
    gl.uniform1f(at("every"), this.every);
    const heavier = this.isSun ? HEAVIER : 1;
    const drawAs = (kind: number, colour: string, px: number) => {
      const [red, green, blue] = rgb(colour);
      gl.uniform1i(at("drawn_as"), kind);
      gl.uniform4f(at("line_ink"), red / 255, green / 255, blue / 255, 1);
      gl.uniform1f(at("line_px"), px * heavier * finePx);
      gl.drawElements(gl.TRIANGLES, 6 * count, gl.UNSIGNED_INT, 0);
    };
    const bare = this.isSun ? colours.white : colours.sheet;
    drawAs(RULES, bare, 0);
    if (this.hasTicks) drawAs(TICKS, bare, TICK_PX);
    drawAs(HAIRLINES, this.isSun ? colours.black : colours.ink2, lineWeights.hairline);
    gl.bindVertexArray(null);
  }

  private draw(): void {
    if (!this.map) return;
    this.isBehind = true;
    this.map.triggerRepaint();
  }

  private upload({ gl, array, segments, steps, order }: OnCard): void {
    gl.bindVertexArray(array);
    const take = (
      place: number,
      size: number,
      kind: number,
      isWhole: boolean,
      stride: number,
      from: number,
    ) => {
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, size, kind, isWhole, stride, from);
    };
    if (this.isNew.segments) {
      gl.bindBuffer(gl.ARRAY_BUFFER, segments);
      gl.bufferData(gl.ARRAY_BUFFER, this.segments, gl.STATIC_DRAW);
      take(ENDS, 4, gl.FLOAT, false, RECORD * BYTES, 0);
      take(WIDTH_AND_NUMBER, 2, gl.FLOAT, false, RECORD * BYTES, 4 * BYTES);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, order);
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, twoTrianglesEach(this.segments.length / RECORD), gl.STATIC_DRAW);
    }
    if (this.isNew.steps) {
      gl.bindBuffer(gl.ARRAY_BUFFER, steps);
      gl.bufferData(gl.ARRAY_BUFFER, this.steps, gl.DYNAMIC_DRAW);
      take(COLOUR, 4, gl.UNSIGNED_BYTE, true, STEP, 0);
      take(SHARE_AND_GAP, 2, gl.UNSIGNED_BYTE, true, STEP, 4);
    }
    this.isNew = { segments: false, steps: false };
    gl.bindVertexArray(null);
  }
}

/** A segment's numbers at each of its corners. */
function fourTimes(
  into: Float32Array | Uint8Array,
  segment: number,
  numbers: readonly number[] | Uint8Array,
): void {
  for (let corner = 0; corner < CORNERS; corner++)
    into.set(numbers, (CORNERS * segment + corner) * numbers.length);
}

/** Which corners each segment's two triangles have. */
function twoTrianglesEach(corners: number): Uint32Array<ArrayBuffer> {
  const order = new Uint32Array((6 * corners) / CORNERS);
  for (let first = 0, at = 0; first < corners; first += CORNERS, at += 6) {
    order[at] = first;
    order[at + 1] = order[at + 4] = first + 1;
    order[at + 2] = order[at + 3] = first + 2;
    order[at + 5] = first + 3;
  }
  return order;
}

function placeOf({ gl, program, place }: OnCard, name: string): WebGLUniformLocation | null {
  const known = place.get(name);
  if (known !== undefined) return known;
  if (place.size === 0 && !gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost())
    throw new Error(`the passes cannot be drawn: ${gl.getProgramInfoLog(program) ?? ""}`);
  const found = gl.getUniformLocation(program, name);
  place.set(name, found);
  return found;
}

/** A place in the map's square: Mercator, one unit around the globe, y to the south. */
function inSquare(lon: number, lat: number): [number, number] {
  const north = Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360));
  return [(lon + 180) / 360, (1 - north / Math.PI) / 2];
}

/** The map's matrix for places counted from `origin`, which single precision would lose. */
function moved(matrix: ArrayLike<number>, [x, y]: readonly [number, number]): Float32Array<ArrayBuffer> {
  const out = Float64Array.from(matrix);
  for (let row = 0; row < 4; row++) out[12 + row]! += matrix[row]! * x + matrix[4 + row]! * y;
  return Float32Array.from(out);
}
