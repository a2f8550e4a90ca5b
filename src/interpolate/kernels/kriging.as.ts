// AssemblyScript: the loops that kriging spends its time in, two numbers at a time. Only + - * / and square roots, each
// number's operations in the order of the plain JavaScript beside it, so that both give the same bits.
//
// A matrix of `size` columns (a multiple of 4, padded) is stored in panels of four columns: element (row, column) is
// at 8 ((column >> 2) 4 size + 4 row + (column & 3)). Addresses are in bytes, on multiples of 8.

/** Adds to the 4 x 4 block at `block` the products of rows [from, to) of two panels: block[p][q] += x[k][p] y[k][q]. */
function addProducts(x: usize, y: usize, from: i32, to: i32, block: usize): void {
  let s0 = v128.load(block);
  let t0 = v128.load(block, 16);
  let s1 = v128.load(block, 32);
  let t1 = v128.load(block, 48);
  let s2 = v128.load(block, 64);
  let t2 = v128.load(block, 80);
  let s3 = v128.load(block, 96);
  let t3 = v128.load(block, 112);
  const end = x + ((<usize>to) << 5);
  y += (<usize>from) << 5;
  for (x += (<usize>from) << 5; x < end; x += 32, y += 32) {
    const a = v128.load(y);
    const b = v128.load(y, 16);
    const x0 = v128.load64_splat(x);
    s0 = f64x2.add(s0, f64x2.mul(x0, a));
    t0 = f64x2.add(t0, f64x2.mul(x0, b));
    const x1 = v128.load64_splat(x, 8);
    s1 = f64x2.add(s1, f64x2.mul(x1, a));
    t1 = f64x2.add(t1, f64x2.mul(x1, b));
    const x2 = v128.load64_splat(x, 16);
    s2 = f64x2.add(s2, f64x2.mul(x2, a));
    t2 = f64x2.add(t2, f64x2.mul(x2, b));
    const x3 = v128.load64_splat(x, 24);
    s3 = f64x2.add(s3, f64x2.mul(x3, a));
    t3 = f64x2.add(t3, f64x2.mul(x3, b));
  }
  v128.store(block, s0);
  v128.store(block, t0, 16);
  v128.store(block, s1, 32);
  v128.store(block, t1, 48);
  v128.store(block, s2, 64);
  v128.store(block, t2, 80);
  v128.store(block, s3, 96);
  v128.store(block, t3, 112);
}

/** The same, taken away. */
function subtractProducts(x: usize, y: usize, from: i32, to: i32, block: usize): void {
  let s0 = v128.load(block);
  let t0 = v128.load(block, 16);
  let s1 = v128.load(block, 32);
  let t1 = v128.load(block, 48);
  let s2 = v128.load(block, 64);
  let t2 = v128.load(block, 80);
  let s3 = v128.load(block, 96);
  let t3 = v128.load(block, 112);
  const end = x + ((<usize>to) << 5);
  y += (<usize>from) << 5;
  for (x += (<usize>from) << 5; x < end; x += 32, y += 32) {
    const a = v128.load(y);
    const b = v128.load(y, 16);
    const x0 = v128.load64_splat(x);
    s0 = f64x2.sub(s0, f64x2.mul(x0, a));
    t0 = f64x2.sub(t0, f64x2.mul(x0, b));
    const x1 = v128.load64_splat(x, 8);
    s1 = f64x2.sub(s1, f64x2.mul(x1, a));
    t1 = f64x2.sub(t1, f64x2.mul(x1, b));
    const x2 = v128.load64_splat(x, 16);
    s2 = f64x2.sub(s2, f64x2.mul(x2, a));
    t2 = f64x2.sub(t2, f64x2.mul(x2, b));
    const x3 = v128.load64_splat(x, 24);
    s3 = f64x2.sub(s3, f64x2.mul(x3, a));
    t3 = f64x2.sub(t3, f64x2.mul(x3, b));
  }
  v128.store(block, s0);
  v128.store(block, t0, 16);
  v128.store(block, s1, 32);
  v128.store(block, t1, 48);
  v128.store(block, s2, 64);
  v128.store(block, t2, 80);
  v128.store(block, s3, 96);
  v128.store(block, t3, 112);
}

/** Row p of a 4 x 4 block less factor times row q. */
@inline
function subtractRow(block: usize, p: i32, q: i32, factor: f64): void {
  const to = block + ((<usize>p) << 5);
  const from = block + ((<usize>q) << 5);
  const f = f64x2.splat(factor);
  v128.store(to, f64x2.sub(v128.load(to), f64x2.mul(f, v128.load(from))));
  v128.store(to, f64x2.sub(v128.load(to, 16), f64x2.mul(f, v128.load(from, 16))), 16);
}

@inline
function divideRow(block: usize, p: i32, by: f64): void {
  const row = block + ((<usize>p) << 5);
  const d = f64x2.splat(by);
  v128.store(row, f64x2.div(v128.load(row), d));
  v128.store(row, f64x2.div(v128.load(row, 16), d), 16);
}

@inline
function at(base: usize, index: i32): f64 {
  return load<f64>(base + ((<usize>index) << 3));
}

/**
 * Cholesky: panels hold the upper triangle of a symmetric matrix (identity where padded) and get L', L L' = matrix.
 * 0 when a pivot is not above its diagonal times `least`.
 */
export function factor(a: usize, size: i32, least: f64): i32 {
  const panel = (<usize>size) << 5;
  for (let j = 0, pj = a; j < size; j += 4, pj += panel) {
    for (let i = 0, pi = a; i < j; i += 4, pi += panel) {
      const block = pj + ((<usize>i) << 5);
      const corner = pi + ((<usize>i) << 5);
      subtractProducts(pi, pj, 0, i, block);
      for (let p = 0; p < 4; p++) {
        for (let q = 0; q < p; q++) subtractRow(block, p, q, at(corner, 4 * q + p));
        divideRow(block, p, at(corner, 5 * p));
      }
    }
    const corner = pj + ((<usize>j) << 5);
    const d0 = at(corner, 0);
    const d1 = at(corner, 5);
    const d2 = at(corner, 10);
    const d3 = at(corner, 15);
    subtractProducts(pj, pj, 0, j, corner);
    for (let p = 0; p < 4; p++) {
      for (let q = 0; q < p; q++) subtractRow(corner, p, q, at(corner, 4 * q + p));
      const pivot = at(corner, 5 * p);
      const diagonal = p == 0 ? d0 : p == 1 ? d1 : p == 2 ? d2 : d3;
      if (!(pivot > diagonal * least)) return 0;
      const root = Math.sqrt(pivot);
      for (let q = p + 1; q < 4; q++) {
        store<f64>(corner + ((<usize>(4 * p + q)) << 3), at(corner, 4 * p + q) / root);
      }
      store<f64>(corner + ((<usize>(5 * p)) << 3), root);
    }
  }
  return 1;
}

/** M = L^-1, lower triangle, from L' as `factor` leaves it. */
export function invert(l: usize, m: usize, size: i32): void {
  const panel = (<usize>size) << 5;
  for (let j = 0, pj = m; j < size; j += 4, pj += panel) {
    for (let i = j, pi = l + <usize>(j >> 2) * panel; i < size; i += 4, pi += panel) {
      const block = pj + ((<usize>i) << 5);
      const corner = pi + ((<usize>i) << 5);
      memory.fill(block, 0, 128);
      if (i > j) subtractProducts(pi, pj, j, i, block);
      for (let p = 0; p < 4; p++) {
        for (let q = 0; q < p; q++) subtractRow(block, p, q, at(corner, 4 * q + p));
        divideRow(block, p, at(corner, 5 * p));
        if (i == j) {
          store<f64>(block + ((<usize>(5 * p)) << 3), 1 / at(corner, 5 * p));
          for (let q = p + 1; q < 4; q++) store<f64>(block + ((<usize>(4 * p + q)) << 3), 0);
        }
      }
    }
  }
}

/** The upper triangle of M' M, M lower triangular: the inverse of the matrix that was factored. */
export function square(m: usize, out: usize, size: i32): void {
  const panel = (<usize>size) << 5;
  for (let i = 0, pi = m, oi = out; i < size; i += 4, pi += panel, oi += panel) {
    for (let j = 0, pj = m; j <= i; j += 4, pj += panel) {
      const block = oi + ((<usize>j) << 5);
      memory.fill(block, 0, 128);
      addProducts(pj, pi, i, size, block);
    }
  }
}

/** The diagonal of M' M. */
export function squareDiagonal(m: usize, out: usize, size: i32): void {
  const panel = (<usize>size) << 5;
  for (let i = 0, pi = m; i < size; i += 4, pi += panel, out += 32) {
    let s = f64x2.splat(0);
    let t = f64x2.splat(0);
    for (let k = i; k < size; k++) {
      const a = v128.load(pi + ((<usize>k) << 5));
      const b = v128.load(pi + ((<usize>k) << 5), 16);
      s = f64x2.add(s, f64x2.mul(a, a));
      t = f64x2.add(t, f64x2.mul(b, b));
    }
    v128.store(out, s);
    v128.store(out, t, 16);
  }
}

/** Picks from the upper triangle of a matrix the rows and columns listed (count of them, ascending); padding gets 0. */
export function gather(full: usize, size: i32, list: usize, count: i32, out: usize): void {
  const panel = (<usize>size) << 5;
  const outSize = (count + 3) & ~3;
  for (let i = 0; i < outSize; i++) {
    const to = out + (<usize>(i >> 2) * <usize>outSize * 32) + ((<usize>(i & 3)) << 3);
    if (i >= count) {
      for (let j = 0; j <= i; j++) store<f64>(to + ((<usize>j) << 5), 0);
      continue;
    }
    const column = load<i32>(list + ((<usize>i) << 2));
    const from = full + <usize>(column >> 2) * panel + ((<usize>(column & 3)) << 3);
    for (let j = 0; j <= i; j++) {
      const row = load<i32>(list + ((<usize>j) << 2));
      store<f64>(to + ((<usize>j) << 5), load<f64>(from + ((<usize>row) << 5)));
    }
  }
}

/**
 * For groups of four targets, each with its covariances c[k][target] in a run of 32 `stride` bytes: sums of c times
 * `dual` and of c times `unit`, four and four, to `out` (64 bytes a group).
 */
export function sums(c: usize, stride: i32, groups: i32, dual: usize, unit: usize, count: i32, out: usize): void {
  for (let g = 0; g < groups; g++, c += (<usize>stride) << 5, out += 64) {
    let e0 = f64x2.splat(0);
    let e1 = f64x2.splat(0);
    let u0 = f64x2.splat(0);
    let u1 = f64x2.splat(0);
    for (let k: usize = 0, end = (<usize>count) << 3; k < end; k += 8) {
      const a = v128.load(c + (k << 2));
      const b = v128.load(c + (k << 2), 16);
      const d = v128.load64_splat(dual + k);
      const u = v128.load64_splat(unit + k);
      e0 = f64x2.add(e0, f64x2.mul(a, d));
      e1 = f64x2.add(e1, f64x2.mul(b, d));
      u0 = f64x2.add(u0, f64x2.mul(a, u));
      u1 = f64x2.add(u1, f64x2.mul(b, u));
    }
    v128.store(out, e0);
    v128.store(out, e1, 16);
    v128.store(out, u0, 32);
    v128.store(out, u1, 48);
  }
}

/**
 * Half of c' Q c for the same groups, Q in panels of `size` of which the upper triangle is read; four a group to `out`.
 * `block`: 128 bytes to work in.
 */
export function halfSquares(
  q: usize,
  size: i32,
  c: usize,
  stride: i32,
  groups: i32,
  block: usize,
  out: usize,
): void {
  const panel = (<usize>size) << 5;
  const run = (<usize>stride) << 5;
  memory.fill(out, 0, (<usize>groups) << 5);
  for (let i = 0; i < size; i += 4, q += panel) {
    const corner = q + ((<usize>i) << 5);
    for (let g = 0, cg = c, total = out; g < groups; g++, cg += run, total += 32) {
      const own = cg + ((<usize>i) << 5);
      for (let p: usize = 0; p < 4; p++) {
        const half = f64x2.splat(load<f64>(corner + 40 * p) / 2);
        v128.store(block + 32 * p, f64x2.mul(half, v128.load(own + 32 * p)));
        v128.store(block + 32 * p, f64x2.mul(half, v128.load(own + 32 * p, 16)), 16);
      }
      addProducts(q, cg, 0, i, block);
      let s = v128.load(total);
      let t = v128.load(total, 16);
      for (let p: usize = 0; p < 4; p++) {
        let a = v128.load(block + 32 * p);
        let b = v128.load(block + 32 * p, 16);
        for (let r: usize = 0; r < p; r++) {
          const f = v128.load64_splat(corner + 32 * r + 8 * p);
          a = f64x2.add(a, f64x2.mul(f, v128.load(own + 32 * r)));
          b = f64x2.add(b, f64x2.mul(f, v128.load(own + 32 * r, 16)));
        }
        s = f64x2.add(s, f64x2.mul(v128.load(own + 32 * p), a));
        t = f64x2.add(t, f64x2.mul(v128.load(own + 32 * p, 16), b));
      }
      v128.store(total, s);
      v128.store(total, t, 16);
    }
  }
}
