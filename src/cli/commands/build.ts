import { InputError, noticeLines } from "../../errors/index.ts";
import { LEDGER_PATH, readPlan, run } from "../../plan/index.ts";
import { buildFiles, resultJson } from "../../publish/index.ts";
import { summary } from "../../report/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { openPlan } from "../open-plan.ts";
import { openBandThreads } from "../parallel-bands.ts";
import { runOptions } from "../run-plan.ts";
import { prepareFolder, publishFolder } from "../swap.ts";
import { toolVersion } from "../version.ts";

/** `build PLAN --out DIR`: the whole job, to files on disk. */
export const command: Command = {
  operands: { shown: "PLAN", least: 1, most: 1 },
  about: [
    "Works a plan out to prescription files: soil maps, need, split, passes, strip and broadcast maps.",
    "Every file is read back by other code and its pounds compared before anything is put into DIR;",
    "DIR then holds the whole new set or, if anything went wrong, what it held before.",
    "PLAN is a folder with plan.json, the plan.json itself, or a zip of the folder.",
  ].join("\n"),
  options: ["out", "overwrite", "field", "answer"],
  run: build,
};

async function build(call: Call): Promise<Outcome> {
  const { options, talk, signal } = call;
  const out = options.out;
  if (out === undefined) {
    throw new InputError(
      "no-out",
      "build needs a folder to write into",
      "Add --out DIR, such as --out out/spring.",
    );
  }
  for (const notice of await prepareFolder(out, options.overwrite)) talk.say(notice.message);
  const source = await openPlan(call.operands[0]!, call.readStandardInput);
  for (const notice of source.notices) talk.say(notice.message);
  const planFiles = new Map([["plan.json", await source.read("plan.json")]]);
  const plan = readPlan(planFiles.get("plan.json")!, "plan.json");
  const threads = openBandThreads();
  const result = await run(plan, source, { parallel: threads, ...runOptions(call) }).finally(threads.close);
  const present = new Set(await source.list());
  for (const path of [...plan.sources.map((one) => one.path), LEDGER_PATH]) {
    if (present.has(path)) planFiles.set(path, await source.read(path));
  }
  const files = buildFiles(result, toolVersion(), planFiles);
  const leftovers = await publishFolder(out, files, {
    overwrite: options.overwrite,
    signal,
    onProgress: (done, total) => talk.progress("Writing file", done, total),
  });
  for (const notice of leftovers) talk.say(notice.message);
  const notices = [...result.notices, ...result.fields.flatMap((field) => field.notices)];
  for (const line of noticeLines(notices, "all are in result.json")) talk.say(line);
  return {
    exit: result.refused.length > 0 ? exit.partly : exit.done,
    data: `${summary(result)}\n\n${whereFilesAre(out, files)}`,
    json: resultJson(result),
  };
}

function whereFilesAre(out: string, files: ReadonlyMap<string, Uint8Array>): string {
  const extras = [...files.keys()].some((path) => path.startsWith("extras/"));
  const count = (folder: string) => [...files.keys()].filter((path) => path.startsWith(folder)).length;
  return [
    `Files in ${out}:`,
    `  prescriptions/strip      ${count("prescriptions/strip/")} files for the strip rig`,
    `  prescriptions/broadcast  ${count("prescriptions/broadcast/")} files for the spreader`,
    ...(extras
      ? [`  extras                   ${count("extras/")} files in other forms; not to be loaded first`]
      : []),
    "  cab.html, order.html     sheets to print or to open in the cab",
    "  fields/<field>           field-sheet.html to print, cells.csv by 10 m cell",
    "  order.csv                pounds and tons by field, pass and product",
    "  result.json              every figure, notice and file hash",
    "  plan                     what it was made from",
  ].join("\n");
}
