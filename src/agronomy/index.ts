export type { OptionAnswers } from "./amount.ts";
export { type Caution, cautions } from "./cautions.ts";
export { type ReadyRule, type RuleChoice, readyRule } from "./compile-rule.ts";
export type { CompiledRule } from "./compiled.ts";
export {
  type Conversion,
  conversionById,
  conversions,
  conversionsBetween,
  convertTest,
} from "./conversions.ts";
export { elementOf } from "./element-of.ts";
export { cropsOf, guideById, guideIds, guides } from "./guide-list.ts";
export {
  type GuideConfirmation,
  type GuideStatus,
  guideNotices,
  guideStatus,
  recalledConstants,
} from "./guide-notices.ts";
export { readGuide } from "./guide-schema.ts";
export {
  additionCountsOf,
  buildUpYearsOf,
  criticalLevelOf,
  guideRemoval,
  jumpsOf,
  type LevelQuery,
  ruleOf,
} from "./levels.ts";
export { overrideConstants } from "./override-constants.ts";
export { type OwnClassTable, type OwnGuide, type OwnLineTable, ownGuide } from "./own-guide.ts";
export { plainNumber } from "./plain-number.ts";
export { checkYield, type Recommendation, type RecommendInput, recommend } from "./recommend.ts";
export { type RemovalFactor, removalFactor, removalFactors } from "./removal-factors.ts";
export { roundToStep } from "./round-to-step.ts";
export { kMethods, methodInWords, pMethods, type TestReading, testMethodFrom } from "./test-method.ts";
export type {
  Addition,
  Amount,
  BuildUpForm,
  ClassesForm,
  Constant,
  CriticalLevel,
  EquationForm,
  Form,
  Guide,
  GuideOption,
  Nutrient,
  PiecesForm,
  RaiseToForm,
  RateClass,
  RemovalTerm,
  Rule,
  Status,
  TestMethod,
} from "./types.ts";
