import { colours, lineWeights, noneEdge, ramps } from "#core";
import type { DrawnLayer, Ground, StepShapes } from "../engine/protocol.ts";
import {
  BYTES,
  CardProgram,
  CORNERS,
  finePx,
  HEAVIER,
  inSquare,
  moved,
  OwnLayer,
  rgb,
  twoTrianglesEach,
} from "./own-layer.ts";
import {
  ALONG_KIND_SHADE,
  CASING,
  CORNER_RECORD,
  CRITICAL,
  EDGE,
  ENDS,
  LINE_RECORD,
  lineCorners,
  lineGround,
  NONE_EDGE,
  PLACE,
  regionCorners,
  regionGround,
  SHADE,
} from "./step-programs.ts";

/** Corners of the box under the regions. */
const BOX = 4;

/** Dash and gap of the critical line, in its widths. */
const CRITICAL_DASH: readonly [number, number] = [4.5, 1.5];

interface OnCard {
  readonly regions: CardProgram;
  readonly lines: CardProgram;
  readonly corners: WebGLBuffer;
  readonly cornerOrder: WebGLBuffer;
  readonly stretches: WebGLBuffer;
  readonly stretchOrder: WebGLBuffer;
}

/** What is drawn, counted from an origin in the map's square. */
interface Arrays {
  readonly corners: Float32Array<ArrayBuffer>;
  readonly triangles: Uint32Array<ArrayBuffer>;
  readonly stretches: Float32Array<ArrayBuffer>;
  readonly origin: readonly [number, number];
  readonly ramp: readonly string[];
}

/**
 * Flat steps: the ground in the colour of the least class, every region above a limit over it, the classes' edges, and
 * the critical line. What lies beyond the field is covered by the mask that is drawn over it.
 */
export class StepLayer extends OwnLayer {
  private readonly pxPerSquare: () => number;
  private card: OnCard | null = null;
  private drawn: Arrays | null = null;
  private isNew = false;

  /** `pxPerSquare`: screen px across the map's whole square. */
  constructor(id: string, pxPerSquare: () => number) {
    super(id);
    this.pxPerSquare = pxPerSquare;
  }

  showSteps(drawn: DrawnLayer | null, ground: Ground | null): void {
    const before = this.drawn;
    this.drawn = drawn?.shapes && ground ? arraysOf(drawn.layer.classes, drawn.shapes, ground.box) : null;
    this.isNew = true;
    if (before || this.drawn) this.askToDraw();
  }

  protected begin(gl: WebGL2RenderingContext): void {
    const regions = new CardProgram(gl, regionCorners, regionGround);
    const lines = new CardProgram(gl, lineCorners, lineGround);
    this.card = {
      ...{ regions, lines },
      ...{ corners: regions.buffer(), cornerOrder: regions.buffer() },
      ...{ stretches: lines.buffer(), stretchOrder: lines.buffer() },
    };
    this.isNew = true;
  }

  protected end(): void {
    this.card?.regions.letGo();
    this.card?.lines.letGo();
    this.card = null;
  }

  protected paint(gl: WebGL2RenderingContext, matrix: ArrayLike<number>): void {
    const { card, drawn } = this;
    if (!card || !drawn) return;
    if (this.isNew) upload(gl, card, drawn);
    this.isNew = false;
    const toClip = moved(matrix, drawn.origin);
    const shades = this.shades(drawn.ramp);
    card.regions.use();
    gl.uniformMatrix4fv(card.regions.at("to_clip"), false, toClip);
    gl.uniform3fv(card.regions.at("shades"), shades);
    // Regions hide what is under them: nothing to mix.
    gl.disable(gl.BLEND);
    gl.drawElements(gl.TRIANGLES, drawn.triangles.length, gl.UNSIGNED_INT, 0);
    gl.enable(gl.BLEND);
    card.lines.use();
    gl.uniformMatrix4fv(card.lines.at("to_clip"), false, toClip);
    gl.uniform3fv(card.lines.at("shades"), shades);
    gl.uniform2f(card.lines.at("view_px"), gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.uniform1f(card.lines.at("px_per_square"), this.pxPerSquare() * finePx());
    gl.uniform4fv(card.lines.at("inks"), this.inks());
    gl.uniform3fv(card.lines.at("lines"), this.lines());
    const count = drawn.stretches.length / LINE_RECORD / CORNERS;
    gl.drawElements(gl.TRIANGLES, 6 * count, gl.UNSIGNED_INT, 0);
  }

  /** In the sun ground of the lowest class is as white as the paper. */
  private shades(ramp: readonly string[]): number[] {
    const papers: readonly string[] = [colours.paper, colours.sheet];
    return [colours.paper, ...ramp].flatMap((colour) =>
      shareOf(this.isSun && papers.includes(colour) ? colours.white : colour),
    );
  }

  private inks(): number[] {
    const [ink, soft] = this.isSun ? [colours.black, colours.black] : [colours.ink, colours.ink2];
    return [soft, ink, this.isSun ? colours.white : colours.paper, ink].flatMap((colour) => [
      ...shareOf(colour),
      1,
    ]);
  }

  /** Width, dash and dash with gap of each kind of line, px; no dash where the line runs through. */
  private lines(): number[] {
    const px = finePx() * (this.isSun ? HEAVIER : 1);
    const [dash, gap] = CRITICAL_DASH;
    const [dot, space] = noneEdge.dashes;
    const { contour, critical } = lineWeights;
    return [
      ...[contour, 0, 0],
      ...[noneEdge.width, dot, dot + space],
      ...[critical + 2, 0, 0],
      ...[critical, critical * dash, critical * (dash + gap)],
    ].map((width) => width * px);
  }
}

const shareOf = (colour: string): number[] => rgb(colour).map((part) => part / 255);

function arraysOf(
  classes: DrawnLayer["layer"]["classes"],
  shapes: StepShapes,
  [west, south, east, north]: Ground["box"],
): Arrays {
  const { places, rings, limits } = shapes;
  const origin = inSquare(west, south);
  const square = new Float64Array(places.length);
  for (let at = 0; at < places.length; at += 2) {
    const [x, y] = inSquare(places[at]!, places[at + 1]!);
    square[at] = x - origin[0];
    square[at + 1] = y - origin[1];
  }
  const shadeOf = (limit: number) => classes.steps[limit + 1]! + 1;
  const corners = new Float32Array(CORNER_RECORD * (BOX + places.length / 2));
  const [wide, high] = inSquare(east, north).map((end, k) => end - origin[k]!);
  [0, 0, wide!, 0, wide!, high!, 0, high!].forEach((end, k) => {
    corners[CORNER_RECORD * (k >> 1) + (k & 1)] = end;
  });
  for (let k = 0; k < BOX; k++) corners[CORNER_RECORD * k + 2] = shadeOf(-1);
  const stretches: number[] = [];
  for (const [ring, limit] of limits.entries()) {
    const [first, end] = [rings[ring]!, rings[ring + 1]!];
    for (let k = first; k < end; k++)
      corners.set([square[2 * k]!, square[2 * k + 1]!, shadeOf(limit)], CORNER_RECORD * (BOX + k));
    if (limit >= 0) lineAround(first, end, classes.hasNone && limit === 0 ? NONE_EDGE : EDGE, shadeOf(limit));
  }
  for (const kind of [CASING, CRITICAL]) {
    for (const [ring, limit] of limits.entries())
      if (limit < 0) lineAround(rings[ring]!, rings[ring + 1]!, kind, 0);
  }
  const triangles = Uint32Array.from([0, 1, 2, 0, 2, 3, ...shapes.triangles.map((corner) => BOX + corner)]);
  return {
    ...{ corners, triangles, origin, ramp: ramps[classes.ramp] },
    stretches: Float32Array.from(stretches),
  };

  function lineAround(first: number, end: number, kind: number, shade: number): void {
    let along = 0;
    for (let k = first; k < end; k++) {
      const next = k + 1 < end ? k + 1 : first;
      const [ax, ay, bx, by] = [square[2 * k]!, square[2 * k + 1]!, square[2 * next]!, square[2 * next + 1]!];
      for (let corner = 0; corner < CORNERS; corner++) stretches.push(ax, ay, bx, by, along, kind, shade);
      along += Math.hypot(bx - ax, by - ay);
    }
  }
}

function upload(gl: WebGL2RenderingContext, card: OnCard, drawn: Arrays): void {
  card.regions.use();
  gl.bindBuffer(gl.ARRAY_BUFFER, card.corners);
  gl.bufferData(gl.ARRAY_BUFFER, drawn.corners, gl.DYNAMIC_DRAW);
  card.regions.take(PLACE, 2, gl.FLOAT, false, CORNER_RECORD * BYTES, 0);
  card.regions.take(SHADE, 1, gl.FLOAT, false, CORNER_RECORD * BYTES, 2 * BYTES);
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, card.cornerOrder);
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, drawn.triangles, gl.DYNAMIC_DRAW);
  card.lines.use();
  gl.bindBuffer(gl.ARRAY_BUFFER, card.stretches);
  gl.bufferData(gl.ARRAY_BUFFER, drawn.stretches, gl.DYNAMIC_DRAW);
  card.lines.take(ENDS, 4, gl.FLOAT, false, LINE_RECORD * BYTES, 0);
  card.lines.take(ALONG_KIND_SHADE, 3, gl.FLOAT, false, LINE_RECORD * BYTES, 4 * BYTES);
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, card.stretchOrder);
  const count = drawn.stretches.length / LINE_RECORD / CORNERS;
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, twoTrianglesEach(count), gl.DYNAMIC_DRAW);
}
