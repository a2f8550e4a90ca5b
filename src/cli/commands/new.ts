import { basename, resolve } from "node:path";
import { InputError, noticeLines, oneWord } from "../../errors/index.ts";
import {
  type Answers,
  lastFields,
  type NewPlan,
  type NextSeason,
  newPlan,
  nextSeasonPlan,
  unusedAnswers,
} from "../../plan/index.ts";
import { counted } from "../../units/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { allInJson } from "../explain.ts";
import { gatherFiles, writePlanFolder } from "../plan-folder.ts";
import { runPlan } from "../run-plan.ts";
import { today } from "../today.ts";

/** `new FOLDER FILE...`: a plan from a few files. */
export const command: Command = {
  operands: { shown: "FOLDER [FILE...]", least: 1, most: 1_000 },
  about: [
    "Makes a plan in FOLDER from boundaries, guidance lines and lab tables: says what each file was taken",
    "for, gives every sample to its field and writes plan.json. The files are copied into FOLDER.",
    "What they do not say is asked (exit 3); nothing is written until every question has its answer.",
    "Keys: guide, crop, yield, rows, row-spacing-in, cap, unit.P, unit.K, method.P, method.K, unit.CEC, depth,",
    "date-order, same-place, samples (of several lab tables), option.rotation and the like (what a guide asks);",
    "crop, yield, guide, samples and what a guide asks also for one field: --answer crop.north-kettle=corn.",
    "Where a guide does not take a test: conversion.P, critical-level.P (and K), also critical-level.P.FIELD;",
    "said for all, a level stands only where all fields that want one have one test.",
    "What is asked of a file can be answered for one of several alone: --answer unit.P.lab-b.csv=lb/ac.",
    'A value that is no number is left out, or typed again, as "mend:lab.csv:15:K ppm=102" (file, line, column).',
    "Polygons on a field's ground may be zones, an adviser's rates or places to keep clear of: that is",
    "asked as role.FILE (boundary, zones, rates, exclusions), of points alone too (exclusions, unused);",
    "further keys: zone-id-column,",
    "rate-column.P2O5, rate-of.P2O5, rate-unit.P2O5 (and K2O), exclusion-what, exclusion-method, setback-ft.",
    "With --from LASTYEAR, a plan folder, and no files: boundaries, lines, rig, guides and samples stay, crops go",
    "on in their rotation, what the ledger holds and what is left in stock is carried along; nothing is credited.",
    "With --overwrite a plan.json that stands there is kept beside the new one, as plan-before-1.json, and told.",
  ].join("\n"),
  options: ["answer", "overwrite", "from"],
  run: makePlan,
};

async function makePlan(call: Call): Promise<Outcome> {
  const [folder, ...paths] = call.operands as [string, ...string[]];
  if (folder === "-" || paths.includes("-")) {
    throw new InputError("no-standard-input", "new reads files by name only", "Name the files instead of -.");
  }
  if (call.options.from !== undefined) return nextSeason(call, folder, paths, call.options.from);
  if (paths.length === 0) {
    const remedy = "Name boundaries, guidance lines and lab tables, or --from LASTYEAR.";
    throw new InputError("missing-operand", "new was given no files", remedy);
  }
  const files = await gatherFiles(folder, paths);
  const name = nameOf(folder);
  const date = today();
  const answers = Object.fromEntries(call.options.answer);
  const makeWith = (some: Answers): NewPlan => newPlan(name, date, files, some, true);
  const made = makeWith(answers);
  const unused = unusedAnswers(answers, (some) => {
    const { plan, recognised, notices } = makeWith(some);
    // What was answered stands beside every source, whether it was asked or not.
    const sources = plan.sources.map(({ path, as }) => [path, as]);
    return { questions: [], result: [{ ...plan, sources }, recognised, notices] };
  });
  const replaced = await writePlanFolder(folder, files, made.plan, call.options.overwrite);
  const notices = [...replaced, ...made.notices, ...unused];
  for (const line of made.recognised) call.talk.say(line);
  for (const line of noticeLines(notices, allInJson)) call.talk.say(line);
  const { fields } = made.plan;
  const count = counted(fields.length, "field");
  return {
    exit: exit.done,
    data: `${folder}/plan.json: ${count}, ${counted(made.plan.sources.length, "source")}. Next: bermplan build ${oneWord(folder)} --out DIR`,
    json: { plan: made.plan, recognised: made.recognised, notices },
  };
}

/** What a plan in this folder is called: its last part, of `.` the folder's own name. */
const nameOf = (folder: string): string => basename(resolve(folder)) || "plan";

/** A plan for the season after another, from its folder and ledger. */
async function nextSeason(
  call: Call,
  folder: string,
  paths: readonly string[],
  from: string,
): Promise<Outcome> {
  if (paths.length > 0) {
    const remedy = "Make the plan first; then put this season's lab table in place of the old one.";
    throw new InputError("from-and-files", "--from takes no files beside the folder", remedy);
  }
  const { source, result } = await runPlan(call, from);
  const { plan: last } = result;
  const { stands, ledger } = result;
  const date = today();
  const had = lastFields(last.seasonYear, result.fields);
  const makeWith = (some: Answers): NextSeason =>
    nextSeasonPlan(last, nameOf(folder), date, stands, ledger.entries, had, some);
  const answers = Object.fromEntries(call.options.answer);
  const made = makeWith(answers);
  const unused = unusedAnswers(answers, (some) => ({ questions: [], result: makeWith(some) }));
  const wanted = [...new Set(last.sources.map(({ path }) => path))];
  const files = await Promise.all(wanted.map(async (path) => ({ path, bytes: await source.read(path) })));
  const replaced = await writePlanFolder(folder, files, made.plan, call.options.overwrite);
  const notices = [...replaced, ...made.notices, ...unused];
  for (const line of noticeLines(notices, allInJson)) call.talk.say(line);
  const crops = made.plan.fields.map((field) => `${field.name}: ${field.crop}`).slice(0, 12);
  return {
    exit: exit.done,
    data: [
      `${folder}/plan.json: season ${made.plan.seasonYear}, ${counted(made.plan.fields.length, "field")} from ${from}`,
      ...crops.map((line) => `  ${line}`),
    ].join("\n"),
    json: { plan: made.plan, recognised: [], notices },
  };
}
