import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect } from "vitest";
import { readCsv } from "../../src/formats/index.ts";

const folder = resolve(import.meta.dirname, "../data/operations");

interface Example {
  readonly id: string;
  // Each example has a shape of its own; the tests read it key by key.
  // biome-ignore lint/suspicious/noExplicitAny: free-form reference data
  readonly inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: free-form reference data
  readonly expected: any;
}

const { examples } = JSON.parse(readFileSync(resolve(folder, "worked-examples.json"), "utf8")) as {
  examples: Example[];
};

/** A worked example of tests/data/operations by its id. */
export function example(id: string): Example {
  const found = examples.find((entry) => entry.id === id);
  if (found === undefined) throw new Error(`no worked example ${id}`);
  return found;
}

/** Agreement to the digits given: the examples carry 10 significant digits. */
export function near(have: number | null, want: number, relative = 1e-9): void {
  expect(have).not.toBeNull();
  const error = Math.abs(have! - want);
  expect(error, `${have} for ${want}`).toBeLessThanOrEqual(relative * Math.max(Math.abs(want), 1e-3));
}

const table = readCsv(readFileSync(resolve(folder, "check-values.csv")), "check-values.csv");

export interface OperationsRow {
  readonly quantity: string;
  readonly inputs: string;
  readonly expected: string;
  readonly source: string;
  readonly verified: string;
}

/** The one row of check-values.csv whose quantity begins with `start`. */
export function checkRow(start: string): OperationsRow {
  const index = (heading: string): number => table.headings.indexOf(heading);
  const rows = table.rows.filter(({ cells }) => cells[index("quantity")]!.startsWith(start));
  if (rows.length !== 1) throw new Error(`${rows.length} check rows begin with "${start}"`);
  const { cells } = rows[0]!;
  return {
    quantity: cells[index("quantity")]!,
    inputs: cells[index("inputs")]!,
    expected: cells[index("expected")]!,
    source: cells[index("source")]!,
    verified: cells[index("verified")]!,
  };
}

/** Numbers of an `expected` cell such as `30; 81.29; 22.14`. */
export const numbersOf = (expected: string): number[] =>
  expected
    .split(/[;/]/)
    .map((part) => Number(part.trim()))
    .filter((value) => Number.isFinite(value));
