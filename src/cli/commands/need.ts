import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { guideById, guideIds } from "../../agronomy/index.ts";
import { InputError, QuestionError } from "../../errors/index.ts";
import { readCsv, readNumber } from "../../formats/index.ts";
import { type ExplainedNeed, type ExplainInput, explainNeed } from "../../need/index.ts";
import { readLabTable, type SoilSample, type TestReading } from "../../soil/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { diskError } from "../disk-error.ts";
import { exit } from "../exit.ts";

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
  options: ["guide", "crop", "yield", "p", "p-method", "k", "k-method", "cec", "option", "samples", "answer"],
  run: need,
};

async function need(call: Call): Promise<Outcome> {
  const { options, talk } = call;
  const guide = guideById(text(call, "guide"));
  const shared = {
    crop: text(call, "crop"),
    yieldBuPerAc: number(call, "yield"),
    options: guideAnswers(call),
  };
  if (options.samples !== undefined) return needOfSamples(call, options.samples, guide.id, shared);
  const explained = explainNeed(guide, {
    ...shared,
    ...typedTest(call, "p"),
    ...typedTest(call, "k"),
    ...(options.cec === undefined ? {} : { cecMeq: number(call, "cec") }),
  });
  for (const notice of explained.notices) talk.say(`Notice: ${notice.message}`);
  return { exit: exit.done, data: inWords(explained), json: explained };
}

async function needOfSamples(
  call: Call,
  path: string,
  guide: string,
  shared: Pick<ExplainInput, "crop" | "yieldBuPerAc" | "options">,
): Promise<Outcome> {
  const bytes = await readFile(path).catch((error: unknown) => {
    throw diskError(error, path);
  });
  const lab = readLabTable(
    readCsv(new Uint8Array(bytes), basename(path)),
    Object.fromEntries(call.options.answer),
  );
  if (lab.questions.length > 0) throw new QuestionError(lab.questions);
  for (const notice of lab.notices) call.talk.say(`Notice: ${notice.message}`);
  const typed = (test: "P" | "K", reading: TestReading | undefined, sample: SoilSample) =>
    reading === undefined || sample[test] === null
      ? {}
      : { [test.toLowerCase()]: { value: sample[test], method: reading.method } };
  const rows = lab.samples.map((sample) => ({
    sample: sample.id,
    line: sample.line,
    ...explainNeed(guideById(guide), {
      ...shared,
      ...typed("P", lab.tests.P, sample),
      ...typed("K", lab.tests.K, sample),
      ...(sample.CEC === null ? {} : { cecMeq: sample.CEC }),
    }),
  }));
  const said = new Set(rows.flatMap((row) => row.notices.map((notice) => notice.message)));
  for (const message of said) call.talk.say(`Notice: ${message}`);
  const lines = rows.map((row) =>
    [row.sample, row.p2o5?.lbPerAc.toFixed(1) ?? "", row.k2o?.lbPerAc.toFixed(1) ?? ""].join("\t"),
  );
  return { exit: exit.done, data: ["sample\tlb P2O5/ac\tlb K2O/ac", ...lines].join("\n"), json: rows };
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
  return { [test]: { value: number(call, test), method: text(call, `${test}-method`) } };
}

type TextOption = "guide" | "crop" | "p-method" | "k-method";
type NumberOption = "yield" | "p" | "k" | "cec";

function text(call: Call, name: TextOption): string {
  const value = call.options[name];
  if (value !== undefined) return value;
  throw new InputError(
    "missing-option",
    `need was given no --${name}`,
    `Add --${name}; see bermplan need --help.`,
  );
}

function number(call: Call, name: NumberOption): number {
  const typed = call.options[name];
  const value = typed === undefined ? null : readNumber(typed);
  if (value !== null && value >= 0) return value;
  if (typed === undefined) {
    throw new InputError(
      "missing-option",
      `need was given no --${name}`,
      `Add --${name}; see bermplan need --help.`,
    );
  }
  throw new InputError("not-a-number", `--${name} ${typed}: not a number from 0 up`, "Give a plain number.");
}

function inWords(explained: ExplainedNeed): string {
  const lines = [`${explained.guide}, ${explained.crop} (${explained.status})`];
  for (const [name, nutrient] of [
    ["P2O5", explained.p2o5],
    ["K2O", explained.k2o],
  ] as const) {
    if (!nutrient) continue;
    lines.push(`${name}: ${nutrient.lbPerAc.toFixed(1)} lb/ac broadcast, rounded ${nutrient.roundedLbPerAc}`);
    lines.push(...nutrient.steps.map((step) => `  ${step}`));
  }
  return lines.join("\n");
}
