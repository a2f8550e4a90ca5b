/** Numbers directed edges, given by the numbers of their ends, 0, 1, 2 ... in the order they first come. */
export class EdgeTable {
  readonly froms: number[] = [];
  readonly tos: number[] = [];
  #slots: Int32Array = new Int32Array(256).fill(-1);

  get size(): number {
    return this.froms.length;
  }

  /** The number of the edge, or -1 when it is not in the table. */
  find(from: number, to: number): number {
    return this.#slots[this.#slotOf(from, to)]!;
  }

  /** Puts the edge in; false when it was there already. */
  add(from: number, to: number): boolean {
    const slot = this.#slotOf(from, to);
    if (this.#slots[slot]! >= 0) return false;
    this.#slots[slot] = this.froms.length;
    this.froms.push(from);
    this.tos.push(to);
    if (this.froms.length * 2 > this.#slots.length) this.#grow();
    return true;
  }

  #slotOf(from: number, to: number): number {
    const mask = this.#slots.length - 1;
    let hash = Math.imul(from, 0x9e3779b1) ^ Math.imul(to, 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
    let slot = (hash ^ (hash >>> 13)) & mask;
    for (;;) {
      const edge = this.#slots[slot]!;
      if (edge < 0 || (this.froms[edge] === from && this.tos[edge] === to)) return slot;
      slot = (slot + 1) & mask;
    }
  }

  #grow(): void {
    this.#slots = new Int32Array(this.#slots.length * 4).fill(-1);
    for (let edge = 0; edge < this.froms.length; edge++) {
      this.#slots[this.#slotOf(this.froms[edge]!, this.tos[edge]!)] = edge;
    }
  }
}
