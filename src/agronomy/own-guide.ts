import { InputError } from "../errors/index.ts";
import { plainNumber } from "./plain-number.ts";
import { testMethodFrom } from "./test-method.ts";
import type { ClassesForm, Constant, Form, Guide, PiecesForm, Rule } from "./types.ts";

/** Rates by class: one rate more than there are limits; a test on a limit is in the class above it. */
export interface OwnClassTable {
  readonly test: "P" | "K";
  readonly crop: string;
  /** Extractant (and finish) the table is meant for. */
  readonly method: string;
  /** Elemental ppm, rising. */
  readonly belowPpm: readonly number[];
  /** lb oxide/ac, whatever the yield. */
  readonly lbPerAc: readonly number[];
}

/** Rates on straight lines between points, level outside them. */
export interface OwnLineTable {
  readonly test: "P" | "K";
  readonly crop: string;
  readonly method: string;
  readonly points: readonly { readonly ppm: number; readonly lbPerAc: number }[];
}

/** A guide as somebody typed it: tables by class, tables of points, or both. */
export interface OwnGuide {
  readonly id: string;
  readonly name: string;
  readonly tables: readonly OwnClassTable[];
  readonly lineTables?: readonly OwnLineTable[];
}

/** The user's own tables as a guide. Throws `own-table-not-usable` and `unknown-test-method`. */
export function ownGuide(own: OwnGuide): Guide {
  const constants: { [id: string]: Constant } = {};
  const rules = [...own.tables, ...(own.lineTables ?? [])].map((table): Rule => {
    const nutrient = table.test === "P" ? "P2O5" : "K2O";
    const key = `${table.crop}.${table.test.toLowerCase()}.${table.method}`;
    const put = (name: string, value: number, unit: string): string => {
      const id = `${key}.${name}`;
      constants[id] = {
        value,
        unit,
        what: `${table.crop} ${nutrient}, ${name}`,
        source: "own",
        status: "typed",
      };
      return id;
    };
    const where = `${own.id}, ${table.crop} ${table.test}`;
    const isClasses = "belowPpm" in table;
    const form: Form = isClasses ? classesForm(table, put, where) : piecesForm(table, put, where);
    const rates = isClasses ? table.lbPerAc : table.points.map((point) => point.lbPerAc);
    return {
      crop: table.crop,
      nutrient,
      methods: [testMethodFrom(table.method, nutrient)],
      yearsCovered: 1,
      neverRisesWithTest: rates.every((rate, i) => i === 0 || rate <= (rates[i - 1] ?? 0)),
      form,
    };
  });
  refuseDoubles(own, rules);
  return {
    format: "guide/1",
    id: own.id,
    title: own.name,
    publication: "the user's own table",
    region: "the user's own",
    edition: "own",
    supersededBy: null,
    testUnit: "ppm",
    depthIn: null,
    depthStatus: "typed",
    buildUpYears: null,
    rounding: { testTo: null, rateToLbPerAc: 1, status: "ours", note: "whole pounds for reading" },
    sources: { own: "typed by the user" },
    constants,
    options: [],
    rules,
    criticalLevels: [],
    bandFactor: { P2O5: null },
    traps: ["the user's own figures: nobody else has checked them", "the rates do not hang on the yield"],
  };
}

type Put = (name: string, value: number, unit: string) => string;

function classesForm(table: OwnClassTable, put: Put, where: string): ClassesForm {
  const { belowPpm, lbPerAc } = table;
  if (lbPerAc.length !== belowPpm.length + 1) {
    throw unusable(where, `it has ${lbPerAc.length} rates for ${belowPpm.length + 1} classes`);
  }
  checkRising(belowPpm, where);
  checkRates(lbPerAc, where);
  return {
    kind: "classes",
    edgeIn: "upper class",
    classes: lbPerAc.map((rate, i) => {
      const top = belowPpm[i];
      const rateId = put(`class-${i + 1}.rate`, rate, "lb/ac");
      return top === undefined
        ? { name: String(i + 1), lbPerAc: rateId }
        : { name: String(i + 1), upTo: put(`class-${i + 1}.below`, top, "ppm"), lbPerAc: rateId };
    }),
  };
}

function piecesForm(table: OwnLineTable, put: Put, where: string): PiecesForm {
  if (table.points.length === 0) throw unusable(where, "it has no points");
  checkRising(
    table.points.map((point) => point.ppm),
    where,
  );
  checkRates(
    table.points.map((point) => point.lbPerAc),
    where,
  );
  return {
    kind: "pieces",
    points: table.points.map((point, i) => ({
      test: put(`point-${i + 1}.test`, point.ppm, "ppm"),
      lbPerAc: put(`point-${i + 1}.rate`, point.lbPerAc, "lb/ac"),
    })),
  };
}

function checkRising(values: readonly number[], where: string): void {
  values.forEach((value, i) => {
    const before = values[i - 1];
    if (!Number.isFinite(value) || value < 0) throw unusable(where, `the test ${value} is not from 0 up`);
    if (before !== undefined && value <= before) {
      throw unusable(where, `the tests must rise, ${plainNumber(value)} follows ${plainNumber(before)}`);
    }
  });
}

function checkRates(rates: readonly number[], where: string): void {
  const bad = rates.find((rate) => !Number.isFinite(rate) || rate < 0);
  if (bad !== undefined) throw unusable(where, `the rate ${bad} is not from 0 up`);
}

function refuseDoubles(own: OwnGuide, rules: readonly Rule[]): void {
  const seen = new Set<string>();
  for (const rule of rules) {
    const key = `${rule.crop} ${rule.nutrient} ${rule.methods.join()}`;
    if (seen.has(key)) throw unusable(own.id, `it has two tables for ${key}`);
    seen.add(key);
  }
}

const unusable = (where: string, why: string): InputError =>
  new InputError("own-table-not-usable", `own table ${where}: ${why}`, "Correct the table.");
