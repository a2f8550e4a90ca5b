import { resolve } from "node:path";
import { InputError, QuestionError } from "../../errors/index.ts";
import { readPlan, zeroRateOf } from "../../plan/index.ts";
import { remainderOf } from "../../prescription/index.ts";
import {
  besideParts,
  builtMaps,
  catchUpByHand,
  type FieldMark,
  journalPath,
  loadedEarlier,
  loadFirstInWords,
  loadsTaskData,
  lookInLedger,
  noSticks,
  placesTaken,
  readStickRecord,
  type StickMap,
  type StickPass,
  type StickRecord,
  sheetsOfEarlier,
  writeStickRecord,
  zerosInWords,
} from "../../publish/index.ts";
import { firstOf } from "../../report/index.ts";
import { counted } from "../../units/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { realDisk } from "../disk-calls.ts";
import { diskError } from "../disk-error.ts";
import { exit } from "../exit.ts";
import { olderInWords, olderQuestion } from "../older-than-plan.ts";
import { openSource } from "../open-source.ts";
import { putOnStick, type StickTold } from "../put-on-stick.ts";
import { recoverSwap } from "../recover-swap.ts";
import { ledgerEntries, ledgerOfBuild, tellLedger } from "../stick-ledger.ts";
import { sayNotices } from "../talk.ts";
import { today } from "../today.ts";
import { wholeBuild } from "../whole-build.ts";
import { replaceFile } from "../write-new.ts";

/** `stick DIR --to FOLDER`: a build's maps on the stick of one machine. */
export const command: Command = {
  operands: { shown: "DIR", least: 1, most: 1 },
  about: [
    "Puts the maps of DIR, a folder that build wrote, on a stick for one machine: names as the plan's controller",
    "takes them, each with the letter of its revision; files first, the manifest last; all read back.",
    "An existing TASKDATA may hold logs: it is asked about and then moved whole to a dated folder. Older maps",
    "of the same fields are listed and stay. --mark north=loaded keeps a field from being written again",
    "without --reissue. What went on sticks is remembered in DIR.stick.json, beside DIR; with --plan PLAN also in",
    "the plan's ledger, and it is asked whether a build that is older than PLAN is to be written.",
    "Fields that the ledger says are finished or stripped are left out, one part stripped is told;",
    "without --plan the ledger is the one that DIR was built with.",
    "Keys: zero-rate, existing-taskdata, older-build.",
  ].join("\n"),
  options: ["to", "pass", "field", "mark", "reissue", "answer", "plan"],
  run: stick,
};

async function stick(call: Call): Promise<Outcome> {
  const { options, talk } = call;
  const dir = call.operands[0]!;
  const pass = passOf(options.pass);
  if (dir === "-") {
    throw new InputError(
      "no-standard-input",
      "stick reads a build by its name only",
      "Give its folder or zip.",
    );
  }
  sayNotices(talk, await recoverSwap(dir));
  const build = await openSource(dir, call.readStandardInput);
  const { planSha256, toolVersion } = await wholeBuild(build, dir, "nothing was written");
  const plan = readPlan(await build.read("plan/plan.json"), `${dir}/plan/plan.json`);
  const recordPath = `${resolve(dir)}.stick.json`;
  let record = readRecord(recordPath);
  const maps = await builtMaps(build);
  const byHand = catchUpByHand(dir, plan, maps, await placesTaken(build));
  if (byHand !== null) {
    const message = `${dir} holds catch-up maps, which stick does not write`;
    throw new InputError("catch-up-by-hand", message, byHand);
  }
  const fields = [...new Set(maps.map((map) => map.field))];
  if (options.mark.size > 0) {
    record = marked(record, pass, options.mark, fields);
    saveRecord(recordPath, record);
    if (options.to === undefined) return marksOutcome(record, pass);
  }
  const to = options.to;
  if (to === undefined) {
    throw new InputError(
      "no-to",
      "stick needs a folder to write to",
      "Add --to FOLDER, such as --to /media/stick.",
    );
  }
  if (resolve(to) === resolve(dir)) {
    throw new InputError("to-is-build", `${to} is the build itself`, "Give the folder of the stick.");
  }
  const answers = Object.fromEntries(options.answer);
  const ledgerName = options.plan === undefined ? `the ledger in ${dir}` : "the plan's ledger";
  const look = await lookInLedger({
    entries: options.plan === undefined ? await ledgerOfBuild(build) : ledgerEntries(options.plan),
    ...{ ledgerName, build, maps, pass, asked: options.field, reissue: options.reissue },
  });
  const older =
    options.plan === undefined ? "" : await olderInWords({ plan }, planSha256, options.plan, call);
  if (older !== "" && answers["older-build"] !== "write")
    throw new QuestionError([olderQuestion(`${dir} is ${older}`, answers["older-build"])]);
  const ofBefore = older === "" ? [] : [`These maps are ${older}`];
  for (const line of ofBefore) talk.say(`LOOK: ${line}`);
  const { only, finished, stripped, leftOut } = look;
  if (finished.length > 0) talk.say(`Left out, finished by ${ledgerName}: ${finished.join(", ")}`);
  for (const line of stripped) talk.say(`Left out (--reissue writes it all the same): ${line}`);
  const earlier = loadedEarlier(record, maps, plan, { pass, only, reissue: options.reissue });
  for (const line of earlier) talk.say(`LOOK: ${line}`);
  const said = [...ofBefore, ...look.said, ...earlier];
  const told = await putOnStick({
    build,
    to,
    plan,
    planSha256,
    toolVersion,
    pass,
    only,
    said,
    leftOut,
    reissue: options.reissue,
    record,
    saveRecord: (now) => saveRecord(recordPath, now),
    zeroRate: () => zeroRateOf(plan.controller, answers),
    existingTaskData: loadsTaskData(plan, maps) ? answers["existing-taskdata"] : undefined,
    today: today(),
    disk: realDisk,
    signal: call.signal,
    onProgress: (done, total) => talk.progress("Writing file", done, total),
  }).catch((error: unknown) => {
    if (call.signal.aborted && realDisk.kind(`${to}/${journalPath}`) !== null)
      talk.say(`${to} is incomplete: do not use it, write it once more.`);
    throw error;
  });
  for (const line of told.doubts) talk.say(line);
  const nameOf = (id: string): string => plan.fields.find((field) => field.id === id)?.name ?? id;
  if (options.plan !== undefined) {
    const kept = [...told.heldBack.map(({ field }) => field), ...told.standing];
    const here = told.stick.maps.filter((map) => !kept.includes(map.field));
    const lines = tellLedger(options.plan, pass, told.stick.revision, here);
    if (lines > 0) talk.say(`${counted(lines, "line")} written into the plan's ledger.`);
  }
  return { exit: exit.done, data: inWords(told, to, nameOf, said), json: { ...asJson(told), said } };
}

function passOf(text: string | undefined): StickPass {
  if (text === undefined || text === "strip") return "strip";
  if (text === "broadcast") return "broadcast";
  throw new InputError("not-a-pass", `“${text}” is no pass`, "Give --pass strip or --pass broadcast.");
}

function readRecord(path: string): StickRecord {
  try {
    return realDisk.kind(path) === null ? noSticks : readStickRecord(realDisk.read(path), path);
  } catch (error) {
    throw diskError(error, path);
  }
}

function saveRecord(path: string, record: StickRecord): void {
  try {
    replaceFile(path, writeStickRecord(record), realDisk);
  } catch (error) {
    throw diskError(error, path);
  }
}

function marked(
  record: StickRecord,
  pass: StickPass,
  marks: ReadonlyMap<string, string>,
  fields: readonly string[],
): StickRecord {
  const now: Record<string, FieldMark> = { ...record[pass].marks };
  for (const [field, state] of marks) {
    if (!fields.includes(field)) {
      const remedy = `Name one of: ${fields.slice(0, 12).join(", ")}.`;
      throw new InputError("no-such-field", `The build has no field “${field}”.`, remedy);
    }
    if (state === "open") delete now[field];
    else if (state === "loaded" || state === "done") now[field] = state;
    else {
      throw new InputError(
        "not-a-state",
        `--mark ${field}=${state}: no such state`,
        "Give loaded, done or open.",
      );
    }
  }
  return { ...record, [pass]: { ...record[pass], marks: now } };
}

function marksOutcome(record: StickRecord, pass: StickPass): Outcome {
  const marks = Object.entries(record[pass].marks);
  const lines = marks.map(([field, mark]) => `  ${field}: ${mark}`);
  const data =
    marks.length === 0
      ? `No field is marked for the ${pass} pass.`
      : `Marked for the ${pass} pass:\n${lines.join("\n")}`;
  return { exit: exit.done, data, json: { pass, marks: record[pass].marks } };
}

function inWords(
  told: StickTold,
  to: string,
  nameOf: (field: string) => string,
  said: readonly string[],
): string {
  const { stick } = told;
  const lineOf = (map: StickMap): string => {
    const { name, figures } = loadFirstInWords(stick.pass, map);
    return `${name}  ${nameOf(map.field)}, ${figures}`;
  };
  const ofEarlier = new Set(stick.maps.flatMap((map) => (map.ofEarlierPlan ? [map.field] : [])));
  const earlier = stick.maps.filter(({ field }) => ofEarlier.has(field));
  const lines = stick.maps.filter(({ field }) => !ofEarlier.has(field)).map(lineOf);
  const list = (head: string, items: readonly string[]) =>
    items.length === 0 ? [] : [head, ...items.map((item) => `  ${item}`)];
  const holes = zerosInWords(stick);
  const { catchUps, others } = besideParts(
    stick.pass,
    told.beside.filter((one) => !told.older.includes(one)),
  );
  return [
    `Stick in ${to}: ${stick.pass} maps of ${stick.plan}, revision ${stick.revision}`,
    ...list("To load first:", lines),
    ...list(
      `Of an earlier plan, as they were loaded; ${sheetsOfEarlier(earlier).join(", ")} holds for them, not this one:`,
      earlier.map(lineOf),
    ),
    ...list("LOOK BEFORE LOADING:", said),
    ...(holes === "" ? [] : [holes]),
    ...list(
      "Marked, so not written again (--reissue writes them):",
      told.heldBack.map(({ field, mark }) => `${nameOf(field)} (--mark ${field}=${mark})`),
    ),
    ...list(
      "Older maps of these fields are on the stick; take them off once no display needs them:",
      told.older,
    ),
    ...list(
      "Left out and never to be loaded: a rate 0 is in it, which this controller must not get:",
      stick.neverLoad ?? [],
    ),
    ...list("Not of this set, and not to be loaded:", firstOf(others)),
    ...list("Not of this set: catch-up maps, each to be loaded for its own field:", firstOf(catchUps)),
    ...(others.length > 0 && stick.maps.every(({ stem }) => remainderOf(stem) !== null)
      ? [
          "This set is what is left of a field alone: before the next field write the stick again from the build, with --field for those to come.",
        ]
      : []),
    ...(told.movedTaskData === null
      ? []
      : [`The TASKDATA that was there is now ${told.movedTaskData}; it may hold logs.`]),
    `${told.files} files and their manifest written and read back; eject before pulling it out; test-load today`,
  ].join("\n");
}

const asJson = (told: StickTold): Readonly<Record<string, unknown>> => ({
  revision: told.stick.revision,
  pass: told.stick.pass,
  maps: told.stick.maps,
  neverLoad: told.stick.neverLoad ?? [],
  heldBack: told.heldBack,
  olderMaps: told.older,
  beside: told.beside,
  movedTaskData: told.movedTaskData,
  files: told.files,
});
