// AssemblyScript: covariances from a table of polynomials of the distance, laid out as covariance-table.ts says.

const PIECE: usize = 14 * 8;
const LAST: usize = 13 * 8;

/** Which quarter of an octave a distance lies in. */
@inline
function quarterOf(h: f64): i32 {
  return <i32>(reinterpret<u64>(h) >> 50);
}

/** At one distance above 0; NaN where the piece is not filled. */
@inline
function one(table: usize, first: i32, pieces: i32, near: f64, h: f64): f64 {
  const piece = quarterOf(h) - first;
  if (piece < 0) return near;
  if (piece >= pieces) return 0;
  const at = table + <usize>piece * PIECE;
  const t = (h - load<f64>(at)) * load<f64>(at, 8);
  let p = load<f64>(at + LAST);
  for (let k = at + LAST - 8; k > at + 8; k -= 8) p = p * t + load<f64>(k);
  return p;
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
      if (piece >= 0 && piece < pieces && i64x2.all_true(v128.and(i64x2.eq(q0, q2), i64x2.eq(q1, q2)))) {
        const at = table + <usize>piece * PIECE;
        const middle = v128.load64_splat(at);
        const per = v128.load64_splat(at, 8);
        const t0 = f64x2.mul(f64x2.sub(h0, middle), per);
        const t1 = f64x2.mul(f64x2.sub(h1, middle), per);
        x = v128.load64_splat(at, LAST);
        y = x;
        for (let k = at + LAST - 8; k > at + 8; k -= 8) {
          const f = v128.load64_splat(k);
          x = f64x2.add(f64x2.mul(x, t0), f);
          y = f64x2.add(f64x2.mul(y, t1), f);
        }
      } else {
        x = f64x2(0, 0);
        x = f64x2.replace_lane(x, 0, one(table, first, pieces, near, f64x2.extract_lane(h0, 0)));
        x = f64x2.replace_lane(x, 1, one(table, first, pieces, near, f64x2.extract_lane(h0, 1)));
        y = x;
        y = f64x2.replace_lane(y, 0, one(table, first, pieces, near, f64x2.extract_lane(h1, 0)));
        y = f64x2.replace_lane(y, 1, one(table, first, pieces, near, f64x2.extract_lane(h1, 1)));
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
          const middle = v128.load64_splat(at);
          const per = v128.load64_splat(at, 8);
          for (let i: usize = 0; i < 128; i += 32) {
            const p0 = f64x2.add(au, v128.load(du + i));
            const q0 = f64x2.add(bv, v128.load(dv + i));
            const p1 = f64x2.add(au, v128.load(du + i, 16));
            const q1 = f64x2.add(bv, v128.load(dv + i, 16));
            const h0 = f64x2.sqrt(f64x2.add(f64x2.mul(p0, p0), f64x2.mul(q0, q0)));
            const h1 = f64x2.sqrt(f64x2.add(f64x2.mul(p1, p1), f64x2.mul(q1, q1)));
            const t0 = f64x2.mul(f64x2.sub(h0, middle), per);
            const t1 = f64x2.mul(f64x2.sub(h1, middle), per);
            let x = v128.load64_splat(at, LAST);
            let y = x;
            for (let k = at + LAST - 8; k > at + 8; k -= 8) {
              const f = v128.load64_splat(k);
              x = f64x2.add(f64x2.mul(x, t0), f);
              y = f64x2.add(f64x2.mul(y, t1), f);
            }
            mean = f64x2.add(mean, f64x2.mul(v128.load(w + i), x));
            mean = f64x2.add(mean, f64x2.mul(v128.load(w + i, 16), y));
          }
        } else {
          for (let i: usize = 0; i < 128; i += 16) {
            const p = f64x2.add(au, v128.load(du + i));
            const q = f64x2.add(bv, v128.load(dv + i));
            const h = f64x2.sqrt(f64x2.add(f64x2.mul(p, p), f64x2.mul(q, q)));
            let x = f64x2.splat(one(table, first, pieces, near, f64x2.extract_lane(h, 0)));
            x = f64x2.replace_lane(x, 1, one(table, first, pieces, near, f64x2.extract_lane(h, 1)));
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
