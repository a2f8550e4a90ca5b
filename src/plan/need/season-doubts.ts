import type { Notice } from "../../errors/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { FieldSampling } from "../results/result-types.ts";

/** Years of a plan that cannot follow one another: a season before its sampling, tests that serve only after it. */
export function seasonDoubts(
  { seasonYear }: Plan,
  { id, name, firstSeasonYear }: PlanField,
  samplings: readonly FieldSampling[],
): Notice[] {
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message: `${name}: ${message}`, where: id });
  };
  if (firstSeasonYear !== undefined && firstSeasonYear > seasonYear)
    add(
      "first-season-after-plan",
      `firstSeasonYear ${firstSeasonYear} lies after the plan's season ${seasonYear}, which is counted as the first; mend one of them`,
    );
  const used = samplings.flatMap(({ date, usedFor }) => (date !== null && usedFor.length > 0 ? [date] : []));
  const late = used.filter((date) => Number(date.slice(0, 4)) > seasonYear).sort();
  if (late.length > 0)
    add(
      "season-before-sampling",
      `the plan's season ${seasonYear} is over before its samples of ${late[0]} were taken; mend seasonYear or the date of the sampling`,
    );
  return notices;
}
