import { writeCsv } from "../formats/index.ts";
import { sum } from "../numeric/index.ts";
import {
  coatedInOrderWords,
  coatOfMap,
  type FieldResult,
  guideMarks,
  guidesInUse,
  type RunResult,
} from "../plan/index.ts";
import { tons } from "../units/index.ts";

/**
 * What to order: a row a field, pass and product, then rows a product for the farm, with the acres that the pass goes
 * over and, of both passes, the farm's. Rounded to a tenth of a
 * pound and to a thousandth of a ton; every farm row says when fields are missing from it, every row when a guide behind
 * it is unconfirmed or superseded, when no guide was read, when samples are older than the plan's limit, what of it
 * is to be coated, and what of it lies in finished passes.
 */
export function orderCsv(result: RunResult): Uint8Array {
  const headings = ["product", "pass", "field", "areaAc", "lb", "tons", "note"];
  const rows: (string | number)[][] = [];
  for (const one of result.fields) {
    const { field, prescriptions } = one;
    const fieldNote = noteOf([one]);
    for (const map of prescriptions) {
      const { product, pass, areaAc, totalLb } = map;
      const own = one.finished.some((done) => done.pass === pass) ? [FINISHED, fieldNote] : [fieldNote];
      const coat = coatOfMap(result.plan, map);
      rows.push([
        product,
        pass,
        field.id,
        areaAc.toFixed(2),
        totalLb.toFixed(1),
        tons(totalLb).toFixed(3),
        joined([coat === "" ? "" : `coated: ${coat}`, ...own]),
      ]);
    }
  }
  const incomplete = result.incomplete === "" ? "" : `incomplete: ${result.incomplete}`;
  const note = noteOf(result.fields);
  for (const total of result.totals) {
    const { product, pass, lb } = total;
    const maps = result.fields
      .flatMap((field) => field.prescriptions)
      .filter((map) => map.product === product && map.pass === pass);
    const finishedLb = sum(
      result.fields.flatMap(({ prescriptions, finished }) =>
        prescriptions
          .filter((map) => map.product === product && (pass === "all" || map.pass === pass))
          .filter((map) => finished.some((done) => done.pass === map.pass))
          .map((map) => map.totalLb),
      ),
    );
    const inFinished =
      finishedLb > 0
        ? `${finishedLb.toFixed(1)} lb of it in finished passes, which have no file any more`
        : "";
    const coated =
      pass === "broadcast" ? [] : coatedInOrderWords(result.plan, result.fields.map(mapsOf(product)));
    const acres = pass === "all" ? result.acres : sum(maps.map((map) => map.areaAc));
    rows.push([
      product,
      pass,
      "whole farm",
      acres.toFixed(2),
      lb.toFixed(1),
      tons(lb).toFixed(3),
      joined([incomplete, ...coated, inFinished, note]),
    ]);
  }
  return writeCsv(headings, rows);
}

/** A field's maps of one product. */
const mapsOf =
  (product: string) =>
  ({ prescriptions }: FieldResult): Pick<FieldResult, "prescriptions"> => ({
    prescriptions: prescriptions.filter((map) => map.product === product),
  });

const FINISHED = "pass finished by the ledger: no file, nothing of it to order";

const joined = (parts: readonly string[]): string => parts.filter((part) => part !== "").join("; ");

function noteOf(fields: readonly FieldResult[]): string {
  const guides = guidesInUse(fields).flatMap((guide) => {
    const marks = guideMarks(guide);
    return marks === "" ? [] : [`guide ${guide.id}: ${marks}`];
  });
  const has = (code: string) => fields.some((field) => field.notices.some((notice) => notice.code === code));
  return joined([
    ...guides,
    has("guide-bypassed") ? "no guide read: typed or adviser's own rates" : "",
    has("sampling-old") ? "samples older than the limit" : "",
  ]);
}
