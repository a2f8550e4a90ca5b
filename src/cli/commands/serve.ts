import { basename, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { InputError } from "../../errors/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { folderOf } from "../open-plan.ts";
import { openSource } from "../open-source.ts";
import { isPageThere, type OpenedFolder } from "../serve-answer.ts";
import { listen } from "../serve-listen.ts";
import { sayNotices } from "../talk.ts";

const FIRST_PORT = 8417;

/** `serve [DIR|PLAN]`: the page, on this computer alone. */
export const command: Command = {
  operands: { shown: "[DIR|PLAN]", least: 0, most: 1 },
  about: [
    "Shows the page in a browser on this computer: nobody else can reach it, and nothing leaves it.",
    "DIR is a folder that build wrote, or one with plan.json (or its zip); the page opens it and changes",
    "nothing in it. Without DIR the page begins empty. Prints the address; Ctrl-C ends it.",
  ].join("\n"),
  options: ["port"],
  run: serve,
};

async function serve(call: Call): Promise<Outcome> {
  const { talk, signal, options } = call;
  const page = fileURLToPath(new URL("../../../app/dist", import.meta.url));
  if (!(await isPageThere(page))) {
    throw new InputError(
      "page-not-built",
      `there is no built page in ${page}`,
      "Build it with npm run build.",
    );
  }
  const [operand] = call.operands;
  const opened = operand === undefined ? null : await open(operand, call);
  const { url, server } = await listen({ page, opened }, portOf(options.port), options.port !== undefined);
  const what = opened ? ` with ${opened.name}` : "";
  talk.say(`The page is at ${url}${what}. Ctrl-C ends it.`);
  await new Promise<void>((done) => {
    if (signal.aborted) return done();
    signal.addEventListener("abort", () => done(), { once: true });
  });
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
  signal.throwIfAborted();
  return { exit: exit.done, data: "", json: { url } };
}

async function open(operand: string, call: Call): Promise<OpenedFolder> {
  const folder = folderOf(operand);
  const source = await openSource(folder, call.readStandardInput);
  sayNotices(call.talk, source.notices);
  return { name: basename(resolve(folder)), source };
}

function portOf(text: string | undefined): number {
  if (text === undefined) return FIRST_PORT;
  const port = Number(text);
  if (Number.isInteger(port) && port >= 0 && port <= 65_535) return port;
  throw new InputError("not-a-port", `“${text}” is not a port`, "Give a whole number from 0 to 65535.");
}
