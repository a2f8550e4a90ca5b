import { type Guide, guideById, guideIds } from "../../agronomy/index.ts";
import { InputError, QuestionError } from "../../errors/index.ts";
import { type ExplainedNeed, type ExplainInput, explainNeed } from "../../need/index.ts";
import { depthInches, yieldDoubt } from "../../plan/index.ts";
import {
  chosenColumns,
  readHeadings,
  readLabTable,
  type SampleFile,
  type SoilSample,
} from "../../soil/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { neededText } from "../needed-option.ts";
import { neededNumber, numberOption } from "../number-option.ts";
import { readTable } from "../read-table.ts";
import { sayNotices } from "../talk.ts";

/** `need --guide ID ...`: what a guide says to typed tests, or to every sample of a lab table. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 0 },
  about: [
    "Reads a guide at a soil test and shows the arithmetic: --guide tri-state-2020 --crop corn --yield 180",
    "--p 15 --p-method mehlich-3-icp --k 110 --k-method mehlich-3 --cec 14 --option rotation=corn-soy.",
    "Typed tests are elemental ppm at the guide's own depth. With --samples FILE every sample of a lab table",
    "is read. Guides:",
    ...guideIds().map((id) => `  ${id}`),
  ].join("\n"),
  options: [
    "guide",
    "crop",
    "yield",
    "second-yield",
    "p",
    "p-method",
    "k",
    "k-method",
    "cec",
    "option",
    "samples",
    "answer",
  ],
  run: need,
};

async function need(call: Call): Promise<Outcome> {
  const { options, talk } = call;
  refuseStrayOptions(call);
  const guide = guideById(neededText(call, "need", "guide"));
  const secondYieldBuPerAc = numberOption(call, "second-yield");
  const shared: Shared = {
    crop: neededText(call, "need", "crop"),
    yieldBuPerAc: neededNumber(call, "need", "yield"),
    options: guideAnswers(call),
    ...(secondYieldBuPerAc === undefined ? {} : { secondYieldBuPerAc }),
  };
  const doubt = yieldDoubt(shared.crop, shared.yieldBuPerAc);
  if (doubt !== null) sayNotices(talk, [{ message: doubt }]);
  if (options.samples !== undefined) return needOfSamples(call, options.samples, guide, shared);
  const cecMeq = numberOption(call, "cec");
  const explained = explainNeed(guide, {
    ...shared,
    ...typedTest(call, "p"),
    ...typedTest(call, "k"),
    ...(cecMeq === undefined ? {} : { cecMeq }),
  });
  const said = new Set(explained.notices.map(({ message }) => message));
  sayNotices(
    talk,
    [...said].map((message) => ({ message })),
  );
  return { exit: exit.done, data: inWords(explained), json: explained };
}

type Shared = Pick<ExplainInput, "crop" | "yieldBuPerAc" | "options" | "secondYieldBuPerAc">;

/** A method without its test, or typed tests beside a table, would be passed over unseen. */
function refuseStrayOptions({ options }: Call): void {
  const refuse = (message: string, remedy: string): never => {
    throw new InputError("options-do-not-fit", message, remedy);
  };
  for (const test of ["p", "k"] as const) {
    if (options[`${test}-method`] !== undefined && options[test] === undefined)
      refuse(`--${test}-method was given without --${test}`, `Add --${test} PPM or leave the method out.`);
  }
  const typed = (["p", "k", "cec"] as const).find((name) => options[name] !== undefined);
  if (options.samples !== undefined && typed !== undefined)
    refuse(`--${typed} was given beside --samples`, "Give a table or typed tests, not both.");
}

async function needOfSamples(call: Call, path: string, guide: Guide, shared: Shared): Promise<Outcome> {
  const table = await readTable(path);
  const answers = Object.fromEntries(call.options.answer);
  const chosen = chosenColumns(table.name, table.headings, answers);
  const lab = readLabTable(withoutPlaces({ ...table, chosen }), answers, { tests: "any", isDated: true });
  if (lab.questions.length > 0) throw new QuestionError(lab.questions);
  const notices = lab.notices.map((notice) => notice.message);
  const depthIn = depthInches(lab.depth);
  const typed = (test: "P" | "K", sample: SoilSample): Partial<ExplainInput> => {
    const method = lab.tests[test]?.method;
    const value = sample[test];
    if (method === undefined || value === null) return {};
    const reading = { unit: "ppm", basis: "element", ...(depthIn === null ? {} : { depthIn }) } as const;
    return { [test === "P" ? "p" : "k"]: { value, method, reading } };
  };
  const rows = lab.samples.flatMap((sample) => {
    try {
      const explained = explainNeed(guide, {
        ...shared,
        ...typed("P", sample),
        ...typed("K", sample),
        ...(sample.CEC === null ? {} : { cecMeq: sample.CEC }),
      });
      return [{ sample: sample.id, line: sample.line, ...explained }];
    } catch (error) {
      if (!(error instanceof InputError) || !["cec-missing", "test-missing"].includes(error.code))
        throw error;
      notices.push(`sample ${sample.id}, line ${sample.line}: left out, ${error.message}`);
      return [];
    }
  });
  notices.push(...rows.flatMap((row) => row.notices.map((notice) => notice.message)));
  for (const message of new Set(notices)) call.talk.say(`Notice: ${message}`);
  const lines = rows.map((row) =>
    [row.sample, row.p2o5?.lbPerAc.toFixed(1) ?? "", row.k2o?.lbPerAc.toFixed(1) ?? ""].join("\t"),
  );
  return { exit: exit.done, data: ["sample\tlb P2O5/ac\tlb K2O/ac", ...lines].join("\n"), json: rows };
}

/** A table without positions is as good here: rows get places of their own, so that none is asked for. */
function withoutPlaces(table: SampleFile): SampleFile {
  const means = readHeadings(table).map((heading) => heading.means);
  if (means.includes("latitude") && means.includes("longitude")) return table;
  const rows = table.rows.map((row, index) => ({ ...row, at: [0, (index + 1) / 1_000] as const }));
  return { ...table, rows, placed: { coordinateSystem: "none", coordinateSystemFrom: "standard" } };
}

/** Options of the guide: `--option rotation=corn-soy`, or the same as an answer `option.rotation`. */
function guideAnswers(call: Call): Record<string, string> {
  const answered = [...call.options.answer]
    .filter(([key]) => key.startsWith("option."))
    .map(([key, value]) => [key.slice("option.".length), value] as const);
  return Object.fromEntries([...answered, ...call.options.option]);
}

function typedTest(call: Call, test: "p" | "k"): Partial<ExplainInput> {
  if (call.options[test] === undefined) return {};
  const method = neededText(call, "need", `${test}-method`);
  return { [test]: { value: neededNumber(call, "need", test), method } };
}

function inWords(explained: ExplainedNeed): string {
  const lines = [`${explained.guide}, ${explained.crop} (${explained.status})`];
  for (const [name, nutrient] of [
    ["P2O5", explained.p2o5],
    ["K2O", explained.k2o],
  ] as const) {
    if (!nutrient) continue;
    const { lbPerAc, roundedLbPerAc } = nutrient;
    lines.push(
      `${name}: ${lbPerAc.toFixed(1)} lb/ac wanted in all, the guide's rate for spreading; rounded ${roundedLbPerAc}`,
    );
    lines.push(...nutrient.steps.map((step) => `  ${step}`));
  }
  lines.push(notAdvice);
  return lines.join("\n");
}

const notAdvice =
  "Not advice: the local guide, local rules and a licensed or certified adviser go before it (docs/cautions.md).";
