export {
  APPLIED_LIMITS,
  AS_PLANNED,
  appliedAcres,
  appliedShare,
  appliedSteps,
  nothingLaidInWords,
  offInWords,
  plannedLbPerAc,
} from "./applied-steps.ts";
export { assumedByKey, assumedInWords, unconfirmedInWords } from "./assumed-words.ts";
export { type BroadcastDot, broadcastDots } from "./broadcast-dots.ts";
export { cabSheet, type RestWords } from "./cab-sheet.ts";
export { type CapacityShown, capacityChart } from "./capacity-chart.ts";
export { assumedLine, capacityLines, loadWord } from "./capacity-lines.ts";
export { catchSpeeds, catchTest } from "./catch-test.ts";
export type { ChartOptions } from "./chart-parts.ts";
export { areaByClass, type Classes, type ClassWishes, classesFrom, classLimits, classOf } from "./classes.ts";
export { contour, regionsAbove, type Surface, surfaceOf } from "./contour.ts";
export { type DrawnField, mapOf, spreaderCellM } from "./drawn-field.ts";
export { drivingWords } from "./driving-words.ts";
export { fieldSheet } from "./field-sheet.ts";
export { fillPlat } from "./fill-plat.ts";
export {
  beyondTender,
  fillHereInWords,
  firstLoadsInWords,
  scalesInWords,
  unfilledInWords,
  waitInWords,
  waitsInWords,
} from "./fill-words.ts";
export { fillsInWords, fillsOfRun, fillsSheet, hasFills } from "./fills-sheet.ts";
export { dayText, finishChart } from "./finish-chart.ts";
export { firstOf } from "./first-of.ts";
export { GAP_IDS, type GapId, type GapRates, type GapSide, gapIdsOf, gapRates } from "./gap-rates.ts";
export { type CriticalLevels, criticalLevel } from "./guide-levels.ts";
export { guideInWords } from "./guide-words.ts";
export { lagInWords } from "./lag-words.ts";
export { analysisOf, laidIn } from "./laid-in.ts";
export type { Layer, LayerId, LayerOptions } from "./layer.ts";
export { layerIds, layerOf, testInWords } from "./layers.ts";
export { type LeftOut, leaveOneOutChart, type WrongSide, wrongSide } from "./leave-one-out-chart.ts";
export { classSwatch, type LegendOptions, legend } from "./legend.ts";
export { headingText, type LineFrame, lineFrame, windOf } from "./line-frame.ts";
export {
  type FileToLoad,
  type LoadForm,
  type LoadOrder,
  type LoadStep,
  loadOrder,
  usualForms,
} from "./load-order.ts";
export {
  analysisInWords,
  binInWords,
  flatRate,
  nitrogenLbPerAc,
  type StripSalt,
  stemOf,
  stripSalt,
} from "./map-words.ts";
export { binWords } from "./meter-page.ts";
export { noCatchUpInWords } from "./no-catch-up.ts";
export {
  acresText,
  areaIn,
  feetText,
  hourText,
  lbText,
  lengthIn,
  lengthText,
  massIn,
  rateIn,
  rateText,
  tonsText,
  type UnitSystem,
  type UnitWords,
  unitWords,
  usdText,
} from "./numbers.ts";
export { chanceBelowCritical, type Odds, oddsBelowCritical } from "./odds.ts";
export { bookedRow, hasOrderRecord, shortWords } from "./order-record.ts";
export { orderSheet } from "./order-sheet.ts";
export {
  allUsdText,
  boughtTonsText,
  costText,
  isPartPlaced,
  leftOnHandWords,
  orderSteps,
  placedWords,
  suppliersText,
} from "./order-steps.ts";
export { type PassPath, passPaths } from "./pass-paths.ts";
export { type PassRule, passRules } from "./pass-rules.ts";
export { aheadInWords } from "./planter-words.ts";
export { layoutOf, type PlatOptions, plat } from "./plat.ts";
export { type Inset, type PlatLayout, platLayout } from "./plat-layout.ts";
export { marker, neatLine, northArrow, scaleBar, scaleLength } from "./plat-marks.ts";
export { oxideText } from "./rate-layers.ts";
export { type ReadOut, type ReadOutRow, readOutOf } from "./read-out.ts";
export {
  type BalanceFigures,
  roundedParts,
  type ShownBalance,
  shownBalance,
  sumOfBalances,
} from "./rounded-parts.ts";
export { ALL_DONE, coatedInWords, hasSeason, seasonInWords, seasonSheet } from "./season-sheet.ts";
export { sheetFiles } from "./sheet-files.ts";
export {
  blendLines,
  blendParts,
  careLines,
  needPartInWords,
  passCostsInWords,
  type SplitLine,
  saltDoubt,
  splitLines,
  splitMethodInWords,
} from "./split-lines.ts";
export { standInWords, wholeStopsInWords } from "./stand-words.ts";
export { summary } from "./summary.ts";
export { cautionsInWords, takeCare } from "./take-care.ts";
export { noTenderGain } from "./tender-words.ts";
export { textTable } from "./text-table.ts";
export {
  type Colours,
  colours,
  type Inks,
  lineWeights,
  noneEdge,
  passShare,
  type RampName,
  ramps,
  textFaces,
  titleFaces,
} from "./tokens.ts";
export { bandDistances, type VariogramShown, variogramChart } from "./variogram-chart.ts";
export { weightChart } from "./weight-chart.ts";
