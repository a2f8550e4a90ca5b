import { type Prescription, readBackFaults } from "../../prescription/index.ts";
import type { CheckedField } from "../results/result-types.ts";

/**
 * Re-read a map's files with code that did not write them, before anything is published. A file that does not
 * say what was meant is our bug: the run ends with all that was found.
 */
export async function readBack(
  checked: CheckedField,
  map: Prescription,
  pause?: () => Promise<void>,
): Promise<true> {
  const faults = await readBackFaults(map, checked, pause);
  if (faults.length === 0) return true;
  const found = faults.map((fault) => `${fault.file}: ${fault.what}`).join("\n");
  throw new Error(`field ${map.field}, ${map.pass} ${map.product}: read back differently\n${found}`);
}
