import type { LabTable } from "../../soil/index.ts";

/** Figures of soil samples, ready for JSON. Values are ppm of the element. */
export function sampleFacts(lab: LabTable, headings: readonly string[]): Readonly<Record<string, unknown>> {
  const { samples, tests } = lab;
  const codes = (["P", "K"] as const).flatMap((test) =>
    tests[test]?.code ? [[test, tests[test].code] as const] : [],
  );
  return {
    samples: samples.length,
    skipped: lab.skipped.length,
    left: lab.skipped,
    censored: lab.censored,
    ...(lab.setAside > 0 ? { setAside: lab.setAside } : {}),
    ...(samples.length > 0
      ? { firstVertex: samples[0]!.at, lastVertex: samples.at(-1)!.at, firstId: samples[0]!.id }
      : {}),
    depth: lab.depth,
    ...(lab.dates === null ? {} : { dates: lab.dates }),
    crs: lab.coordinateSystem,
    crsFrom: lab.coordinateSystemFrom,
    encoding: lab.encoding,
    headings,
    unused: lab.unused,
    ...(tests.P === undefined ? {} : { P: testFacts(lab, "P") }),
    ...(tests.K === undefined ? {} : { K: testFacts(lab, "K") }),
    ...(tests.CEC === undefined ? {} : { CEC: cecFacts(lab) }),
    ...(codes.length === 0 ? {} : { methodCodes: Object.fromEntries(codes) }),
  };
}

function cecFacts({ samples }: LabTable): Readonly<Record<string, unknown>> {
  const values = samples.flatMap(({ CEC }) => (CEC === null ? [] : [CEC]));
  return { n: values.length, unit: "meq/100g", mean: meanOf(values) };
}

const meanOf = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;

function testFacts({ samples, tests }: LabTable, test: "P" | "K"): Readonly<Record<string, unknown>> {
  const { unit, method, oxide } = tests[test]!;
  const found = samples.flatMap((sample) =>
    sample[test] === null ? [] : [{ id: sample.id, value: sample[test] }],
  );
  const values = found.map(({ value }) => value);
  const readUnit = oxide === undefined ? unit : `${unit} ${oxide}`;
  return {
    n: values.length,
    unit: "ppm",
    ...(readUnit === "ppm" ? {} : { readUnit }),
    method,
    first: values[0] ?? null,
    min: values.length === 0 ? null : values.reduce((least, value) => Math.min(least, value)),
    max: values.length === 0 ? null : values.reduce((most, value) => Math.max(most, value)),
    mean: meanOf(values),
    byId: Object.fromEntries(found.map(({ id, value }) => [id, value])),
  };
}
