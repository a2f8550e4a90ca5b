import { InputError, type Notice, type Question, QuestionError } from "../../errors/index.ts";
import { LEAST_SAMPLES } from "../../interpolate/index.ts";
import { chooseSamplings, type Sampling, withoutRepeats } from "../../need/index.ts";
import { type SampleRecord, type SoilSample, TESTS, visitsOf } from "../../soil/index.ts";
import { counted } from "../../units/index.ts";
import { depthInches } from "../document/depth-inches.ts";
import type { PlanNeedFrom, TestName } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { needsSamples, samplesPaths } from "../document/samples-paths.ts";
import type { FieldSampling } from "../results/result-types.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { samplesOnce } from "../sources/samples-once.ts";
import { hasPositions } from "../sources/zone-places.ts";
import { wantedSamplings } from "./wanted-samplings.ts";

/** A field's samples, each test from the sampling chosen for it. */
interface FieldSamples {
  /** In file order; a test that comes from another sampling is null. */
  readonly samples: readonly SoilSample[];
  /** What the samples' rows say besides, in their order. */
  readonly records: readonly SampleRecord[];
  readonly methods: { readonly P: string; readonly K: string };
  /** As the first table states it, such as `0-8in`. */
  readonly depth: string;
  readonly samplings: readonly FieldSampling[];
  readonly notices: readonly Notice[];
}

interface Visit extends Sampling {
  readonly path: string;
  readonly samples: readonly SoilSample[];
}

const nothing: SampleRecord = { pH: null, bufferPH: null, organicMatter: null, date: null, lab: null };

/**
 * The samplings of a field and which of them each test is read from: the newest, unless the plan or an answer
 * (`sampling.P`, names with commas between; `mix-samplings.P`) says otherwise. Throws `field-without-samples`, `samplings-of-different-methods`,
 * `sample-in-two-tables` and the `QuestionError`s of `chooseSamplings`.
 */
export function fieldSamplings(plan: Plan, field: PlanField, inputs: Inputs): FieldSamples {
  const visits = samplesPaths(field).flatMap((path) => visitsIn(plan, field, path, inputs));
  const has = (test: TestName) => visits.some((visit) => visit.tests.includes(test));
  if (!has("P") || !has("K")) {
    if (!needsSamples(field)) return noSamples(visits);
    if (field.needFrom?.kind === "zones") refuseOtherIds(field, field.needFrom, visits, inputs);
    const count = visits.reduce((total, visit) => total + visit.samples.length, 0);
    throw new InputError(
      "field-without-samples",
      `${field.name}: ${counted(count, "sample")} of ${samplesPaths(field).join(", ")} ${count === 1 ? "lies" : "lie"} in it; P and K need at least one each.`,
      "Give the lab table of this field, or take the field out of the plan.",
    );
  }
  const notices: Notice[] = [];
  const questions: Question[] = [];
  const chosen = new Map<TestName, readonly Visit[]>();
  for (const test of TESTS.filter(has)) {
    try {
      const choice = chooseSamplings(test, visits, {
        today: plan.date,
        leastSamples: LEAST_SAMPLES,
        ...(plan.samplingLimitYears === undefined ? {} : { limitYears: plan.samplingLimitYears }),
        ...wantedSamplings(test, plan, field, visits, inputs),
      });
      chosen.set(
        test,
        choice.samplings.map((sampling) => visits.find((visit) => visit.id === sampling.id)!),
      );
      notices.push(...choice.notices);
    } catch (error) {
      if (!(error instanceof QuestionError)) throw error;
      questions.push(...error.questions);
    }
  }
  if (questions.length > 0) throw new QuestionError(questions);
  const used = visits.filter((visit) => [...chosen.values()].some((list) => list.includes(visit)));
  const all = used.flatMap((visit) =>
    visit.samples.map((sample) => {
      const value = (test: TestName) => (chosen.get(test)?.includes(visit) ? sample[test] : null);
      const record = inputs.recordsOf(visit.path).get(sample.line) ?? nothing;
      const read = { ...sample, P: value("P"), K: value("K"), CEC: value("CEC") };
      return { path: visit.path, sample: read, record };
    }),
  );
  const { kept, notices: copies } = samplesOnce(field, all);
  return {
    samples: kept.map((one) => one.sample),
    records: kept.map((one) => one.record),
    methods: {
      P: methodOf("P", chosen.get("P")!, field, inputs),
      K: methodOf("K", chosen.get("K")!, field, inputs),
    },
    depth: inputs.lab(chosen.get("P")![0]!.path).depth,
    samplings: visits.map((visit) => shown(visit, (test) => chosen.get(test)?.includes(visit) ?? false)),
    notices: withoutRepeats([...notices, ...copies]),
  };
}

/** Composites are of a field by the ids of its zones: where none has one, that is what is to be mended. */
function refuseOtherIds(
  field: PlanField,
  { source, idColumn }: Extract<PlanNeedFrom, { kind: "zones" }>,
  visits: readonly Visit[],
  inputs: Inputs,
): void {
  const paths = samplesPaths(field);
  const byIds = paths.every((path) => {
    const { table } = inputs.file(path);
    return table !== null && !hasPositions(table);
  });
  if (!byIds || visits.length > 0) return;
  throw new InputError(
    "zone-without-test",
    `${field.name}: no row of ${paths.join(", ")} has the id of one of its zones in ${source}, column ${idColumn}.`,
    `Give each zone a row in the lab table, its sample number the zone's id (column ${idColumn}).`,
  );
}

const noSamples = (visits: readonly Visit[]): FieldSamples => ({
  samples: [],
  records: [],
  methods: { P: "", K: "" },
  depth: "",
  samplings: visits.map((visit) => shown(visit, () => false)),
  notices: [],
});

/** The visits that a table of one source holds for a field, by the dates of its rows. */
function visitsIn(plan: Plan, field: PlanField, path: string, inputs: Inputs): Visit[] {
  const lab = inputs.lab(path);
  const records = inputs.recordsOf(path);
  const samples = inputs.samplesOf(field, path);
  if (samples.length === 0) return [];
  const typed = plan.sources.find((source) => source.as === "samples" && source.path === path)?.sampling;
  const dateOf = (sample: SoilSample) => typed?.date ?? records.get(sample.line)?.date ?? undefined;
  const groups = visitsOf(samples.map(dateOf).filter((date) => date !== undefined));
  // Rows without a day are counted to the last visit that can have been made.
  const last = groups.findLast((days) => days[0]! <= plan.date) ?? groups.at(-1);
  return (groups.length === 0 ? [[]] : groups).map((days): Visit => {
    const own = samples.filter((sample) => {
      const date = dateOf(sample);
      return date === undefined ? days === last || last === undefined : days.includes(date);
    });
    const date = days.at(-1);
    const depthIn = typed?.depthIn ?? depthInches(lab.depth);
    const labName = typed?.lab ?? own.map((sample) => records.get(sample.line)?.lab).find(Boolean);
    return {
      id: groups.length > 1 ? `${path} ${days[0]}` : path,
      path,
      samples: own,
      count: own.length,
      tests: TESTS.filter((test) => own.some((sample) => sample[test] !== null)),
      ...(date === undefined ? {} : { date }),
      ...(date === undefined && lab.unreadDates[0] !== undefined ? { unreadDate: lab.unreadDates[0] } : {}),
      ...(depthIn === null ? {} : { depthIn }),
      ...(labName ? { lab: labName } : {}),
      ...(typed?.coresToBands === undefined ? {} : { coresToBands: typed.coresToBands }),
    };
  });
}

function methodOf(test: "P" | "K", visits: readonly Visit[], field: PlanField, inputs: Inputs): string {
  const methods = [...new Set(visits.map((visit) => inputs.lab(visit.path).tests[test]?.method ?? ""))];
  if (methods.length === 1) return methods[0]!;
  throw new InputError(
    "samplings-of-different-methods",
    `${field.name}: the samplings mixed for ${test} were tested by ${methods.join(" and ")}.`,
    "Use one of them; tests by different extractants are not one map.",
  );
}

const shown = (visit: Visit, isUsed: (test: TestName) => boolean): FieldSampling => ({
  id: visit.id,
  source: visit.path,
  date: visit.date ?? null,
  depthIn: visit.depthIn ?? null,
  lab: visit.lab ?? null,
  coresToBands: visit.coresToBands ?? null,
  samples: visit.samples.length,
  usedFor: TESTS.filter((test) => isUsed(test)),
});
