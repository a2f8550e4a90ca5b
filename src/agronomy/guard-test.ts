import { InputError, type Notice } from "../errors/index.ts";
import { LB_PER_AC_PER_PPM } from "../units/index.ts";
import { type Conversion, conversionById, conversionsBetween, convertTest } from "./conversions.ts";
import { elementOf } from "./element-of.ts";
import { guides } from "./guide-list.ts";
import { plainNumber } from "./plain-number.ts";
import { roundToStep } from "./round-to-step.ts";
import { methodInWords, type TestReading, testMethodFrom } from "./test-method.ts";
import type { Guide, Nutrient, Rule, TestMethod } from "./types.ts";

/** The rule that takes a test, and the way from the test as reported to the test the rule wants. */
export interface GuardedTest {
  readonly rule: Rule;
  /** NaN stays NaN. */
  toGuideTest(reported: number): number;
  /** The same before it is rounded to the guide's step: a straight line, above 0. */
  beforeRounding(reported: number): number;
  /** What was done to the test, in words; empty when nothing was. */
  steps(reported: number): string[];
  /** In the unit of the guide. */
  readonly ownCriticalLevel: number | undefined;
  readonly notices: readonly Notice[];
}

/**
 * Finds the rule for a crop, nutrient and test, or refuses with the ways through. Never borrows a rule of
 * another crop and never converts a test unasked.
 * Throws `crop-not-in-guide`, `nutrient-not-in-guide`, `test-as-oxide`, `finish-not-stated`,
 * `test-method-mismatch`, `conversion-not-needed`, `conversion-does-not-fit`, `critical-level-does-not-fit`.
 */
export function guardTest(guide: Guide, crop: string, nutrient: Nutrient, reading: TestReading): GuardedTest {
  const rules = rulesFor(guide, crop, nutrient);
  const method = testMethodFrom(reading.method, nutrient);
  refuseOxide(reading, nutrient);
  const accepted = rules.flatMap((rule) => rule.methods);
  const notices: Notice[] = [];
  const where = `${guide.id} ${crop} ${nutrient}`;
  const direct = rules.find((rule) => takes(rule, method));

  const typed = reading.ownCriticalLevelPpm;
  let rule = direct;
  let conversion: Conversion | undefined;
  if (reading.conversion !== undefined) {
    conversion = conversionById(reading.conversion);
    rule = ruleAfter(conversion, guide, rules, method, direct, nutrient);
    notices.push(...conversionNotices(conversion, guide, where));
  } else if (rule === undefined && typed !== undefined) {
    rule = rules.find(hasCriticalLevel);
    if (rule === undefined) throw noCriticalLevel(guide, crop, nutrient);
  }
  if (rule === undefined) throw mismatch(guide, crop, nutrient, method, accepted);
  if (conversion === undefined && !rule.methods.includes(method) && typed === undefined) {
    notices.push({
      code: "finish-not-named",
      message: `${guide.title} says Mehlich-3 and the text read names no laboratory finish; the test is ${methodInWords(method)}`,
      where,
    });
  }
  // Typed for the test as reported, it goes the way the test goes.
  const ownPpm = typed === undefined || conversion === undefined ? typed : convertTest(conversion, typed);
  if (typed !== undefined && ownPpm !== undefined) {
    if (!hasCriticalLevel(rule)) throw noCriticalLevel(guide, crop, nutrient);
    const level = `the critical level of ${typed} ppm was typed by the user`;
    const kept =
      direct === undefined && conversion === undefined
        ? `${methodInWords(method)} is not a test of ${guide.title}; ${level} and the rest of the rule kept`
        : `${level} in place of the guide's`;
    const turned = conversion === undefined ? "" : `; by ${conversion.id} it is ${plainNumber(ownPpm)} ppm`;
    notices.push({ code: "critical-level-typed", message: kept + turned, where });
  }
  notices.push(...unitNotices(guide, reading, where), ...depthNotices(guide, reading, where));

  const reported = reading.unit ?? "ppm";
  const intoPpm = reported === "lb/ac" ? 1 / LB_PER_AC_PER_PPM : 1;
  const fromPpm = guide.testUnit === "lb/ac" ? LB_PER_AC_PER_PPM : 1;
  const step = guide.rounding.testTo;
  const factor = intoPpm * fromPpm;
  const beforeRounding = (value: number): number =>
    conversion === undefined ? value * factor : convertTest(conversion, value * intoPpm) * fromPpm;
  const toGuideTest = (value: number): number =>
    step === null ? beforeRounding(value) : roundToStep(beforeRounding(value), step);

  function steps(value: number): string[] {
    const element = elementOf(nutrient);
    const lines: string[] = [];
    if (conversion !== undefined) {
      lines.push(
        `${plainNumber(value)} ${reported} ${methodInWords(method)} ${element} becomes ${plainNumber(beforeRounding(value))} ${guide.testUnit} ${methodInWords(conversion.to)} by ${conversion.id}.`,
      );
    } else if (factor !== 1) {
      lines.push(
        `${plainNumber(value)} ${reported} ${element} is ${plainNumber(beforeRounding(value))} ${guide.testUnit} (1 ppm = ${LB_PER_AC_PER_PPM} lb/ac).`,
      );
    }
    if (step !== null && toGuideTest(value) !== beforeRounding(value)) {
      lines.push(
        `The guide's limits are whole: ${plainNumber(beforeRounding(value))} counts as ${plainNumber(toGuideTest(value))} ${guide.testUnit}.`,
      );
    }
    return lines;
  }

  return {
    rule,
    toGuideTest,
    beforeRounding,
    steps,
    ownCriticalLevel: ownPpm === undefined ? undefined : ownPpm * fromPpm,
    notices,
  };
}

function rulesFor(guide: Guide, crop: string, nutrient: Nutrient): Rule[] {
  const crops = [...new Set(guide.rules.map((rule) => rule.crop))];
  if (!crops.includes(crop)) {
    throw new InputError(
      "crop-not-in-guide",
      `${guide.title} (${guide.id}) has no rule for ${crop}; it has ${crops.join(", ")}`,
      "Choose another guide or enter your own table; no rule is borrowed from another crop.",
    );
  }
  const rules = guide.rules.filter((rule) => rule.crop === crop && rule.nutrient === nutrient);
  if (rules.length === 0) {
    const others = guide.rules.filter((rule) => rule.nutrient === nutrient).map((rule) => rule.crop);
    const has =
      others.length === 0 ? "" : `; its ${nutrient} rules are for ${[...new Set(others)].join(", ")}`;
    throw new InputError(
      "nutrient-not-in-guide",
      `${guide.title} (${guide.id}) has no ${nutrient} rule for ${crop}${has}`,
      "Choose another guide for this nutrient or enter your own table; no rule is borrowed.",
    );
  }
  return rules;
}

function refuseOxide(reading: TestReading, nutrient: Nutrient): void {
  if (reading.basis !== "oxide") return;
  throw new InputError(
    "test-as-oxide",
    `the soil test is reported as ${nutrient}, guides read elemental ${elementOf(nutrient)}`,
    "Ask the laboratory for the elemental figure; an oxide figure is not used in a recommendation.",
  );
}

const hasFinish = (method: TestMethod): boolean =>
  method === "mehlich-3-icp" || method === "mehlich-3-colorimetric";

/** A rule that says Mehlich-3 without a finish takes both finishes (with a notice). */
const takes = (rule: Rule, method: TestMethod): boolean =>
  rule.methods.includes(method) || (hasFinish(method) && rule.methods.includes("mehlich-3"));

const hasCriticalLevel = (rule: Rule): boolean =>
  rule.form.kind === "build-up" || rule.form.kind === "raise-to";

function ruleAfter(
  conversion: Conversion,
  guide: Guide,
  rules: readonly Rule[],
  method: TestMethod,
  direct: Rule | undefined,
  nutrient: Nutrient,
): Rule {
  if (direct !== undefined) {
    throw new InputError(
      "conversion-not-needed",
      `${guide.id} takes ${methodInWords(method)} as it is; conversion ${conversion.id} was asked for`,
      "Leave the conversion out.",
    );
  }
  const rule = rules.find((entry) => takes(entry, conversion.to));
  if (conversion.nutrient !== nutrient || !conversion.from.includes(method) || rule === undefined) {
    throw new InputError(
      "conversion-does-not-fit",
      `conversion ${conversion.id} goes from ${conversion.from.join(" or ")} to ${conversion.to}; the test is ${method} and ${guide.id} takes ${rules.flatMap((entry) => entry.methods).join(", ")}`,
      "Name a conversion that starts at the test and ends at the guide, or choose another guide.",
    );
  }
  return rule;
}

function conversionNotices(conversion: Conversion, guide: Guide, where: string): Notice[] {
  const others = conversionsBetween(conversion.from[0] ?? "", [conversion.to]);
  const rival = [...others, ...conversionsBetween("mehlich-3-icp", [conversion.to])].find(
    (entry) => entry.id !== conversion.id && entry.guides.some((id) => conversion.guides.includes(id)),
  );
  const example = 22;
  const compare =
    rival === undefined
      ? ""
      : `; ${example} ppm gives ${plainNumber(convertTest(conversion, example), 1)} by it and ${plainNumber(convertTest(rival, example), 1)} by ${rival.id}: the two published rules disagree`;
  const notices: Notice[] = [
    {
      code: "conversion-used",
      message: `test converted by ${conversion.id} (${conversion.region}; ${conversion.source}; ${conversion.status})${compare}`,
      where,
    },
  ];
  if (!conversion.guides.includes(guide.id)) {
    notices.push({
      code: "conversion-other-region",
      message: `${conversion.id} was published for ${conversion.region}; ${guide.title} is for ${guide.region}`,
      where,
    });
  }
  return notices;
}

function mismatch(
  guide: Guide,
  crop: string,
  nutrient: Nutrient,
  method: TestMethod,
  accepted: readonly TestMethod[],
): InputError {
  const wants = [...new Set(accepted)].map(methodInWords).join(", ");
  if (method === "mehlich-3" && accepted.some(hasFinish)) {
    return new InputError(
      "finish-not-stated",
      `${guide.title} (${guide.id}) reads ${nutrient} from ${wants}; the test says Mehlich-3 and not how it was read`,
      "Ask the laboratory for the finish and say mehlich-3-icp or mehlich-3-colorimetric.",
    );
  }
  const otherGuides = guides
    .filter((entry) =>
      entry.rules.some((rule) => rule.crop === crop && rule.nutrient === nutrient && takes(rule, method)),
    )
    .map((entry) => entry.id);
  const ways = [
    otherGuides.length > 0 ? `choose another guide (${otherGuides.join(", ")})` : "choose another guide",
    ...conversionsBetween(method, accepted).map(
      (entry) => `ask for the conversion ${entry.id} (${entry.region}, ${entry.status})`,
    ),
    "type a critical level for this test",
  ];
  return new InputError(
    "test-method-mismatch",
    `${guide.title} (${guide.id}) reads ${crop} ${nutrient} from ${wants}; the test is ${methodInWords(method)}`,
    `Ways through: ${ways.join("; ")}.`,
  );
}

const noCriticalLevel = (guide: Guide, crop: string, nutrient: Nutrient): InputError =>
  new InputError(
    "critical-level-does-not-fit",
    `the ${crop} ${nutrient} rule of ${guide.title} (${guide.id}) has no critical level to put another in place of`,
    "Choose another guide or enter your own table.",
  );

function unitNotices(guide: Guide, reading: TestReading, where: string): Notice[] {
  const notices: Notice[] = [];
  const left = [
    reading.unit === undefined ? "ppm" : "",
    reading.basis === undefined ? "elemental" : "",
    reading.depthIn === undefined ? "at the guide's own depth" : "",
  ].filter((word) => word !== "");
  if (left.length > 0) {
    const own = guide.depthIn === null ? "the guide's own depth" : `the guide's own ${guide.depthIn} in.`;
    // Of a lab's table only the depth may be left open, and whether it is the guide's nobody has said.
    const isDepthAlone = left.length === 1 && reading.depthIn === undefined;
    const message = isDepthAlone
      ? `how deep the samples go is not known; the test is read as if they went to ${own}, and is off where they did not`
      : `the test is taken as ${left.join(", ")}`;
    notices.push({ code: "test-assumed", message, where });
  }
  if ((reading.unit ?? "ppm") !== guide.testUnit) {
    notices.push({
      code: "test-unit-converted",
      message: `${guide.title} reads tests in ${guide.testUnit}; the test in ${reading.unit ?? "ppm"} was carried over at 1 ppm = ${LB_PER_AC_PER_PPM} lb/ac`,
      where,
    });
  }
  return notices;
}

function depthNotices(guide: Guide, reading: TestReading, where: string): Notice[] {
  if (reading.depthIn === undefined || guide.depthIn === null || reading.depthIn === guide.depthIn) return [];
  return [
    {
      code: "depth-differs",
      message: `sampled ${reading.depthIn} in. deep, ${guide.title} assumes ${guide.depthIn} in. (${guide.depthStatus}); the test is used as it is`,
      where,
    },
  ];
}
