import type { CustomLayerInterface, CustomRenderMethodInput, Map as MapLibre } from "maplibre-gl";

/** A layer of ours among the map's own: drawn straight from arrays, so that a move costs the map no shapes. */
export abstract class OwnLayer implements CustomLayerInterface {
  readonly id: string;
  readonly type: "custom" = "custom";
  readonly renderingMode: "2d" = "2d";
  /** What was set last is not drawn yet. */
  isBehind = false;
  protected isSun = false;
  private map: MapLibre | null = null;

  constructor(id: string) {
    this.id = id;
  }

  wear(theme: "light" | "sun"): void {
    this.isSun = theme === "sun";
    this.askToDraw();
  }

  onAdd(map: MapLibre, gl: WebGL2RenderingContext): void {
    this.map = map;
    this.begin(gl);
  }

  onRemove(): void {
    this.map = null;
    this.end();
  }

  render(gl: WebGL2RenderingContext, { defaultProjectionData }: CustomRenderMethodInput): void {
    this.isBehind = false;
    this.paint(gl, defaultProjectionData.mainMatrix);
    gl.bindVertexArray(null);
  }

  protected askToDraw(): void {
    if (!this.map) return;
    this.isBehind = true;
    this.map.triggerRepaint();
  }

  /** A card to draw on has come; it knows nothing yet. */
  protected abstract begin(gl: WebGL2RenderingContext): void;
  protected abstract end(): void;
  /** `matrix` takes places in the map's square to the view. */
  protected abstract paint(gl: WebGL2RenderingContext, matrix: ArrayLike<number>): void;
}

/** A program on the card with the arrays it draws from. */
export class CardProgram {
  readonly gl: WebGL2RenderingContext;
  readonly array: WebGLVertexArrayObject;
  private readonly program: WebGLProgram;
  private readonly buffers: WebGLBuffer[] = [];
  private readonly places = new Map<string, WebGLUniformLocation | null>();

  /** Whether the program is sound is asked when it is first used. */
  constructor(gl: WebGL2RenderingContext, corners: string, ground: string) {
    this.gl = gl;
    this.array = gl.createVertexArray()!;
    this.program = gl.createProgram()!;
    for (const [kind, text] of [
      [gl.VERTEX_SHADER, corners],
      [gl.FRAGMENT_SHADER, ground],
    ] as const) {
      const shader = gl.createShader(kind)!;
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(this.program, shader);
    }
    gl.linkProgram(this.program);
  }

  buffer(): WebGLBuffer {
    const made = this.gl.createBuffer()!;
    this.buffers.push(made);
    return made;
  }

  use(): void {
    this.gl.useProgram(this.program);
    this.gl.bindVertexArray(this.array);
  }

  /** Take a number of every corner's record: `size` parts, `from` so many bytes into a record of `stride`. */
  take(place: number, size: number, kind: number, isWhole: boolean, stride: number, from: number): void {
    this.gl.enableVertexAttribArray(place);
    this.gl.vertexAttribPointer(place, size, kind, isWhole, stride, from);
  }

  /** Where a value that holds for all corners goes in. */
  at(name: string): WebGLUniformLocation | null {
    const { gl, program, places } = this;
    const known = places.get(name);
    if (known !== undefined) return known;
    if (places.size === 0 && !gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost())
      throw new Error(`the map cannot be drawn: ${gl.getProgramInfoLog(program) ?? ""}`);
    const found = gl.getUniformLocation(program, name);
    places.set(name, found);
    return found;
  }

  letGo(): void {
    const { gl } = this;
    for (const one of this.buffers) gl.deleteBuffer(one);
    gl.deleteVertexArray(this.array);
    gl.deleteProgram(this.program);
  }
}

/** Lines are heavier in the sun. */
export const HEAVIER = 1.5;

/** Bytes of a number of a record. */
export const BYTES = 4;

/** A line's stretch has its numbers at each corner: where the processor draws, copies of one shape cost a call each. */
export const CORNERS = 4;

/** Red, green, blue of a colour written with six digits, 0 to 255. */
export const rgb = (colour: string): [number, number, number] => [
  Number.parseInt(colour.slice(1, 3), 16),
  Number.parseInt(colour.slice(3, 5), 16),
  Number.parseInt(colour.slice(5, 7), 16),
];

/** Screen px are counted in these on a fine screen. */
export const finePx = (): number => globalThis.devicePixelRatio || 1;

/** Which corners the two triangles of each of so many stretches have. */
export function twoTrianglesEach(stretches: number): Uint32Array<ArrayBuffer> {
  const order = new Uint32Array(6 * stretches);
  for (let first = 0, at = 0; at < order.length; first += CORNERS, at += 6) {
    order[at] = first;
    order[at + 1] = order[at + 4] = first + 1;
    order[at + 2] = order[at + 3] = first + 2;
    order[at + 5] = first + 3;
  }
  return order;
}

/** A place in the map's square: Mercator, one unit around the globe, y to the south. */
export function inSquare(lon: number, lat: number): [number, number] {
  const north = Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360));
  return [(lon + 180) / 360, (1 - north / Math.PI) / 2];
}

/** The map's matrix for places counted from `origin`, which single precision would lose. */
export function countedFrom(
  matrix: ArrayLike<number>,
  [x, y]: readonly [number, number],
): Float32Array<ArrayBuffer> {
  const out = Float64Array.from(matrix);
  for (let row = 0; row < 4; row++) out[12 + row]! += matrix[row]! * x + matrix[4 + row]! * y;
  return Float32Array.from(out);
}
