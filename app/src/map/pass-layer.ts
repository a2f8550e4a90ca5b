import { AS_PLANNED, appliedShare, colours, lineWeights, passShare, ramps } from "#core";
import type { PassLines } from "../engine/protocol.ts";
import {
  BYTES,
  CardProgram,
  CORNERS,
  countedFrom,
  finePx,
  HEAVIER,
  inSquare,
  OwnLayer,
  rgb,
  twoTrianglesEach,
} from "./own-layer.ts";
import {
  COLOUR,
  ENDS,
  HAIRLINES,
  passCorners,
  passGround,
  RECORD,
  RULES,
  SHARE_AND_GAP,
  TICKS,
  WIDTH_AND_NUMBER,
} from "./pass-programs.ts";

const TICK_PX = 0.9;
/** A rule in one piece, broken across, or parted along the pass, as its byte says it. */
const [WHOLE, BROKEN, PARTED] = [0, 128, 255];
/** Bytes of a colour, a share and the rule's form. */
const STEP = 8;

interface OnCard {
  readonly program: CardProgram;
  readonly segments: WebGLBuffer;
  readonly steps: WebGLBuffer;
  readonly order: WebGLBuffer;
}

/**
 * The passes: every segment a rule in its rate's colour, as wide as its rate's share of the pass, with ticks where
 * segments end and a hairline along the pass, dotted where nothing comes.
 */
export class PassLayer extends OwnLayer {
  private readonly pxPerM: () => number;
  private card: OnCard | null = null;
  /** Ends in the map's square from `origin`, width in metres and pass number of each segment, once for each corner. */
  private segments: Float32Array<ArrayBuffer> = new Float32Array(0);
  /** Colour and share of each segment, four bytes each, once for each corner. */
  private steps: Uint8Array<ArrayBuffer> = new Uint8Array(0);
  private origin: readonly [number, number] = [0, 0];
  private isNew = { segments: false, steps: false };
  private every = 1;
  private hasTicks = false;

  constructor(id: string, pxPerM: () => number) {
    super(id);
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
    this.askToDraw();
  }

  /** The ramp step of each segment, -1 for none. */
  showRates(steps: Int8Array): void {
    this.look(steps, ramps.rate, passShare, () => WHOLE);
  }

  /**
   * Placed less planned: wider for farther off the plan, two rules where it is more, one broken across where it is less, so
   * that they are told apart without colour; a hairline as planned.
   */
  showApplied(steps: Int8Array): void {
    this.look(steps, ramps.diff, appliedShare, (step) =>
      step > AS_PLANNED ? PARTED : step < AS_PLANNED ? BROKEN : WHOLE,
    );
  }

  private look(
    steps: Int8Array,
    ramp: readonly string[],
    share: (step: number) => number,
    form: (step: number) => number,
  ): void {
    const none = new Uint8Array(STEP);
    const records = ramp.map((colour, step) =>
      Uint8Array.of(...rgb(colour), 255, Math.round(255 * share(step)), form(step), 0, 0),
    );
    steps.forEach((step, k) => {
      fourTimes(this.steps, k, records[step] ?? none);
    });
    this.isNew.steps = true;
    this.askToDraw();
  }

  /** Only every so many-th pass, that many times as wide, with ticks or without. */
  thinOut(every: number, hasTicks: boolean): void {
    if (every === this.every && hasTicks === this.hasTicks) return;
    this.every = every;
    this.hasTicks = hasTicks;
    this.askToDraw();
  }

  protected begin(gl: WebGL2RenderingContext): void {
    const program = new CardProgram(gl, passCorners, passGround);
    const [segments, steps, order] = [program.buffer(), program.buffer(), program.buffer()];
    this.card = { program, segments, steps, order };
    this.isNew = { segments: true, steps: true };
  }

  protected end(): void {
    this.card?.program.letGo();
    this.card = null;
  }

  protected paint(gl: WebGL2RenderingContext, matrix: ArrayLike<number>): void {
    const { card } = this;
    const count = this.segments.length / RECORD / CORNERS;
    if (!card || count === 0) return;
    const { program } = card;
    program.use();
    this.upload(gl, card);
    const at = (name: string) => program.at(name);
    gl.uniformMatrix4fv(at("to_clip"), false, countedFrom(matrix, this.origin));
    const fine = finePx();
    gl.uniform2f(at("view_px"), gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.uniform1f(at("px_per_m"), this.pxPerM() * fine);
    gl.uniform1f(at("every"), this.every);
    const heavier = this.isSun ? HEAVIER : 1;
    const drawAs = (kind: number, colour: string, px: number) => {
      const [red, green, blue] = rgb(colour);
      gl.uniform1i(at("drawn_as"), kind);
      gl.uniform4f(at("line_ink"), red / 255, green / 255, blue / 255, 1);
      gl.uniform1f(at("line_px"), px * heavier * fine);
      gl.drawElements(gl.TRIANGLES, 6 * count, gl.UNSIGNED_INT, 0);
    };
    const bare = this.isSun ? colours.white : colours.sheet;
    drawAs(RULES, bare, 0);
    if (this.hasTicks) drawAs(TICKS, bare, TICK_PX);
    drawAs(HAIRLINES, this.isSun ? colours.black : colours.ink2, lineWeights.hairline);
  }

  private upload(gl: WebGL2RenderingContext, { program, segments, steps, order }: OnCard): void {
    if (this.isNew.segments) {
      gl.bindBuffer(gl.ARRAY_BUFFER, segments);
      gl.bufferData(gl.ARRAY_BUFFER, this.segments, gl.STATIC_DRAW);
      program.take(ENDS, 4, gl.FLOAT, false, RECORD * BYTES, 0);
      program.take(WIDTH_AND_NUMBER, 2, gl.FLOAT, false, RECORD * BYTES, 4 * BYTES);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, order);
      const stretches = this.segments.length / RECORD / CORNERS;
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, twoTrianglesEach(stretches), gl.STATIC_DRAW);
    }
    if (this.isNew.steps) {
      gl.bindBuffer(gl.ARRAY_BUFFER, steps);
      gl.bufferData(gl.ARRAY_BUFFER, this.steps, gl.DYNAMIC_DRAW);
      program.take(COLOUR, 4, gl.UNSIGNED_BYTE, true, STEP, 0);
      program.take(SHARE_AND_GAP, 2, gl.UNSIGNED_BYTE, true, STEP, 4);
    }
    this.isNew = { segments: false, steps: false };
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
