import { InputError } from "../../errors/index.ts";
import { readLedger } from "../../ledger/index.ts";
import { LEDGER_PATH, planHash, readPlan } from "../../plan/index.ts";
import {
  besideParts,
  besideSet,
  catchUpClashes,
  checkFiles,
  type FileProblem,
  journalPath,
  manifestPath,
  readManifest,
  type Stick,
  sheetsOfEarlier,
  stickPath,
} from "../../publish/index.ts";
import { firstOf } from "../../report/index.ts";
import { counted } from "../../units/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { olderInWords } from "../older-than-plan.ts";
import { readPlanAt } from "../open-plan.ts";
import { type OpenedSource, openSource } from "../open-source.ts";
import { recoverSwap } from "../recover-swap.ts";
import { sayNotices } from "../talk.ts";

/** `check DIR`: holds a written set against its manifest. */
export const command: Command = {
  operands: { shown: "DIR|FILE.zip|-", least: 1, most: 1 },
  about: [
    "Holds a written set against its manifest.json: every file there with the bytes it was written with,",
    "and no other file beside them. What an interrupted run left behind is cleared away first.",
    "On a stick other files may stand beside the set; a writing that was interrupted is told as incomplete.",
    "With --plan PLAN it also says whether the set was made from the plan as it is now, and if its ledger grew.",
    "Exit 0 when it is as written, 2 with every file that is changed, missing or a stranger, or when it is older.",
  ].join("\n"),
  options: ["plan"],
  run: check,
};

async function check(call: Call): Promise<Outcome> {
  const folder = call.operands[0]!;
  if (folder !== "-") sayNotices(call.talk, await recoverSwap(folder));
  const source = await openSource(folder, call.readStandardInput);
  sayNotices(call.talk, source.notices);
  const present = await source.list();
  if (present.includes(journalPath)) {
    const message = `${folder} is incomplete: writing it was interrupted before its ${manifestPath}`;
    throw new InputError("incomplete", message, "Do not use it: write the stick once more.");
  }
  if (!present.includes(manifestPath)) {
    const message = `${folder} holds no ${manifestPath}: it is no set of this tool, or it is incomplete`;
    throw new InputError("no-manifest", message, "Give the folder that build wrote, or build it again.");
  }
  const manifest = readManifest(await source.read(manifestPath), `${folder}/${manifestPath}`);
  const isStick = manifest.files.some((file) => file.path === stickPath);
  const found = await checkFiles(manifest, source);
  const problems = found.filter((problem) => !isStick || problem.kind !== "stranger");
  const count = manifest.files.length;
  const files = counted(count, "file");
  if (problems.length > 0) {
    const lines = problems.map((problem) => `  ${problem.message}`);
    throw new InputError(
      "not-as-written",
      `${folder} is not as written: ${problemsInWords(problems, count)}\n${lines.join("\n")}`,
      "Do not use it: take it once more from where it was written, or build it again.",
    );
  }
  const stick = isStick
    ? (JSON.parse(new TextDecoder().decode(await source.read(stickPath))) as Stick)
    : null;
  const clashes = catchUpClashes(present, stick?.maps);
  if (clashes.length > 0) {
    const lines = clashes.map(({ catchUp, planned }) => `  ${catchUp} takes the place of ${planned}`);
    throw new InputError(
      "catch-up-and-broadcast",
      `${folder} holds catch-up maps beside the planned broadcast maps of the same fields; spread both and the ground gets it twice\n${lines.join("\n")}`,
      isStick
        ? "Spread one of the two: put the catch-up maps on an empty stick and delete the planned ones from the display, or take the catch-up maps off this stick."
        : "Delete the planned maps from stick and display first.",
    );
  }
  const { planSha256, toolVersion } = manifest;
  const madeFrom = async (): Promise<string> =>
    stick?.planHash ?? planHash(readPlan(await source.read("plan/plan.json"), `${folder}/plan/plan.json`));
  if (call.options.plan !== undefined) await refuseOlder(await madeFrom(), planSha256, folder, call);
  if (stick !== null) {
    // A sheet that holds for what was loaded of an earlier plan is none that misleads.
    const held = sheetsOfEarlier(stick.maps).filter((path) => present.includes(path));
    const others = found.length - problems.length - held.length;
    const names = besideSet(
      present.filter((path) => !held.includes(path)),
      manifest.files.map(({ path }) => path),
    );
    const apart = besideParts(stick.pass, names);
    const beside =
      others === 0
        ? ""
        : `; ${counted(others, "other file")} beside them${apart.others.length === 0 ? "" : `, not to be loaded: ${firstOf(apart.others).join(", ")}`}${apart.catchUps.length === 0 ? "" : `; catch-up maps, each to be loaded for its own field: ${firstOf(apart.catchUps).join(", ")}`}`;
    const earlier =
      held.length === 0
        ? ""
        : `; ${held.join(", ")} holds for the maps of an earlier plan, as they were loaded`;
    return {
      exit: exit.done,
      data: `${folder}: stick of the ${stick.pass} pass, revision ${stick.revision}: ${files}, same as written${earlier}${beside}`,
      json: {
        asWritten: true,
        files: count,
        planSha256,
        toolVersion,
        revision: stick.revision,
        others,
        beside: names,
      },
    };
  }
  const copy = present.includes("plan/plan.json") ? await bytesAt(source, `plan/${LEDGER_PATH}`) : null;
  const grown = call.options.plan === undefined || copy === null ? [] : await linesSince(copy, call);
  return {
    exit: exit.done,
    data: [`${folder}: ${files}, same as written`, ...grown].join("\n"),
    json: {
      asWritten: true,
      files: count,
      planSha256,
      toolVersion,
      ...(grown.length === 0 ? {} : { ledgerGrown: true }),
    },
  };
}

/** How many files are not as they were: `of its 12 files 1 changed, 2 missing; 1 file that does not belong`. */
function problemsInWords(problems: readonly FileProblem[], files: number): string {
  const how = ([kind, word]: readonly [FileProblem["kind"], string]): string[] => {
    const many = problems.filter((problem) => problem.kind === kind).length;
    return many === 0 ? [] : [`${many} ${word}`];
  };
  const own = (
    [
      ["changed", "changed"],
      ["missing", "missing"],
      ["unreadable", "not readable"],
    ] as const
  ).flatMap(how);
  const others = problems.filter(({ kind }) => kind === "stranger").length;
  return [
    ...(own.length === 0 ? [] : [`of its ${counted(files, "file")} ${own.join(", ")}`]),
    ...(others === 0 ? [] : [`${counted(others, "file")} that ${others === 1 ? "does" : "do"} not belong`]),
  ].join("; ");
}

/** Throws `older-than-plan` when the plan given is not the one the set was made from. */
async function refuseOlder(madeFrom: string, planSha256: string, folder: string, call: Call): Promise<void> {
  const older = await olderInWords({ hash: madeFrom }, planSha256, call.options.plan!, call);
  if (older === "") return;
  throw new InputError(
    "older-than-plan",
    `${folder} is as written, but ${older}`,
    "Build it from the plan as it is now, and write the stick again.",
  );
}

/** A file of a set or plan, empty where there is none. */
const bytesAt = async (source: OpenedSource, path: string): Promise<Uint8Array> =>
  (await source.list()).includes(path) ? await source.read(path) : new Uint8Array();

/** What the ledger of the plan given has beyond the build's copy of it; that a map went on a stick changes nothing built. */
async function linesSince(copy: Uint8Array, call: Call): Promise<string[]> {
  const { source } = await readPlanAt(call, call.options.plan!);
  const built = readLedger(copy, `plan/${LEDGER_PATH}`).entries.length;
  const more = readLedger(await bytesAt(source, LEDGER_PATH), LEDGER_PATH)
    .entries.slice(built)
    .filter(({ kind }) => kind !== "loaded");
  const [first, last] = [more[0], more.at(-1)];
  if (first === undefined || last === undefined) return [];
  const which =
    more.length === 1
      ? `line ${first.number} of ${first.date} is`
      : `lines ${first.number} to ${last.number}, the last of ${last.date}, are`;
  return [
    `Notice: the plan's ledger has grown since: ${which} not in this build, so what its maps, order and season say is of before`,
  ];
}
