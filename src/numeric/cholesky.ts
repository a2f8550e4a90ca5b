// Matrices are n x n, row-major. Every inner loop below runs along two or more rows at once, so that it reads memory in order.

/**
 * Replaces the lower triangle of a symmetric matrix by its Cholesky factor L (A = L L'); the upper triangle is
 * neither read nor written. False, and the contents spoilt, when the matrix is not positive definite in double precision.
 */
export function factorInPlace(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    const row = i * n;
    const diagonal = a[row + i]!;
    let j = 0;
    for (; j + 3 < i; j += 4) {
      const r0 = j * n;
      const r1 = r0 + n;
      const r2 = r1 + n;
      const r3 = r2 + n;
      let s0 = a[row + j]!;
      let s1 = a[row + j + 1]!;
      let s2 = a[row + j + 2]!;
      let s3 = a[row + j + 3]!;
      for (let k = 0; k < j; k++) {
        const v = a[row + k]!;
        s0 -= v * a[r0 + k]!;
        s1 -= v * a[r1 + k]!;
        s2 -= v * a[r2 + k]!;
        s3 -= v * a[r3 + k]!;
      }
      s0 /= a[r0 + j]!;
      s1 = (s1 - s0 * a[r1 + j]!) / a[r1 + j + 1]!;
      s2 = (s2 - s0 * a[r2 + j]! - s1 * a[r2 + j + 1]!) / a[r2 + j + 2]!;
      s3 = (s3 - s0 * a[r3 + j]! - s1 * a[r3 + j + 1]! - s2 * a[r3 + j + 2]!) / a[r3 + j + 3]!;
      a[row + j] = s0;
      a[row + j + 1] = s1;
      a[row + j + 2] = s2;
      a[row + j + 3] = s3;
    }
    for (; j < i; j++) {
      const r = j * n;
      let s = a[row + j]!;
      for (let k = 0; k < j; k++) s -= a[row + k]! * a[r + k]!;
      a[row + j] = s / a[r + j]!;
    }
    let pivot = diagonal;
    for (let k = 0; k < i; k++) pivot -= a[row + k]! * a[row + k]!;
    // A pivot this far below its diagonal is rounding error, not information.
    if (!(pivot > diagonal * 4 * n * Number.EPSILON)) return false;
    a[row + i] = Math.sqrt(pivot);
  }
  return true;
}

/** Solves L u = b in place, L the lower triangle of `factor`. */
export function solveLowerInPlace(factor: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    const row = i * n;
    let s = b[i]!;
    for (let k = 0; k < i; k++) s -= factor[row + k]! * b[k]!;
    b[i] = s / factor[row + i]!;
  }
}

/** Solves L' u = b in place. */
export function solveUpperInPlace(factor: Float64Array, n: number, b: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    const row = i * n;
    const u = b[i]! / factor[row + i]!;
    b[i] = u;
    for (let k = 0; k < i; k++) b[k]! -= factor[row + k]! * u;
  }
}

/** Sum of the logarithms of the factor's diagonal, doubled: ln det of the matrix that was factored. */
export function logDeterminant(factor: Float64Array, n: number): number {
  let total = 0;
  for (let i = 0; i < n; i++) total += Math.log(factor[i * n + i]!);
  return 2 * total;
}

/** The inverse of L, stored transposed: row j holds column j of L^-1, zero before the diagonal. */
export function invertLower(factor: Float64Array, n: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    const d = factor[row + i]!;
    let j = 0;
    for (; j + 3 < i; j += 4) {
      const r0 = j * n;
      const r1 = r0 + n;
      const r2 = r1 + n;
      const r3 = r2 + n;
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (let k = j; k < i; k++) {
        const v = factor[row + k]!;
        s0 -= v * out[r0 + k]!;
        s1 -= v * out[r1 + k]!;
        s2 -= v * out[r2 + k]!;
        s3 -= v * out[r3 + k]!;
      }
      out[r0 + i] = s0 / d;
      out[r1 + i] = s1 / d;
      out[r2 + i] = s2 / d;
      out[r3 + i] = s3 / d;
    }
    for (; j < i; j++) {
      const r = j * n;
      let s = 0;
      for (let k = j; k < i; k++) s -= factor[row + k]! * out[r + k]!;
      out[r + i] = s / d;
    }
    out[row + i] = 1 / d;
  }
  return out;
}

/** The full symmetric inverse of the factored matrix, from `invertLower`. */
export function inverseFromLower(lower: Float64Array, n: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const ri = i * n;
    let j = 0;
    for (; j + 3 <= i; j += 4) {
      const r0 = j * n;
      const r1 = r0 + n;
      const r2 = r1 + n;
      const r3 = r2 + n;
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (let k = i; k < n; k++) {
        const v = lower[ri + k]!;
        s0 += v * lower[r0 + k]!;
        s1 += v * lower[r1 + k]!;
        s2 += v * lower[r2 + k]!;
        s3 += v * lower[r3 + k]!;
      }
      out[ri + j] = s0;
      out[ri + j + 1] = s1;
      out[ri + j + 2] = s2;
      out[ri + j + 3] = s3;
    }
    for (; j <= i; j++) {
      const r = j * n;
      let s = 0;
      for (let k = i; k < n; k++) s += lower[ri + k]! * lower[r + k]!;
      out[ri + j] = s;
    }
    for (j = 0; j < i; j++) out[j * n + i] = out[ri + j]!;
  }
  return out;
}
