// AssemblyScript: covariances from a table of polynomials of the distance, laid out as covariance-table.ts says.

const PIECE: usize = 14 * 8;

/** Which quarter of an octave a distance lies in. */
@inline
function quarterOf(h: f64): i32 {
  return <i32>(reinterpret<u64>(h) >> 50);
}

/** The polynomial of a piece at t, by halves, quarters and eighths: its parts do not wait for each other. */
@inline
function polynomial(piece: usize, t: f64): f64 {
  const t2 = t * t;
  const t4 = t2 * t2;
  const low = load<f64>(piece, 16) + load<f64>(piece, 24) * t + (load<f64>(piece, 32) + load<f64>(piece, 40) * t) * t2;
  const middle = load<f64>(piece, 48) + load<f64>(piece, 56) * t + (load<f64>(piece, 64) + load<f64>(piece, 72) * t) * t2;
  const high = load<f64>(piece, 80) + load<f64>(piece, 88) * t + (load<f64>(piece, 96) + load<f64>(piece, 104) * t) * t2;
  return low + middle * t4 + high * (t4 * t4);
}

/** Two coefficients of one piece and of another. */
@inline
function pair(first: usize, second: usize): v128 {
  return f64x2.replace_lane(v128.load64_splat(first), 1, load<f64>(second));
}

/** Coefficients k and k + 1, combined at two t: one of piece `a`, one of piece `b`. */
@inline
function linear(a: usize, b: usize, t: v128): v128 {
  return f64x2.add(pair(a, b), f64x2.mul(pair(a + 8, b + 8), t));
}

/** At two distances, each in a filled piece of its own. */
@inline
function two(a: usize, b: usize, h: v128): v128 {
  const t = f64x2.mul(f64x2.sub(h, pair(a, b)), pair(a + 8, b + 8));
  const t2 = f64x2.mul(t, t);
  const t4 = f64x2.mul(t2, t2);
  const low = f64x2.add(linear(a + 16, b + 16, t), f64x2.mul(linear(a + 32, b + 32, t), t2));
  const middle = f64x2.add(linear(a + 48, b + 48, t), f64x2.mul(linear(a + 64, b + 64, t), t2));
  const high = f64x2.add(linear(a + 80, b + 80, t), f64x2.mul(linear(a + 96, b + 96, t), t2));
  return f64x2.add(f64x2.add(low, f64x2.mul(middle, t4)), f64x2.mul(high, f64x2.mul(t4, t4)));
}

@inline
function line(piece: usize, t: v128): v128 {
  return f64x2.add(v128.load64_splat(piece), f64x2.mul(v128.load64_splat(piece, 8), t));
}

/** At two distances in one filled piece. */
@inline
function both(piece: usize, h: v128): v128 {
  const t = f64x2.mul(f64x2.sub(h, v128.load64_splat(piece)), v128.load64_splat(piece, 8));
  const t2 = f64x2.mul(t, t);
  const t4 = f64x2.mul(t2, t2);
  const low = f64x2.add(line(piece + 16, t), f64x2.mul(line(piece + 32, t), t2));
  const middle = f64x2.add(line(piece + 48, t), f64x2.mul(line(piece + 64, t), t2));
  const high = f64x2.add(line(piece + 80, t), f64x2.mul(line(piece + 96, t), t2));
  return f64x2.add(f64x2.add(low, f64x2.mul(middle, t4)), f64x2.mul(high, f64x2.mul(t4, t4)));
}

/** At one distance above 0; NaN where the piece is not filled. */
@inline
function one(table: usize, first: i32, pieces: i32, near: f64, h: f64): f64 {
  const piece = quarterOf(h) - first;
  if (piece < 0) return near;
  if (piece >= pieces) return 0;
  const at = table + <usize>piece * PIECE;
  return polynomial(at, (h - load<f64>(at)) * load<f64>(at, 8));
}

/** At any two distances above 0. */
@inline
function any(table: usize, first: i32, pieces: i32, near: f64, h: v128): v128 {
  const p = quarterOf(f64x2.extract_lane(h, 0)) - first;
  const q = quarterOf(f64x2.extract_lane(h, 1)) - first;
  if (<u32>p < <u32>pieces && <u32>q < <u32>pieces) {
    return two(table + <usize>p * PIECE, table + <usize>q * PIECE, h);
  }
  const x = f64x2.splat(one(table, first, pieces, near, f64x2.extract_lane(h, 0)));
  return f64x2.replace_lane(x, 1, one(table, first, pieces, near, f64x2.extract_lane(h, 1)));
}

/**
 * Like cubicPoint. 0 when it met a piece that is not filled; what it wrote is then worth nothing.
 */
export function tablePoint(
  tu: usize,
  tv: usize,
  groups: i32,
  u: usize,
  v: usize,
  count: i32,
  table: usize,
  first: i32,
  pieces: i32,
  near: f64,
  total: f64,
  c: usize,
  stride: i32,
): i32 {
  const zero = f64x2.splat(0);
  const whole = f64x2.splat(total);
  let known = i64x2.splat(-1);
  for (let g = 0; g < groups; g++, tu += 32, tv += 32, c += (<usize>stride) << 5) {
    const u0 = v128.load(tu);
    const u1 = v128.load(tu, 16);
    const v0 = v128.load(tv);
    const v1 = v128.load(tv, 16);
    for (let k: usize = 0, end = (<usize>count) << 3; k < end; k += 8) {
      const su = v128.load64_splat(u + k);
      const sv = v128.load64_splat(v + k);
      const a0 = f64x2.sub(u0, su);
      const a1 = f64x2.sub(u1, su);
      const b0 = f64x2.sub(v0, sv);
      const b1 = f64x2.sub(v1, sv);
      const p = f64x2.add(f64x2.mul(a0, a0), f64x2.mul(b0, b0));
      const q = f64x2.add(f64x2.mul(a1, a1), f64x2.mul(b1, b1));
      const h0 = f64x2.sqrt(p);
      const h1 = f64x2.sqrt(q);
      const piece = quarterOf(f64x2.extract_lane(h0, 0)) - first;
      const q0 = i64x2.shr_u(h0, 50);
      const q1 = i64x2.shr_u(h1, 50);
      const q2 = i64x2.splat(<i64>(piece + first));
      let x: v128;
      let y: v128;
      if (piece >= 0 && piece < pieces && !v128.any_true(v128.or(v128.xor(q0, q2), v128.xor(q1, q2)))) {
        const at = table + <usize>piece * PIECE;
        const middle = v128.load64_splat(at);
        const per = v128.load64_splat(at, 8);
        const t = f64x2.mul(f64x2.sub(h0, middle), per);
        const r = f64x2.mul(f64x2.sub(h1, middle), per);
        const t2 = f64x2.mul(t, t);
        const r2 = f64x2.mul(r, r);
        let f = v128.load64_splat(at, 16);
        let g = v128.load64_splat(at, 24);
        x = f64x2.add(f, f64x2.mul(g, t));
        y = f64x2.add(f, f64x2.mul(g, r));
        f = v128.load64_splat(at, 32);
        g = v128.load64_splat(at, 40);
        x = f64x2.add(x, f64x2.mul(f64x2.add(f, f64x2.mul(g, t)), t2));
        y = f64x2.add(y, f64x2.mul(f64x2.add(f, f64x2.mul(g, r)), r2));
        const t4 = f64x2.mul(t2, t2);
        const r4 = f64x2.mul(r2, r2);
        f = v128.load64_splat(at, 48);
        g = v128.load64_splat(at, 56);
        let a = f64x2.add(f, f64x2.mul(g, t));
        let b = f64x2.add(f, f64x2.mul(g, r));
        f = v128.load64_splat(at, 64);
        g = v128.load64_splat(at, 72);
        a = f64x2.add(a, f64x2.mul(f64x2.add(f, f64x2.mul(g, t)), t2));
        b = f64x2.add(b, f64x2.mul(f64x2.add(f, f64x2.mul(g, r)), r2));
        x = f64x2.add(x, f64x2.mul(a, t4));
        y = f64x2.add(y, f64x2.mul(b, r4));
        f = v128.load64_splat(at, 80);
        g = v128.load64_splat(at, 88);
        a = f64x2.add(f, f64x2.mul(g, t));
        b = f64x2.add(f, f64x2.mul(g, r));
        f = v128.load64_splat(at, 96);
        g = v128.load64_splat(at, 104);
        a = f64x2.add(a, f64x2.mul(f64x2.add(f, f64x2.mul(g, t)), t2));
        b = f64x2.add(b, f64x2.mul(f64x2.add(f, f64x2.mul(g, r)), r2));
        x = f64x2.add(x, f64x2.mul(a, f64x2.mul(t4, t4)));
        y = f64x2.add(y, f64x2.mul(b, f64x2.mul(r4, r4)));
      } else {
        x = any(table, first, pieces, near, h0);
        y = any(table, first, pieces, near, h1);
      }
      known = v128.and(known, v128.and(f64x2.eq(x, x), f64x2.eq(y, y)));
      x = v128.bitselect(whole, x, f64x2.eq(p, zero));
      y = v128.bitselect(whole, y, f64x2.eq(q, zero));
      v128.store(c + (k << 2), x);
      v128.store(c + (k << 2), y, 16);
    }
  }
  return <i32>i64x2.all_true(known);
}

/** Like cubicBlock, and like tablePoint in what it returns. */
export function tableBlock(
  tu: usize,
  tv: usize,
  groups: i32,
  u: usize,
  v: usize,
  count: i32,
  table: usize,
  first: i32,
  pieces: i32,
  near: f64,
  du: usize,
  dv: usize,
  w: usize,
  radius: f64,
  c: usize,
  stride: i32,
): i32 {
  let known = true;
  for (let g = 0; g < groups; g++, tu += 32, tv += 32, c += (<usize>stride) << 5) {
    for (let target: usize = 0; target < 32; target += 8) {
      const targetU = load<f64>(tu + target);
      const targetV = load<f64>(tv + target);
      for (let k: usize = 0, end = (<usize>count) << 3; k < end; k += 8) {
        const a = targetU - load<f64>(u + k);
        const b = targetV - load<f64>(v + k);
        const au = f64x2.splat(a);
        const bv = f64x2.splat(b);
        const centre = Math.sqrt(a * a + b * b);
        // A little more than the radius, so that rounding puts no point into another piece unseen.
        const margin = radius + 1e-9 * centre;
        const piece = quarterOf(centre) - first;
        let mean = f64x2.splat(0);
        if (
          piece >= 0 &&
          piece < pieces &&
          centre > margin &&
          quarterOf(centre - margin) - first == piece &&
          quarterOf(centre + margin) - first == piece
        ) {
          const at = table + <usize>piece * PIECE;
          for (let i: usize = 0; i < 128; i += 32) {
            const p0 = f64x2.add(au, v128.load(du + i));
            const q0 = f64x2.add(bv, v128.load(dv + i));
            const p1 = f64x2.add(au, v128.load(du + i, 16));
            const q1 = f64x2.add(bv, v128.load(dv + i, 16));
            const h0 = f64x2.sqrt(f64x2.add(f64x2.mul(p0, p0), f64x2.mul(q0, q0)));
            const h1 = f64x2.sqrt(f64x2.add(f64x2.mul(p1, p1), f64x2.mul(q1, q1)));
            const x = both(at, h0);
            const y = both(at, h1);
            mean = f64x2.add(mean, f64x2.mul(v128.load(w + i), x));
            mean = f64x2.add(mean, f64x2.mul(v128.load(w + i, 16), y));
          }
        } else {
          for (let i: usize = 0; i < 128; i += 16) {
            const p = f64x2.add(au, v128.load(du + i));
            const q = f64x2.add(bv, v128.load(dv + i));
            const h = f64x2.sqrt(f64x2.add(f64x2.mul(p, p), f64x2.mul(q, q)));
            const x = any(table, first, pieces, near, h);
            mean = f64x2.add(mean, f64x2.mul(v128.load(w + i), x));
          }
        }
        const found = f64x2.extract_lane(mean, 0) + f64x2.extract_lane(mean, 1);
        known = known && found == found;
        store<f64>(c + (k << 2) + target, found);
      }
    }
  }
  return known ? 1 : 0;
}
