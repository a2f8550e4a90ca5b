import { heldFiles, readHeld } from "../state/held.ts";
import { takeDrop } from "./drop-state.ts";
import { fetchFile, fetchFiles, originOf, type Served, type ServedList } from "./served.ts";

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
  const coming = fetchFiles(`./sample-data/${name}/`, paths);
  await takeDrop(
    coming.then((files) => ({ name, files })),
    `scenario: ${name}`,
  );
}

export async function openServed(served: Served): Promise<void> {
  const coming = Promise.all([served.read, holdAgainst(served)]);
  await takeDrop(
    coming.then(([files]) => ({ name: served.name, files })),
    originOf(served),
  );
}

/** Remember what the folder's own files hold, so that the page can say when they disagree with the plan. */
export async function holdAgainst({ name, files }: ServedList): Promise<void> {
  if (!files.includes("result.json")) return;
  const [, bytes] = await fetchFile("./opened/", "result.json");
  heldFiles.value = readHeld(originOf({ name }), new TextDecoder().decode(bytes));
}
