import { download } from "./download.ts";
import { takeSheet } from "./take-maps.ts";

/** Save one of the sheets made for print as a file of its own. */
export async function saveSheet(path: string): Promise<void> {
  const html = await takeSheet(path);
  if (html === null) return;
  download(path.split("/").at(-1)!, new TextEncoder().encode(html), "text/html");
}
