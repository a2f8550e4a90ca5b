// AssemblyScript: covariances of a nested spherical model. `pieces` holds count times (end, a0, a1, a3): up to `end` the
// covariance at distance h is a0 + h (a1 + a3 h^2), past the last end it is 0.

@inline
function cubic(piece: usize, h: v128, h2: v128): v128 {
  const a1 = v128.load64_splat(piece, 16);
  const a3 = v128.load64_splat(piece, 24);
  const slope = f64x2.add(a1, f64x2.mul(a3, h2));
  return f64x2.add(v128.load64_splat(piece, 8), f64x2.mul(h, slope));
}

/** Covariances at two distances; pieces before `from` are known to end before both. */
@inline
function covariances(from: usize, last: usize, h: v128, h2: v128): v128 {
  let found = f64x2.splat(0);
  for (let piece = last - 32; piece >= from; piece -= 32) {
    const inside = f64x2.lt(h, v128.load64_splat(piece));
    found = v128.bitselect(cubic(piece, h, h2), found, inside);
  }
  return found;
}

/**
 * Covariances of groups of four targets (tu, tv: four each, group by group) with `count` samples (u, v), to
 * c[sample][target], 32 `stride` bytes a group. At distance 0 it is `total`, nugget and all.
 */
export function cubicPoint(
  tu: usize,
  tv: usize,
  groups: i32,
  u: usize,
  v: usize,
  count: i32,
  pieces: usize,
  pieceCount: i32,
  total: f64,
  c: usize,
  stride: i32,
): void {
  const last = pieces + ((<usize>pieceCount) << 5);
  const zero = f64x2.splat(0);
  const whole = f64x2.splat(total);
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
      const least = f64x2.pmin(h0, h1);
      let from = pieces;
      // Past the pieces that end before all four.
      while (from < last) {
        const ended = f64x2.ge(least, v128.load64_splat(from));
        if (!i64x2.all_true(ended)) break;
        from += 32;
      }
      let x = covariances(from, last, h0, p);
      let y = covariances(from, last, h1, q);
      x = v128.bitselect(whole, x, f64x2.eq(p, zero));
      y = v128.bitselect(whole, y, f64x2.eq(q, zero));
      v128.store(c + (k << 2), x);
      v128.store(c + (k << 2), y, 16);
    }
  }
}

/**
 * The same with blocks of 16 points at offsets (du, dv) from each target, of weight w and at most `radius` away.
 * Even and odd points are summed apart.
 */
export function cubicBlock(
  tu: usize,
  tv: usize,
  groups: i32,
  u: usize,
  v: usize,
  count: i32,
  pieces: usize,
  pieceCount: i32,
  du: usize,
  dv: usize,
  w: usize,
  radius: f64,
  c: usize,
  stride: i32,
): void {
  const last = pieces + ((<usize>pieceCount) << 5);
  const reach = pieceCount == 0 ? 0 : load<f64>(last - 32) + radius;
  for (let g = 0; g < groups; g++, tu += 32, tv += 32, c += (<usize>stride) << 5) {
    for (let target: usize = 0; target < 32; target += 8) {
      const targetU = load<f64>(tu + target);
      const targetV = load<f64>(tv + target);
      for (let k: usize = 0, end = (<usize>count) << 3; k < end; k += 8) {
        const a = targetU - load<f64>(u + k);
        const b = targetV - load<f64>(v + k);
        const centre = Math.sqrt(a * a + b * b);
        let mean = 0.0;
        if (centre < reach) {
          let piece = pieces;
          while (piece < last && centre - radius >= load<f64>(piece)) piece += 32;
          const au = f64x2.splat(a);
          const bv = f64x2.splat(b);
          let first = f64x2.splat(0);
          if (piece < last && centre + radius < load<f64>(piece)) {
            let third = f64x2.splat(0);
            for (let i: usize = 0; i < 128; i += 16) {
              const p = f64x2.add(au, v128.load(du + i));
              const q = f64x2.add(bv, v128.load(dv + i));
              const h2 = f64x2.add(f64x2.mul(p, p), f64x2.mul(q, q));
              const h = f64x2.mul(v128.load(w + i), f64x2.sqrt(h2));
              first = f64x2.add(first, h);
              third = f64x2.add(third, f64x2.mul(h, h2));
            }
            const h = f64x2.extract_lane(first, 0) + f64x2.extract_lane(first, 1);
            const h3 = f64x2.extract_lane(third, 0) + f64x2.extract_lane(third, 1);
            mean = load<f64>(piece, 8) + load<f64>(piece, 16) * h + load<f64>(piece, 24) * h3;
          } else {
            for (let i: usize = 0; i < 128; i += 16) {
              const p = f64x2.add(au, v128.load(du + i));
              const q = f64x2.add(bv, v128.load(dv + i));
              const h2 = f64x2.add(f64x2.mul(p, p), f64x2.mul(q, q));
              const found = covariances(piece, last, f64x2.sqrt(h2), h2);
              first = f64x2.add(first, f64x2.mul(v128.load(w + i), found));
            }
            mean = f64x2.extract_lane(first, 0) + f64x2.extract_lane(first, 1);
          }
        }
        store<f64>(c + (k << 2) + target, mean);
      }
    }
  }
}
