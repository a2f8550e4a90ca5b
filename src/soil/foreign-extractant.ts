/** Extractants that no guide here reads, as headings word them (common practice). */
const FOREIGN: readonly (readonly [RegExp, string])[] = [
  [/ (cal|calcium (acetate )?lactate) /, "CAL"],
  [/ (dl|double lactate|doppellaktat) /, "DL"],
  [/ (p al|k al|ammonium lactate) /, "AL"],
  [/ modified morgan /, "modified Morgan"],
  [/ morgan /, "Morgan"],
  [/ (mehlich ?(1|i)|m1) /, "Mehlich-1"],
  [/ (mehlich ?(2|ii)|m2) /, "Mehlich-2"],
  [/ (bray ?p? ?2|strong bray) /, "Bray P2"],
  [/ cacl2 /, "CaCl2"],
  [/ kelowna /, "Kelowna"],
  [/ colwell /, "Colwell"],
  [/ h3a /, "H3A"],
];

/** The extractant that words name and no guide here reads; null without one. */
export function foreignExtractant(words: string): string | null {
  const plain = ` ${words
    .toLowerCase()
    // Of `mg/dL` the litre is a unit.
    .replaceAll(/\/ ?dl\b/g, " ")
    .split(/[^a-z0-9]+/)
    .join(" ")} `;
  return FOREIGN.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}
