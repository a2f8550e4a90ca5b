import { takeDrop } from "./drop-state.ts";
import { gatherFiles } from "./gather.ts";

/** The browser's own file picker, for those who do not drag. */
export function askForFiles(): void {
  const input = document.createElement("input");
  input.type = "file";
  input.multiple = true;
  input.onchange = () => {
    if (input.files) void takeDrop(gatherFiles(input.files));
  };
  input.click();
}
