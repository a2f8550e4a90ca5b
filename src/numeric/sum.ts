/**
 * A running sum that keeps the digits a plain `+=` drops: Neumaier's variant of compensated summation
 * (A. Neumaier 1974, ZAMM 54:39-51; from memory). The error stays near one rounding of the result
 * however many terms there are, unless the terms cancel almost wholly.
 */
export class Summer {
  #sum = 0;
  #lost = 0;

  add(value: number): void {
    const next = this.#sum + value;
    this.#lost +=
      Math.abs(this.#sum) >= Math.abs(value) ? this.#sum - next + value : value - next + this.#sum;
    this.#sum = next;
  }

  get total(): number {
    // An infinite or absent term leaves NaN in the lost part; the plain sum then says what happened.
    const total = this.#sum + this.#lost;
    return Number.isNaN(total) ? this.#sum : total;
  }
}

/** Compensated sum in the order given; 0 for nothing. */
export const sum = (values: Iterable<number>): number => {
  const summer = new Summer();
  for (const value of values) summer.add(value);
  return summer.total;
};
