import { heldFiles, readHeld } from "../state/held.ts";
import { takeDrop } from "./drop-state.ts";
import { fetchFile, type Served } from "./served.ts";

/** Ready scenarios beside the page: name and the paths of their files. */
export type Scenarios = Readonly<Record<string, readonly string[]>>;

export async function listScenarios(): Promise<Scenarios> {
  try {
    const answer = await fetch("./sample-data/list.json");
    return answer.ok ? ((await answer.json()) as Scenarios) : {};
  } catch {
    return {};
  }
}

export async function openScenario(name: string, paths: readonly string[]): Promise<void> {
  const files = await Promise.all(paths.map((path) => fetchFile(`./sample-data/${name}/`, path)));
  await takeDrop(name, files, `scenario: ${name}`);
}

/** A folder with a plan; of a build only the plan and its inputs are read. */
export async function openServed(served: Served): Promise<void> {
  const { name, files } = served;
  await holdAgainst(served);
  const planPath =
    files.find((path) => path === "plan.json") ?? files.find((path) => /(^|\/)plan\.json$/.test(path));
  const folder = planPath?.slice(0, -"plan.json".length);
  const wanted = folder === undefined ? files : files.filter((path) => path.startsWith(folder));
  const read = await Promise.all(
    wanted
      .filter((path) => !/^(prescriptions|fields)\//.test(path))
      .map((path) => fetchFile("./opened/", path)),
  );
  await takeDrop(name, read, `served: ${name}`);
}

/** Remember what the folder's own files hold, so that the page can say when they disagree with the plan. */
export async function holdAgainst({ name, files }: Served): Promise<void> {
  if (!files.includes("result.json")) return;
  const [, bytes] = await fetchFile("./opened/", "result.json");
  heldFiles.value = readHeld(`served: ${name}`, new TextDecoder().decode(bytes));
}
