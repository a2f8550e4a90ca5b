import { beforeAll, expect, test } from "vitest";
import {
  appliedField,
  type FieldResult,
  fieldsCrossed,
  fieldsOfLog,
  logsNotInField,
  type ProductLog,
  run,
  spanOf,
} from "../../src/plan/index.ts";
import { drivenLog } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan = seasonPlanDocument();
let field: FieldResult;
let left: ProductLog;
let right: ProductLog;
beforeAll(async () => {
  const result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
  field = result.fields[0]!;
  [left, right] = [drivenLog(result, 0), drivenLog(result, 1)];
});

/** Ground of the field's shape, so many metres north of it, and a log as if it were driven there. */
const fieldNorth = (metres: number): FieldResult => ({
  ...field,
  field: { ...field.field, id: "beyond", name: "Beyond" },
  checked: {
    ...field.checked,
    boundary: field.checked.boundary.map((polygon) =>
      polygon.map((ring) => ring.map(([x, y]) => [x, y + metres] as const)),
    ),
  },
});
const north = ({ product, log }: ProductLog, metres: number, times = 1): ProductLog => ({
  product,
  log: {
    ...log,
    // A degree of latitude is about 111.2 km.
    points: log.points.map((point) => ({
      ...point,
      at: [point.at[0], point.at[1] + metres / 111_200] as const,
      appliedLbPerAc: times * point.appliedLbPerAc,
    })),
  },
});

test("a log with readings beside the field and none in it is another field's", () => {
  const { log, product } = left;
  // One pass along the north side, 10 m beyond the field: about a hundred-thousandth of a degree is 1.1 m.
  const edge = Math.max(...field.checked.boundaryLonLat.flat(2).map(([, lat]) => lat));
  const points = log.points.map((point) => ({ ...point, at: [point.at[0], edge + 9e-5] as const }));
  const beside = { product, log: { ...log, points } };
  expect(spanOf(field, beside.log)).not.toEqual({});
  expect(() => appliedField(plan, field, [beside])).toThrow(/none of the \d+ readings of 11-52-0 lies in/);
});

test("a field that the rig only crosses is none of a day's fields; one where a bin was shut is", () => {
  const beyond = fieldNorth(3_000);
  const fields = [field, beyond];
  expect(fieldsOfLog(fields, [left, north(left, 3_000, 0)])).toEqual(fields);
  expect(fieldsCrossed(fields, [left, north(left, 3_000, 0), north(right, 3_000, 0)])).toEqual([beyond]);
  expect(fieldsCrossed(fields, [left, north(left, 3_000, 0), north(right, 3_000)])).toEqual([]);
  // By itself a log of nothing is of its field: the day may have ended before it laid any.
  expect(fieldsCrossed([field], [north(left, 0, 0)])).toEqual([]);
});

test("a log that was given and lies in another field is told beside the one that does not", () => {
  expect(logsNotInField(field, [left, north(right, 3_000)])).toEqual([
    {
      code: "log-not-in-field",
      message:
        "none of the readings of the log of 0-0-60 lies in Low Forty: it counts as if none was given; look whether its log of this field was left out",
      where: "low-forty",
    },
  ]);
  expect(logsNotInField(field, [left, right])).toEqual([]);
  // Logs of other fields of the day.
  expect(logsNotInField(field, [north(left, 3_000), north(right, 3_000)])).toEqual([]);
});

test("a line of the ledger has the hours of the field's own readings, not those of a neighbour's beside it", () => {
  const { log, product } = left;
  const edge = Math.max(...field.checked.boundaryLonLat.flat(2).map(([, lat]) => lat));
  // A pass 10 m north of the field, driven an hour before.
  const beside = log.points.slice(0, 40).map((point) => ({
    ...point,
    at: [point.at[0], edge + 9e-5] as const,
    time: new Date(Date.parse(point.time) - 3_600_000).toISOString(),
  }));
  const day: ProductLog = { product, log: { ...log, points: [...beside, ...log.points] } };
  expect(spanOf(field, day.log)).toEqual(spanOf(field, log));
});
