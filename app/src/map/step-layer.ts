import { colours, lineWeights, noneEdge } from "#core";
import type { DrawnLayer, Ground } from "../engine/protocol.ts";
import {
  BYTES,
  CardProgram,
  CORNERS,
  countedFrom,
  finePx,
  HEAVIER,
  OwnLayer,
  rgb,
  twoTrianglesEach,
} from "./own-layer.ts";
import { type StepArrays, stepArrays } from "./step-arrays.ts";
import {
  ALONG_KIND_SHADE,
  CORNER_RECORD,
  ENDS,
  LINE_RECORD,
  lineCorners,
  lineGround,
  PLACE,
  regionCorners,
  regionGround,
  SHADE,
} from "./step-programs.ts";

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

/**
 * Flat steps: the ground in the colour of the least class, every region above a limit over it, the classes' edges, and
 * the critical line. What lies beyond the field is covered by the mask that is drawn over it.
 */
export class StepLayer extends OwnLayer {
  private readonly pxPerSquare: () => number;
  private card: OnCard | null = null;
  private drawn: StepArrays | null = null;
  private isNew = false;

  /** `pxPerSquare`: screen px across the map's whole square. */
  constructor(id: string, pxPerSquare: () => number) {
    super(id);
    this.pxPerSquare = pxPerSquare;
  }

  get isEmpty(): boolean {
    return this.drawn === null;
  }

  showSteps(drawn: DrawnLayer | null, ground: Ground | null): void {
    const before = this.drawn;
    this.drawn = drawn?.shapes && ground ? stepArrays(drawn.layer.classes, drawn.shapes, ground.box) : null;
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
    const toClip = countedFrom(matrix, drawn.origin);
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

function upload(gl: WebGL2RenderingContext, card: OnCard, drawn: StepArrays): void {
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
