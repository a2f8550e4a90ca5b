const words = new Uint32Array(2);
const number = new Float64Array(words.buffer);

const hashOf = (x: number, y: number): number => {
  number[0] = x;
  let hash = Math.imul(words[0]! ^ Math.imul(words[1]!, 0x9e3779b1), 0x85ebca6b);
  number[0] = y;
  hash ^= Math.imul(words[0]! ^ Math.imul(words[1]!, 0xc2b2ae35), 0x27d4eb2f);
  hash ^= hash >>> 15;
  hash = Math.imul(hash, 0x2c1b3c6d);
  return hash ^ (hash >>> 13);
};

/**
 * Numbers distinct points 0, 1, 2 ... in the order they first come. Two points are one only when both numbers are equal
 * to the last bit (0 and -0 count as equal).
 */
export class VertexTable {
  readonly xs: number[] = [];
  readonly ys: number[] = [];
  #slots: Int32Array = new Int32Array(64).fill(-1);

  get size(): number {
    return this.xs.length;
  }

  /** The number of the point, given it now if it is new. */
  idOf(px: number, py: number): number {
    const x = px + 0;
    const y = py + 0;
    const slot = this.#slotOf(x, y);
    const known = this.#slots[slot]!;
    if (known >= 0) return known;
    const id = this.xs.length;
    this.xs.push(x);
    this.ys.push(y);
    this.#slots[slot] = id;
    if (this.xs.length * 2 > this.#slots.length) this.#grow();
    return id;
  }

  /** The number of the point, or -1 when it is not in the table. */
  find(px: number, py: number): number {
    return this.#slots[this.#slotOf(px + 0, py + 0)]!;
  }

  /** Rings of x, y, x, y, ... as the numbers of their points, in order. */
  loopsOf(rings: readonly (readonly number[])[]): number[][] {
    return rings.map((ring) => {
      const loop: number[] = [];
      for (let i = 0; i < ring.length; i += 2) loop.push(this.idOf(ring[i]!, ring[i + 1]!));
      return loop;
    });
  }

  #slotOf(x: number, y: number): number {
    const mask = this.#slots.length - 1;
    let slot = hashOf(x, y) & mask;
    for (;;) {
      const id = this.#slots[slot]!;
      if (id < 0 || (this.xs[id] === x && this.ys[id] === y)) return slot;
      slot = (slot + 1) & mask;
    }
  }

  #grow(): void {
    this.#slots = new Int32Array(this.#slots.length * 4).fill(-1);
    for (let id = 0; id < this.xs.length; id++) this.#slots[this.#slotOf(this.xs[id]!, this.ys[id]!)] = id;
  }
}
