/** The engine's table of contents for the page, the command line's users and programs that import it. */
export * from "./agronomy/index.ts";
export * from "./errors/index.ts";
export { readZip, writeZip } from "./formats/index.ts";
export * from "./plan/index.ts";
export * from "./publish/index.ts";
export * from "./report/index.ts";
export * from "./units/index.ts";
