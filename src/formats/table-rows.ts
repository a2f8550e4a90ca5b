import type { CsvRecord } from "./csv-records.ts";
import { readNumber } from "./read-number.ts";
import { isTestUnit } from "./unit-words.ts";

const LOOKED_AT = 40;
/** Words a row of units consists of, beside the units of soil tests (common practice); the first group alone tells such a row. */
const PLAIN_UNITS =
  /^(g ?\/ ?kg|(lbs?|#|kg|t) ?\/ ?(ac?|acre|ha)|deg(rees?)?|mmho ?\/ ?cm|ds ?\/ ?m|pp2m|[mu]g ?\/ ?(g|dm3?)|mg kg-1)$/i;
const isPlain = (text: string): boolean => PLAIN_UNITS.test(text) || isTestUnit(text);
const OF_ANGLES =
  /^(dd|ddm|dmm|dms|d+\.d+|wgs ?-?84|epsg:? ?4326|(decimal )?deg(rees?)?( ?(decimal|dec))?|deg(rees?)?[ ,/-]*(decimal )?min(utes?)?([ ,/-]*sec(onds?)?)?|min(utes?)?|sec(onds?)?)$/i;
const OTHER_UNITS = /^(in(ch(es)?)?|cm|ft|feet|m|mph|km\/h|ac(res)?|ha|s|units?|none|-)$/i;

/**
 * Which record holds the headings: the first one without a number and with as many texts as most rows have, else with
 * nearly as many. Undefined when there is none.
 */
export function headingRow(records: readonly CsvRecord[]): number | undefined {
  const counts = new Map<number, number>();
  for (const { cells } of records.slice(0, LOOKED_AT)) {
    const filled = cells.filter((cell) => cell.trim() !== "").length;
    if (filled > 0) counts.set(filled, (counts.get(filled) ?? 0) + 1);
  }
  const usual = [...counts].reduce((best, next) => (next[1] > best[1] ? next : best), [1, 0])[0];
  const isHeading = ({ cells }: CsvRecord, least: number): boolean => {
    const texts = cells.filter((cell) => cell.trim() !== "");
    return texts.length >= least && texts.every((text) => readNumber(text.replace(",", ".")) === null);
  };
  const looked = records.slice(0, LOOKED_AT);
  const full = looked.findIndex((record) => isHeading(record, usual));
  const least = Math.max(Math.min(2, usual), Math.ceil(0.6 * usual));
  const found = full < 0 ? looked.findIndex((record) => isHeading(record, least)) : full;
  return found < 0 ? undefined : found;
}

/** Whether a row holds nothing but units and blanks, at least one of them plainly a unit. */
export function isUnitsRow(cells: readonly string[]): boolean {
  const texts = cells.map((cell) => cell.trim()).filter((text) => text !== "");
  return (
    texts.some(isPlain) &&
    texts.every((text) => isPlain(text) || OTHER_UNITS.test(text) || OF_ANGLES.test(text))
  );
}
