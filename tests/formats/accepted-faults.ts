/** Tolerances of the figures in verdicts.json by key: absolute, or a share where marked. */
const ABSOLUTE: Readonly<Record<string, number>> = {
  acres: 0.01,
  fieldAcres: 0.01,
  treatedAcres: 0.01,
  coveredAcres: 0.01,
  firstVertex: 1e-7,
  lastVertex: 1e-7,
  southWest: 1e-7,
  lengthsM: 0.05,
  appliedLb: 0.05,
  targetLb: 0.05,
  values: 0.001,
};
const SHARE: Readonly<Record<string, number>> = { totalLb: 1e-4, P: 1e-3, K: 1e-3 };
/** Names that stand for the same thing. */
const SAME: readonly (readonly string[])[] = [
  ["EPSG:4326", "OGC:CRS84"],
  ["ISO-8859-1", "windows-1252"],
];

/**
 * Where a reading differs from what was accepted; empty when it does not. Keys that the reading has besides do not matter;
 * `headings` need only be among those read.
 */
export function acceptedFaults(wanted: unknown, found: unknown, path: readonly string[] = []): string[] {
  const key = path.findLast((one) => one in ABSOLUTE || one in SHARE) ?? "";
  const fault = () => [
    `${path.join(".")}: ${JSON.stringify(found)} where ${JSON.stringify(wanted)} is wanted`,
  ];
  if (typeof wanted === "number") {
    if (typeof found !== "number") return fault();
    const tolerance = ABSOLUTE[key] ?? Math.abs(wanted) * (SHARE[key] ?? 0);
    return Math.abs(found - wanted) <= tolerance + 1e-12 ? [] : fault();
  }
  if (path.at(-1) === "headings") {
    const missing = (wanted as string[]).filter(
      (heading) => !(found as string[] | undefined)?.includes(heading),
    );
    return missing.length === 0 ? [] : fault();
  }
  if (Array.isArray(wanted)) {
    if (!Array.isArray(found) || found.length !== wanted.length) return fault();
    return wanted.flatMap((one, index) => acceptedFaults(one, found[index], [...path, String(index)]));
  }
  if (typeof wanted === "object" && wanted !== null) {
    if (typeof found !== "object" || found === null) return fault();
    return Object.entries(wanted).flatMap(([name, one]) => {
      return acceptedFaults(one, (found as Record<string, unknown>)[name], [...path, name]);
    });
  }
  const isSame = SAME.some((names) => names.includes(wanted as string) && names.includes(found as string));
  return wanted === found || isSame ? [] : fault();
}
