import { InputError } from "../../errors/index.ts";
import { newPlan, writePlan } from "../../plan/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { gatherFiles, writePlanFolder } from "../plan-folder.ts";

/** `new FOLDER FILE...`: a plan from a few files. */
export const command: Command = {
  operands: { shown: "FOLDER FILE...", least: 2, most: 1_000 },
  about: [
    "Makes a plan in FOLDER from boundaries, guidance lines and lab tables: says what each file was taken",
    "for, gives every sample to its field and writes plan.json. The files are copied into FOLDER.",
    "What they do not say is asked (exit 3); nothing is written until every question has its answer.",
    "Keys: guide, crop, yield, rows, row-spacing-in, cap, unit.P, unit.K, method.P, method.K, depth,",
    "same-place; crop, yield and guide also for one field: --answer crop.north-kettle=corn.",
    "Polygons on a field's ground may be zones, an adviser's rates or places to keep clear of: that is",
    "asked as role.FILE (boundary, zones, rates, exclusions); further keys: zone-id-column,",
    "rate-column.P2O5, rate-of.P2O5, rate-unit.P2O5 (and K2O), exclusion-what, exclusion-method, setback-ft.",
  ].join("\n"),
  options: ["answer", "overwrite"],
  run: makePlan,
};

async function makePlan(call: Call): Promise<Outcome> {
  const [folder, ...paths] = call.operands as [string, ...string[]];
  if (folder === "-" || paths.includes("-")) {
    throw new InputError("no-standard-input", "new reads files by name only", "Name the files instead of -.");
  }
  const files = await gatherFiles(folder, paths);
  const name =
    folder
      .replace(/[/\\]+$/, "")
      .split(/[/\\]/)
      .at(-1) || "plan";
  const today = new Date();
  const two = (number: number) => String(number).padStart(2, "0");
  const date = `${today.getFullYear()}-${two(today.getMonth() + 1)}-${two(today.getDate())}`;
  const made = newPlan(name, date, files, Object.fromEntries(call.options.answer));
  await writePlanFolder(folder, files, writePlan(made.plan), call.options.overwrite);
  for (const line of made.recognised) call.talk.say(line);
  for (const notice of made.notices) call.talk.say(`Notice: ${notice.message}`);
  const { fields } = made.plan;
  const count = `${fields.length} ${fields.length === 1 ? "field" : "fields"}`;
  return {
    exit: exit.done,
    data: `${folder}/plan.json: ${count}, ${made.plan.sources.length} sources. Next: bermplan build ${folder} --out DIR`,
    json: { plan: made.plan, recognised: made.recognised, notices: made.notices },
  };
}
