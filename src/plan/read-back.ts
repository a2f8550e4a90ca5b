import type { Prescription } from "../prescription/index.ts";
import { readBackFaults } from "../prescription/index.ts";
import type { CheckedField } from "./result-types.ts";

/**
 * Re-read every prescription file with code that did not write it, before anything is published. A file that
 * does not say what was meant is our bug: the run ends with all that was found.
 */
export async function readBack(checked: CheckedField, maps: readonly Prescription[]): Promise<true> {
  for (const map of maps) {
    const faults = await readBackFaults(map, checked);
    if (faults.length > 0) {
      const found = faults.map((fault) => `${fault.file}: ${fault.what}`).join("\n");
      throw new Error(`field ${map.field}, ${map.pass} ${map.product}: read back differently\n${found}`);
    }
  }
  return true;
}
