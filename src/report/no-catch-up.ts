/**
 * Why there is no catch-up of a field yet: logs of its strip pass are missing, or the pass is not finished; with the planned
 * maps that it does not take the place of before.
 */
export function noCatchUpInWords(areLogsMissing: boolean, voids: readonly string[]): string {
  const until = areLogsMissing ? "all of the field's logs are given" : "the strip pass is finished";
  const yet = voids.length === 0 ? "" : `; nothing takes the place of ${voids.join(", ")} yet`;
  return `No catch-up before ${until}${yet}.`;
}
