import { KERNELS_BASE64 } from "./kernels-base64.ts";

/** What the compiled module exports; addresses in bytes. The sources (*.as.ts) say what each does. */
export interface KernelExports {
  readonly memory: { readonly buffer: ArrayBuffer; readonly grow: (pages: number) => number };
  readonly factor: (matrix: number, size: number, least: number) => number;
  readonly invert: (factor: number, out: number, size: number) => void;
  readonly square: (lower: number, out: number, size: number) => void;
  readonly squareDiagonal: (lower: number, out: number, size: number) => void;
  readonly gather: (full: number, size: number, list: number, count: number, out: number) => void;
  readonly sums: (
    c: number,
    stride: number,
    groups: number,
    dual: number,
    unit: number,
    count: number,
    out: number,
  ) => void;
  readonly halfSquares: (
    matrix: number,
    size: number,
    c: number,
    stride: number,
    groups: number,
    block: number,
    out: number,
  ) => void;
  readonly cubicPoint: (
    targetU: number,
    targetV: number,
    groups: number,
    u: number,
    v: number,
    count: number,
    pieces: number,
    pieceCount: number,
    total: number,
    c: number,
    stride: number,
  ) => void;
  readonly cubicBlock: (
    targetU: number,
    targetV: number,
    groups: number,
    u: number,
    v: number,
    count: number,
    pieces: number,
    pieceCount: number,
    offsetU: number,
    offsetV: number,
    weight: number,
    radius: number,
    c: number,
    stride: number,
  ) => void;
  readonly tablePoint: (
    targetU: number,
    targetV: number,
    groups: number,
    u: number,
    v: number,
    count: number,
    table: number,
    first: number,
    pieces: number,
    near: number,
    total: number,
    c: number,
    stride: number,
  ) => number;
  readonly tableBlock: (
    targetU: number,
    targetV: number,
    groups: number,
    u: number,
    v: number,
    count: number,
    table: number,
    first: number,
    pieces: number,
    near: number,
    offsetU: number,
    offsetV: number,
    weight: number,
    radius: number,
    c: number,
    stride: number,
  ) => number;
}

/** The part of the platform's WebAssembly that is used; no library of types describes it for every host. */
interface Platform {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: unknown };
}

/** `null`: this host has no WebAssembly with vectors, or forbids it. */
let module: object | null | undefined;

/** A new instance with a memory of its own; undefined where the host cannot run it. */
export function instantiateKernels(): KernelExports | undefined {
  const platform = (globalThis as { readonly WebAssembly?: Platform }).WebAssembly;
  if (platform === undefined || module === null) return undefined;
  try {
    module ??= new platform.Module(bytesOf(KERNELS_BASE64));
    return new platform.Instance(module, {}).exports as KernelExports;
  } catch {
    // Plain JavaScript gives the same numbers, only later.
    module = null;
    return undefined;
  }
}

const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

function bytesOf(base64: string): Uint8Array {
  const bytes = new Uint8Array((base64.replace(/=/g, "").length * 3) >> 2);
  let bits = 0;
  let held = 0;
  let to = 0;
  for (const digit of base64) {
    if (digit === "=") break;
    held = (held << 6) | DIGITS.indexOf(digit);
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[to++] = (held >> bits) & 255;
    }
    held &= (1 << bits) - 1;
  }
  return bytes;
}
