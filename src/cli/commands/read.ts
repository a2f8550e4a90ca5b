import { InputError, noticeLines, QuestionError } from "../../errors/index.ts";
import {
  type Answers,
  INPUT_ROLES,
  type InputReading,
  type InputRole,
  inputFacts,
  inputLines,
  readInput,
  unusedAnswers,
} from "../../plan/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { allInJson } from "../explain.ts";
import { gatherInput } from "../gather-input.ts";

/** `read FILE|FOLDER`: what a file holds, before anything is made from it. */
export const command: Command = {
  operands: { shown: "FILE|FOLDER|-", least: 1, most: 1 },
  about: [
    "Says what a file, a zip or a folder holds: boundaries, soil samples, zones, guidance lines, prescriptions,",
    "as-applied logs, task data; what was left out and why, the coordinate system and how it is known, encoding,",
    "units and extractants. Nothing that the file does not say is guessed: it is asked (exit 3).",
    "Keys: layer, role, coordinate-system, swap-lon-lat, west-sign, close-ring, null-geometry, repair-boundary,",
    "rate-column, unit.rate, missing-rate, unit.P, unit.K, unit.CEC, method.P, method.K, oxide, depth, limit.P,",
    "limit.K, censored, date-order, same-place, join-points, decimal-comma, unreadable-value, and",
    "mend:FILE:LINE:COLUMN for one value.",
  ].join("\n"),
  options: ["as", "answer"],
  run: read,
};

async function read(call: Call): Promise<Outcome> {
  const operand = call.operands[0]!;
  const as = roleOf(call.options.as);
  const answers = Object.fromEntries(call.options.answer);
  const { name, files } = await gatherInput(operand, call.readStandardInput);
  const join = answers["join-points"];
  const points = join === undefined ? undefined : await gatherInput(join, call.readStandardInput);
  const readWith = (some: Answers): InputReading =>
    readInput(name, files, {
      answers: some,
      ...(as === undefined ? {} : { as }),
      ...(points === undefined ? {} : { points }),
    });
  const reading = readWith(answers);
  const unused = unusedAnswers(answers, (some) => {
    const one = readWith(some);
    return { questions: one.questions, result: [inputFacts(one), one.notices] };
  });
  const { questions } = reading;
  const notices = [...reading.notices, ...unused];
  if (questions.length > 0) throw new QuestionError(questions, notices);
  for (const line of noticeLines(notices, allInJson)) call.talk.say(line);
  return {
    exit: exit.done,
    data: inputLines(reading).join("\n"),
    json: { file: name, ...inputFacts(reading), notices, questions },
  };
}

function roleOf(text: string | undefined): InputRole | undefined {
  if (text === undefined) return undefined;
  const role = INPUT_ROLES.find((one) => one === text);
  if (role !== undefined) return role;
  throw new InputError(
    "unknown-role",
    `--as ${text}: no such role`,
    `Use one of: ${INPUT_ROLES.join(", ")}.`,
  );
}
