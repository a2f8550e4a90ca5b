/** A unit that a column of a table can be in, as headings and cells of units state it. */
export type LabUnit = "ppm" | "mg/L" | "mg/100g" | "lb/ac" | "meq/100g" | "mmol/kg" | "%" | "in" | "cm";

/** The unit a heading or a cell of units states. `pp2m` is pounds in two million: lb/ac. */
export function unitOf(words: string): LabUnit | null {
  const text = words.toLowerCase();
  if (/(^|[^a-z])mg[a-z0-9 ]*(\/|_|per) ?100 ?g/.test(text)) return "mg/100g";
  if (/ppm|mg ?\/ ?kg|mg_kg/.test(text)) return "ppm";
  if (/mg ?\/ ?l\b/.test(text)) return "mg/L";
  if (/(lbs?|#)[ _]?\/[ _]?(ac?|acre)\b|lbs?_?ac\b|pp2m/.test(text)) return "lb/ac";
  const ofCharge = chargeUnitOf(text);
  if (ofCharge === "meq/100g" || ofCharge === "mmol/kg") return ofCharge;
  if (/%|\bpct\b|_pct\b|\bpercent\b/.test(text)) return "%";
  if (/(^|[^a-z])(in|inch|inches)([^a-z]|$)/.test(text)) return "in";
  return /(^|[^a-z])cm([^a-z]|$)/.test(text) ? "cm" : null;
}

/**
 * The unit of charge in a weight of soil that words state, under all its names (common practice): `meq/100g` (cmol/kg,
 * me/100 g), `mmol/kg` (meq/kg); `another` for one that is neither, null where they state none.
 */
export function chargeUnitOf(words: string): "meq/100g" | "mmol/kg" | "another" | null {
  const text = words.toLowerCase();
  if (/(m(mol|eq|val)|\bme\b).*100 ?(g|cc|ml)/.test(text)) return "meq/100g";
  if (/(m(mol|eq|val)|\bme\b).*kg/.test(text)) return "mmol/kg";
  if (/(mol|meq)[^k]*\/ ?(l\b|dm)/.test(text)) return "another";
  if (/meq|cmol|me ?\/ ?100/.test(text)) return "meq/100g";
  return /mol|mval/.test(text) ? "another" : null;
}

/** What units of soil tests are written with, beside signs (common practice). */
const PARTS: ReadonlySet<string> = new Set([
  ...["ppm", "ug", "mg", "g", "gm", "gms", "gram", "grams", "kg", "lb", "lbs", "t", "a", "ac", "acre", "ha"],
  ...["l", "ml", "cc", "cm", "dm", "m", "me", "meq", "meqs", "mval", "eq", "mol", "molc", "mmol", "mmolc"],
  ...["cmol", "cmolc", "c", "p", "per", "soil", "pct", "percent", "100", "1", "3"],
]);

/** Whether a cell holds nothing but a unit of soil tests, one that `unitOf` or `chargeUnitOf` knows; a length alone is none. */
export function isTestUnit(cell: string): boolean {
  const text = cell.toLowerCase().trim();
  const unit = unitOf(text) ?? chargeUnitOf(text);
  if (unit === null || unit === "in" || unit === "cm" || /^\d/.test(text)) return false;
  return (text.match(/[a-z]+|\d+/g) ?? []).every((part) => PARTS.has(part));
}
