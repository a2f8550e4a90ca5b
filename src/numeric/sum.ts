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

/** Compensated sum in the order given; 0 for nothing. Lists and arrays of numbers are the fast way. */
export const sum = (values: Iterable<number>): number => {
  if (values instanceof Float64Array || Array.isArray(values)) return sumOfList(values);
  const summer = new Summer();
  for (const value of values) summer.add(value);
  return summer.total;
};

/** What `Summer` does, to the bit, without an object. */
function sumOfList(values: Float64Array | readonly number[]): number {
  let total = 0;
  let lost = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    const next = total + value;
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
    total = next;
  }
  return Number.isNaN(total + lost) ? total : total + lost;
}
