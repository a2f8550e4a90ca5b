import { InputError, type Notice } from "../../errors/index.ts";
import { isNear, type SampleRecord, type SoilSample, TESTS } from "../../soil/index.ts";
import { counted } from "../../units/index.ts";
import type { TestName } from "../document/document-need-types.ts";

/** A sample with the table it stands in; a test that is not read from that table is null. */
export interface SampleOfTable {
  readonly path: string;
  readonly sample: SoilSample;
  readonly record: SampleRecord;
}

/**
 * Samples of several tables that are used together: one that stands in two of them, a part of a table and the whole, counts
 * once, in the order given, and that is told. Throws `sample-in-two-tables` where the two have other values.
 */
export function samplesOnce(
  field: { readonly id: string; readonly name: string },
  all: readonly SampleOfTable[],
): { readonly kept: readonly SampleOfTable[]; readonly notices: readonly Notice[] } {
  if (new Set(all.map(({ path }) => path)).size < 2) return { kept: all, notices: [] };
  const kept: SampleOfTable[] = [];
  const copies = new Map<string, number>();
  for (const one of all) {
    const before = kept.filter(({ path, sample }) => path !== one.path && isNear(sample, one.sample));
    const twice = TESTS.filter((test) => before.some((other) => isTwice(field.name, test, other, one)));
    const sample = { ...one.sample, ...Object.fromEntries(twice.map((test) => [test, null])) };
    if (twice.length > 0) copies.set(one.path, (copies.get(one.path) ?? 0) + 1);
    if (twice.length === 0 || TESTS.some((test) => sample[test] !== null)) kept.push({ ...one, sample });
  }
  const notices = [...copies].map(([path, count]) => ({
    code: "sample-repeated",
    message: `${field.name}: ${counted(count, "sample")} of ${path} ${count === 1 ? "stands" : "stand"} in another of its tables too, with the same values; ${count === 1 ? "it counts" : "they count"} once`,
    where: field.id,
  }));
  return { kept, notices };
}

/** Whether two samples at one place have the same value of a test; false where one of them has none. */
function isTwice(name: string, test: TestName, other: SampleOfTable, one: SampleOfTable): boolean {
  const [a, b] = [other.sample[test], one.sample[test]];
  if (a === null || b === null) return false;
  if (a === b) return true;
  throw new InputError(
    "sample-in-two-tables",
    `${name}: ${other.path}, line ${other.sample.line}, and ${one.path}, line ${one.sample.line}, stand at one place with ${test} ${a} and ${b}`,
    `Take one of the tables alone (sampling.${test}=${other.path}), or mend the value that is wrong.`,
  );
}
