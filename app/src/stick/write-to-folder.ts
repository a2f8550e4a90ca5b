import type { FileSource, Plan } from "#core";
import { putOnStick, type StickJob, type StickTold } from "./put-on-stick.ts";
import { stickError } from "./stick-error.ts";
import { StickFolder } from "./stick-folder.ts";

/** `putOnStick` into the folder that the user chose; what the browser says against it comes in words. */
export async function writeToFolder(
  root: FileSystemDirectoryHandle,
  build: FileSource,
  plan: Plan,
  job: StickJob,
  onProgress: (done: number, total: number) => void,
): Promise<StickTold> {
  try {
    return await putOnStick(new StickFolder(root), build, plan, job, onProgress);
  } catch (error) {
    throw stickError(error, root.name);
  }
}
