const DEGREE = 15;
const LEAST = 2 ** -20;

// The upper word of a double holds its exponent and the first bits of its fraction: halves of an octave in a shift.
const double = new Float64Array(1);
const words = new Uint32Array(double.buffer);
const UPPER = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1 ? 1 : 0;
const SHIFT = 19;

interface Piece {
  /** The argument is taken to [-1, 1] by x * scale + shift. */
  readonly scale: number;
  readonly shift: number;
  readonly series: Float64Array;
}

/**
 * A fast stand-in for a slow function of one positive number that is smooth away from 0: one Chebyshev series for each
 * piece [2^k, 1.5 2^k) and [1.5 2^k, 2^(k+1)), made when first needed. Below 2^-20 and at 0 the function itself is called.
 * Absolute error below 1e-13 of its largest value on the piece, where it is no wilder than e^-x.
 */
export function chebyshevTable(of: (x: number) => number): (x: number) => number {
  const pieces: (Piece | undefined)[] = [];
  const first = pieceOf(LEAST);
  return (x) => {
    if (!(x >= LEAST)) return of(x);
    const k = pieceOf(x) - first;
    let piece = pieces[k];
    if (piece === undefined) {
      piece = makePiece(of, x);
      pieces[k] = piece;
    }
    const { series } = piece;
    const t = x * piece.scale + piece.shift;
    const twice = 2 * t;
    // Clenshaw's recurrence.
    let b1 = 0;
    let b2 = 0;
    for (let j = DEGREE; j > 0; j--) {
      const b = twice * b1 - b2 + series[j]!;
      b2 = b1;
      b1 = b;
    }
    return t * b1 - b2 + series[0]!;
  };
}

function pieceOf(x: number): number {
  double[0] = x;
  return words[UPPER]! >>> SHIFT;
}

/** Coefficients from the values at the Chebyshev points of the piece that holds x; the first already halved. */
function makePiece(of: (x: number) => number, x: number): Piece {
  const piece = pieceOf(x);
  const octave = 2 ** ((piece >> 1) - 1023);
  const low = piece % 2 === 0 ? octave : 1.5 * octave;
  const high = low + octave / 2;
  const count = DEGREE + 1;
  const values = Array.from({ length: count }, (_, i) => {
    const t = Math.cos((Math.PI * (i + 0.5)) / count);
    return of(low + ((t + 1) / 2) * (high - low));
  });
  const series = Float64Array.from({ length: count }, (_, j) => {
    let total = 0;
    for (let i = 0; i < count; i++) total += values[i]! * Math.cos((Math.PI * j * (i + 0.5)) / count);
    return ((j === 0 ? 1 : 2) * total) / count;
  });
  return { scale: 2 / (high - low), shift: -(high + low) / (high - low), series };
}
