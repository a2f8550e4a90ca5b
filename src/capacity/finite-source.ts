import { requireNumber } from "./require-number.ts";

/** What the closed form of one server and a few customers says. */
export interface FiniteSource {
  /** Chance that the one server stands idle. */
  readonly idleChance: number;
  readonly utilization: number;
  /** Services an hour. */
  readonly servicesPerHour: number;
}

/**
 * One server and n customers that come back after a random time: finite-source (machine-repair) queue with
 * exponential times; formulas in An Introduction to Management Science, ch. 11. For tenders the rig is the server,
 * a service is all loads of one tender, hours; think is what is left of the trip. `thinkHours` 0: never idle.
 */
export function finiteSource(customers: number, serviceHours: number, thinkHours: number): FiniteSource {
  requireNumber("customers", customers, { atLeast: 1 });
  requireNumber("serviceHours", serviceHours, { above: 0 });
  requireNumber("thinkHours", thinkHours);
  let term = 1;
  let total = 1;
  for (let k = 1; k <= customers; k++) {
    term *= ((customers - k + 1) * serviceHours) / thinkHours;
    total += term;
  }
  const idleChance = 1 / total;
  return { idleChance, utilization: 1 - idleChance, servicesPerHour: (1 - idleChance) / serviceHours };
}
