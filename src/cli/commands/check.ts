import { InputError } from "../../errors/index.ts";
import { checkFiles, manifestPath, readManifest } from "../../publish/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { openSource } from "../open-source.ts";
import { recoverSwap } from "../recover-swap.ts";

/** `check DIR`: holds a written set against its manifest. */
export const command: Command = {
  operands: { shown: "DIR|FILE.zip|-", least: 1, most: 1 },
  about: [
    "Holds a written set against its manifest.json: every file there with the bytes it was written with,",
    "and no other file beside them. What an interrupted run left behind is cleared away first.",
    "Exit 0 when it is as written, 2 with every file that is changed, missing or a stranger.",
  ].join("\n"),
  options: [],
  run: check,
};

async function check(call: Call): Promise<Outcome> {
  const folder = call.operands[0]!;
  if (folder !== "-") for (const notice of await recoverSwap(folder)) call.talk.say(notice.message);
  const source = await openSource(folder, call.readStandardInput);
  for (const notice of source.notices) call.talk.say(notice.message);
  if (!(await source.list()).includes(manifestPath)) {
    const message = `${folder} holds no ${manifestPath}: it is no set of this tool, or it is incomplete`;
    throw new InputError("no-manifest", message, "Give the folder that build wrote, or build it again.");
  }
  const manifest = readManifest(await source.read(manifestPath), `${folder}/${manifestPath}`);
  const problems = await checkFiles(manifest, source);
  const count = manifest.files.length;
  const files = count === 1 ? "file" : "files";
  if (problems.length > 0) {
    const lines = problems.map((problem) => `  ${problem.message}`);
    throw new InputError(
      "not-as-written",
      `${folder} is not as written: ${problems.length} against ${count} ${files} in its manifest\n${lines.join("\n")}`,
      "Do not use it: take it once more from where it was written, or build it again.",
    );
  }
  const { planSha256, toolVersion } = manifest;
  return {
    exit: exit.done,
    data: `${folder}: ${count} ${files}, same as written`,
    json: { asWritten: true, files: count, planSha256, toolVersion },
  };
}
