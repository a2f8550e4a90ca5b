// Seeded changes to bytes: flips, cuts, repeats, lies about lengths, odd numbers and words.

/** A generator of numbers from 0 to 1 (mulberry32, public domain, T. Ettinger). */
export function randomOf(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const LIES = [0, 1, 0x7fffffff, 0xffffffff, 0x80000000, 0x7ffffffe, 0xffff, 0x10000, 1000000007];
const DOUBLES = [Number.NaN, Number.POSITIVE_INFINITY, -1e308, 1e308, 5e-324, -0, 1e15];
const WORDS = [
  ...["1e999", "-1e308", "NaN", "null", "999999999999999999999", "0x10", "<", ">", "&#x110000;", "&amp", "<!DOCTYPE x>"],
  ...['"', "\r", "\u0000", "[".repeat(120), "<a>".repeat(120), "{", "}", "]]>", ",", ";", "\t", "1,020", "<5", "ND", "=1+1"],
  ...["-99", "180.0001", "EPSG:99999", "crs", "GRD00001", "65535", "4294967295", "-1", "ÿ", "é"],
];

/** The bytes after one to four changes. `other` is material of another file of the kind. */
export function mutated(bytes, random, other) {
  let changed = Uint8Array.from(bytes);
  const count = random() < 0.6 ? 1 : 2 + Math.floor(random() * 3);
  for (let i = 0; i < count; i++) changed = change(changed, random, other);
  return changed;
}

function change(bytes, random, other) {
  const at = Math.floor(random() * (bytes.length + 1));
  const end = Math.min(bytes.length, at + 1 + Math.floor(random() * random() * 400));
  const view = new DataView(bytes.buffer);
  switch (Math.floor(random() * 13)) {
    case 0:
      if (at < bytes.length) bytes[at] ^= 1 << Math.floor(random() * 8);
      return bytes;
    case 1:
      if (at < bytes.length) bytes[at] = Math.floor(random() * 256);
      return bytes;
    case 2:
      return bytes.slice(0, at);
    case 3:
      return joined(bytes.subarray(0, at), bytes.subarray(end));
    case 4:
      return joined(bytes.subarray(0, end), bytes.subarray(at));
    case 5: {
      if (at + 4 > bytes.length) return bytes;
      const lie = LIES[Math.floor(random() * LIES.length)];
      view.setUint32(at, lie, random() < 0.5);
      return bytes;
    }
    case 6:
      if (at + 8 <= bytes.length) view.setFloat64(at, DOUBLES[Math.floor(random() * DOUBLES.length)], true);
      return bytes;
    case 7: {
      const word = new TextEncoder().encode(WORDS[Math.floor(random() * WORDS.length)]);
      return joined(bytes.subarray(0, at), word, bytes.subarray(random() < 0.5 ? at : end));
    }
    case 8:
    case 9:
    case 10: {
      // A number somewhere becomes another: the figures of texts are hit more often so.
      const digits = [...bytes.keys()].filter((i) => bytes[i] >= 48 && bytes[i] <= 57);
      if (digits.length > 0) bytes[digits[Math.floor(random() * digits.length)]] = 45 + Math.floor(random() * 13);
      return bytes;
    }
    default: {
      const from = Math.floor(random() * other.length);
      return joined(bytes.subarray(0, at), other.subarray(from, from + 200), bytes.subarray(end));
    }
  }
}

function joined(...pieces) {
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
