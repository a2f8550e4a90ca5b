export * from "./convert.ts";
export * from "./number-text.ts";
