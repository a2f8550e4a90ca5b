export { type Beside, besideParts } from "./beside-catch-ups.ts";
export { buildFiles } from "./build-files.ts";
export { type BuiltMap, builtMaps, loadsTaskData, placesTaken } from "./built-maps.ts";
export { catchUpFiles } from "./catch-up-files.ts";
export { type CatchUpPlace, catchUpPlace } from "./catch-up-place.ts";
export { checkFiles, type FileProblem, strangers } from "./check-files.ts";
export { catchUpByHand, loadedAs, toDelete } from "./display-names.ts";
export { type LedgerLook, type LedgerLookInput, lookInLedger } from "./ledger-look.ts";
export { loadFirstInWords } from "./load-words.ts";
export { loadedEarlier } from "./loaded-earlier.ts";
export {
  type Manifest,
  type ManifestFile,
  type ManifestInput,
  manifestPath,
  readManifest,
  writeManifest,
} from "./manifest.ts";
export { type CatchUpClash, catchUpClashes, mapFiles } from "./map-files.ts";
export { type FieldMark, noSticks, type StickPass, type StickRecord } from "./no-sticks.ts";
export { prescriptionPath } from "./paths.ts";
export {
  olderOn,
  type PreparedStick,
  prepareStick,
  type StickJob,
  type StickPlace,
} from "./prepare-stick.ts";
export { remainderFiles } from "./remainder-files.ts";
export { rangeOver, resultJson } from "./result-json.ts";
export { sameBytes } from "./same-bytes.ts";
export { type Stick, type StickMap, sheetsOfEarlier, stickPath } from "./stick-json.ts";
export { besideSet, cameBackDifferent, filesListed, journalPath } from "./stick-looks.ts";
export { readStickRecord, revisionLetter, writeStickRecord } from "./stick-record.ts";
export { type StickInput, type StickSet, stickSet } from "./stick-set.ts";
export { zerosInWords } from "./stick-sheet.ts";
