export { commonCeiling } from "./common-ceiling.ts";
export { type Split, type SplitInput, splitByCeiling } from "./split-by-ceiling.ts";
