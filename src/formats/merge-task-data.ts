import { taskDataXml } from "./write-task-data.ts";

const ORDER = ["CTR", "FRM", "PDT", "PGP", "VPN", "PFD", "TSK"] as const;
const ROOT = /^<ISO11783_TaskData VersionMajor="([34])" /;

/**
 * Several sets that `writeTaskData` made, put together as one: elements that all sets hold stand once, fields and tasks
 * keep their numbers, grids come along. Sets of other makers are never merged: whatever is not laid out as
 * ours, of another version, or takes a number twice is our bug and throws.
 */
export function mergeTaskData(
  sets: readonly ReadonlyMap<string, Uint8Array>[],
): Map<string, Uint8Array<ArrayBuffer>> {
  const lines = new Map<string, string>();
  const versions = new Set<string>();
  const grids: [string, Uint8Array<ArrayBuffer>][] = [];
  for (const set of sets) {
    for (const [path, bytes] of set) {
      if (path !== "TASKDATA/TASKDATA.XML") {
        grids.push([path, Uint8Array.from(bytes)]);
        continue;
      }
      const [, root, ...elements] = new TextDecoder().decode(bytes).trimEnd().split("\n");
      versions.add(ROOT.exec(root ?? "")?.[1] ?? "none");
      if (elements.pop() !== "</ISO11783_TaskData>") throw new Error("task data not laid out as ours");
      for (const line of elements) addLine(lines, line);
    }
  }
  const [version, another] = versions;
  if ((version !== "3" && version !== "4") || another !== undefined)
    throw new Error("task data of several versions");
  if (new Set(grids.map(([path]) => path)).size < grids.length) throw new Error("two grids of one name");
  const rank = (line: string): number => ORDER.findIndex((tag) => line.startsWith(`<${tag} `));
  const sorted = [...lines].sort(
    ([a, lineA], [b, lineB]) => rank(lineA) - rank(lineB) || Number(a.slice(3)) - Number(b.slice(3)),
  );
  const xml = taskDataXml(
    version === "3" ? 3 : 4,
    sorted.map(([, line]) => line),
  );
  grids.sort(([a], [b]) => (a < b ? -1 : 1));
  return new Map([["TASKDATA/TASKDATA.XML", xml], ...grids]);
}

function addLine(lines: Map<string, string>, line: string): void {
  const key = /^<[A-Z]{3} A="([A-Z]{3}\d+)"/.exec(line)?.[1];
  if (key === undefined) throw new Error(`task data not laid out as ours: ${line.slice(0, 40)}`);
  const before = lines.get(key);
  if (before !== undefined && before !== line) throw new Error(`${key} stands for two things`);
  lines.set(key, line);
}
