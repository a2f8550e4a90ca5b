import { expect, test } from "vitest";
import { appliedField, run, spanOf } from "../../src/plan/index.ts";
import { drivenLog } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

test("a log with readings beside the field and none in it is another field's", async () => {
  const plan = seasonPlanDocument();
  const result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
  const field = result.fields[0]!;
  const { log, product } = drivenLog(result, 0);
  // One pass along the north side, 10 m beyond the field: about a hundred-thousandth of a degree is 1.1 m.
  const north = Math.max(...field.checked.boundaryLonLat.flat(2).map(([, lat]) => lat));
  const points = log.points.map((point) => ({ ...point, at: [point.at[0], north + 9e-5] as const }));
  const beside = { product, log: { ...log, points } };
  expect(spanOf(field, beside.log)).not.toEqual({});
  expect(() => appliedField(plan, field, [beside])).toThrow(/none of the \d+ readings of 11-52-0 lies in/);
});
