import { download } from "./download.ts";
import { taken } from "./taken.ts";

/** One of the sheets made for print as its HTML text; null when it could not be made. */
export async function takeSheet(path: string): Promise<string | null> {
  const sheet = await taken({ kind: "sheet", path });
  return sheet && new TextDecoder().decode(sheet.bytes);
}

/** Save one of the sheets made for print as a file of its own. */
export async function saveSheet(path: string): Promise<void> {
  const sheet = await taken({ kind: "sheet", path });
  if (sheet) download(sheet.name, sheet.bytes, "text/html");
}
