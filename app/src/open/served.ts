import type { NamedFile } from "../engine/protocol.ts";

/** What the server holds open for the page: its name and the paths of its files. */
export interface Served {
  readonly name: string;
  readonly files: readonly string[];
}

export async function whatIsServed(): Promise<Served | null> {
  try {
    const answer = await fetch("./opened.json");
    if (!answer.ok) return null;
    return (await answer.json()) as Served | null;
  } catch {
    return null;
  }
}

export async function fetchFile(base: string, path: string): Promise<NamedFile> {
  const address = base + path.split("/").map(encodeURIComponent).join("/");
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${path}: the server answers ${answer.status}`);
  return [path, new Uint8Array(await answer.arrayBuffer())];
}
