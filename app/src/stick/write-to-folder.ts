import type { FileSource, Plan } from "#core";
import { putOnStick, type StickErrand, type StickHearers, type StickTold } from "./put-on-stick.ts";
import { stickError } from "./stick-error.ts";
import { StickFolder } from "./stick-folder.ts";

/** `putOnStick` into the folder that the user chose; what the browser says against it comes in words. */
export async function writeToFolder(
  root: FileSystemDirectoryHandle,
  build: FileSource,
  plan: Plan,
  errand: StickErrand,
  hearers: StickHearers,
): Promise<StickTold> {
  try {
    return await putOnStick(new StickFolder(root), build, plan, errand, hearers);
  } catch (error) {
    throw stickError(error, root.name);
  }
}
