export { buildFiles } from "./build-files.ts";
export { checkFiles, type FileProblem, strangers } from "./check-files.ts";
export {
  type Manifest,
  type ManifestFile,
  type ManifestInput,
  manifestPath,
  readManifest,
  writeManifest,
} from "./manifest.ts";
export { prescriptionPath } from "./paths.ts";
export { rangeOver, resultJson } from "./result-json.ts";
