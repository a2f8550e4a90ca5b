import { isPlanFile } from "../engine/plan-file.ts";
import type { NamedFile } from "../engine/protocol.ts";
import { breathe } from "../engine/yielding.ts";

/** What the server holds open for the page: its name and the paths of its files. */
export interface ServedList {
  readonly name: string;
  readonly files: readonly string[];
}

export interface Served extends ServedList {
  /** A folder with a plan; of a build only the plan and its inputs. On its way since the list came. */
  readonly read: Promise<readonly NamedFile[]>;
}

/** The session under which a plan that is served is kept. */
export const originOf = ({ name }: Pick<ServedList, "name">): string => `served: ${name}`;

export async function whatIsServed(): Promise<Served | null> {
  const found = await listServed();
  return found && { ...found, read: begun(readServed(found.files)) };
}

/** Name and paths alone; null where no folder is served. */
export async function listServed(): Promise<ServedList | null> {
  try {
    const answer = await fetch("./opened.json");
    return answer.ok ? ((await answer.json()) as ServedList | null) : null;
  } catch {
    return null;
  }
}

/** Whoever waits for it hears of its failure, and nobody before. */
function begun<T>(promise: Promise<T>): Promise<T> {
  promise.catch(() => {});
  return promise;
}

/** Where among the files plan.json lies: empty, or ending in a slash; undefined without one. */
export const planFolderOf = (files: readonly string[]): string | undefined =>
  (files.find((path) => path === "plan.json") ?? files.find(isPlanFile))?.slice(0, -"plan.json".length);

function readServed(files: readonly string[]): Promise<readonly NamedFile[]> {
  const folder = planFolderOf(files);
  const wanted = folder === undefined ? files : files.filter((path) => path.startsWith(folder));
  const asked = wanted.filter((path) => !/^(prescriptions|fields)\//.test(path));
  return fetchFiles("./opened/", asked);
}

/** Files under an address, each asked for in a task of its own: all at once would hold up the page. */
export async function fetchFiles(base: string, paths: readonly string[]): Promise<readonly NamedFile[]> {
  const coming: Promise<NamedFile>[] = [];
  for (const path of paths) {
    coming.push(begun(fetchFile(base, path)));
    await breathe();
  }
  return Promise.all(coming);
}

export async function fetchFile(base: string, path: string): Promise<NamedFile> {
  const address = base + path.split("/").map(encodeURIComponent).join("/");
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${path}: the server answers ${answer.status}`);
  return [path, new Uint8Array(await answer.arrayBuffer())];
}
