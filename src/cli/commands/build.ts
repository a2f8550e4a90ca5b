import { InputError, noticeLines } from "../../errors/index.ts";
import { type RunResult, run } from "../../plan/index.ts";
import { buildFiles, resultJson } from "../../publish/index.ts";
import { loadOrder, summary } from "../../report/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { planFiles, readPlanAt } from "../open-plan.ts";
import { prepareOut, writeOut } from "../out-folder.ts";
import { openBandThreads } from "../parallel-bands.ts";
import { exitOf, runOptions } from "../run-plan.ts";
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
  const { out } = call.options;
  if (out === undefined) {
    throw new InputError(
      "no-out",
      "build needs a folder to write into",
      "Add --out DIR, such as --out out/spring.",
    );
  }
  await prepareOut(call, out);
  return buildInto(out, call).catch((error: unknown) => {
    if (call.signal.aborted) call.talk.say(`${out} is as it was before.`);
    throw error;
  });
}

async function buildInto(out: string, call: Call): Promise<Outcome> {
  const { source, plan } = await readPlanAt(call, call.operands[0]!);
  const threads = openBandThreads();
  const result = await run(plan, source, { parallel: threads, ...runOptions(call) }).finally(threads.close);
  const files = buildFiles(result, toolVersion(), await planFiles(source, plan));
  await writeOut(call, out, files);
  const notices = [...result.notices, ...result.fields.flatMap((field) => field.notices)];
  for (const line of noticeLines(notices, "all are in result.json")) call.talk.say(line);
  return {
    exit: exitOf(result),
    data: `${summary(result)}\n\n${whereFilesAre(out, files, firstForms(result))}`,
    json: resultJson(result),
  };
}

/** Other forms than the map that the stick takes first. */
const firstForms = ({ plan, fields }: RunResult): readonly string[] => [
  ...new Set(
    fields.flatMap((field) =>
      (["strip", "broadcast"] as const).flatMap((pass) => {
        const form = loadOrder(plan, field, pass).steps[0]?.form;
        return form === undefined || form === "shapefile" ? [] : [form];
      }),
    ),
  ),
];

function whereFilesAre(
  out: string,
  files: ReadonlyMap<string, Uint8Array>,
  first: readonly string[],
): string {
  const which = first.length === 0 ? "not to be loaded first" : `of them ${first.join(", ")} loads first`;
  const extras = [...files.keys()].some((path) => path.startsWith("extras/"));
  const count = (folder: string) => [...files.keys()].filter((path) => path.startsWith(folder)).length;
  return [
    `Files in ${out}:`,
    `  prescriptions/strip      ${count("prescriptions/strip/")} files for the strip rig`,
    `  prescriptions/broadcast  ${count("prescriptions/broadcast/")} files for the spreader`,
    ...(extras ? [`  extras                   ${count("extras/")} files in other forms; ${which}`] : []),
    "  cab.html, order.html     sheets to print or to open in the cab",
    ...(files.has("spreader.html") ? ["  spreader.html            the spreader's sheet"] : []),
    "  fields/<field>           field-sheet.html to print, cells.csv by 10 m cell",
    "  order.csv                pounds and tons by field, pass and product",
    "  result.json              every figure, notice and file hash",
    "  plan                     what it was made from",
  ].join("\n");
}
