export { type Answers, isKnownAnswerKey } from "./answers.ts";
export { PlanDocument } from "./document.ts";
export type * from "./document-types.ts";
export type { FileSource } from "./file-source.ts";
export { type NewPlan, newPlan } from "./new-plan.ts";
export { readPlan, writePlan } from "./read-plan.ts";
export type * from "./result-types.ts";
export { type Progress, type RunOptions, run } from "./run.ts";
export { createStageCache, type StageCache } from "./stage.ts";
