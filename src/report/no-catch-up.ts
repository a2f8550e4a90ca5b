import type { WaitsFor } from "../plan/index.ts";

const UNTIL: Readonly<Record<WaitsFor, string>> = {
  logs: "all of the field's logs are given",
  pounds: "its logs and the ledger have the same pounds",
  pass: "the strip pass is finished",
};

/** Why there is no catch-up of a field yet, with the planned maps that it does not take the place of before. */
export function noCatchUpInWords(until: WaitsFor, voids: readonly string[]): string {
  const yet = voids.length === 0 ? "" : `; nothing takes the place of ${voids.join(", ")} yet`;
  return `No catch-up before ${UNTIL[until]}${yet}.`;
}
