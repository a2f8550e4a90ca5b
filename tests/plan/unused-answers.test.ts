import { describe, expect, it } from "vitest";
import { type Answers, inputFacts, newPlan, readInput, unusedAnswers } from "../../src/plan/index.ts";
import { ANSWERS, asList, labCsv, SAMPLES, smallFarmFiles } from "../support/small-farm.ts";

const bytes = new TextEncoder().encode(labCsv(SAMPLES, "id,lon,lat,P ppm,K M3 ppm,CEC"));
const reading = (answers: Answers) => {
  const read = readInput("lab.csv", new Map([["lab.csv", bytes]]), { answers });
  return { questions: read.questions, result: [inputFacts(read), read.notices] };
};

describe("answers that change nothing", () => {
  it("are told one by one, while questions are open and after", () => {
    const answers = { "method.P": "bray-p1", "swap-lon-lat": "yes", "unit.K": "ppm" };
    const told = [
      {
        code: "answer-not-used",
        message: "the answer swap-lon-lat=yes changes nothing here: without it all comes out the same",
        where: "swap-lon-lat",
      },
      {
        code: "answer-not-used",
        message: "the answer unit.K=ppm changes nothing here: without it all comes out the same",
        where: "unit.K",
      },
    ];
    expect(unusedAnswers(answers, reading)).toEqual(told);
    expect(unusedAnswers({ ...answers, depth: "0-6in" }, reading)).toEqual(told);
    expect(unusedAnswers({}, reading)).toEqual([]);
  });

  it("of a new plan are those that no question of any file took", () => {
    const files = asList(smallFarmFiles());
    const made = (answers: Answers) => ({
      questions: [],
      result: newPlan("farm", "2027-03-20", files, answers).plan.fields,
    });
    const told = unusedAnswers({ ...ANSWERS, "crop.elsewhere": "corn", "west-sign": "west" }, made);
    expect(told.map(({ where }) => where)).toEqual(["crop.elsewhere", "west-sign"]);
  });
});
