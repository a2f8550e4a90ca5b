import { LEDGER_PATH } from "#core";
import type { NamedFile } from "../engine/protocol.ts";
import { fetchFile, planFolderOf, type ServedList } from "./served.ts";

/** The ledger beside the plan in the folder served, as it is now: empty where there is none, null where it does not come. */
export async function ledgerServed({ files }: ServedList): Promise<NamedFile[1] | null> {
  const path = `${planFolderOf(files) ?? ""}${LEDGER_PATH}`;
  if (!files.includes(path)) return new Uint8Array();
  try {
    return (await fetchFile("./opened/", path))[1];
  } catch {
    return null;
  }
}
