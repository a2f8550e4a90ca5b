import { type Notice, oneWord, type Question, QuestionError } from "../errors/index.ts";
import { counted } from "../units/index.ts";

/** One visit to a field with the probe. */
export interface Sampling {
  readonly id: string;
  /** YYYY-MM-DD; left out where nobody says. */
  readonly date?: string;
  /** What stands in place of a date and is not read. */
  readonly unreadDate?: string;
  readonly tests: readonly ("P" | "K" | "CEC")[];
  readonly depthIn?: number;
  readonly lab?: string;
  /** How many; left out where it is not known. */
  readonly count?: number;
  /** How the cores lay to old fertilizer bands: `off the bands`, `1 in the row to 3 between`. */
  readonly coresToBands?: string;
}

interface SamplingChoice {
  /** Day the plan is made for, YYYY-MM-DD. */
  readonly today: string;
  /** Older samplings raise a notice; 4 years is a suggestion (sampling guides say every 3 to 4 years). */
  readonly limitYears?: number;
  /** Samples that a map takes at least; a newest sampling with fewer beside a fuller one is asked about. */
  readonly leastSamples?: number;
  /** Ids the user chose for this test; left out: the newest. */
  readonly chosen?: readonly string[];
  /** Names among the user's that no table has; they are asked about. */
  readonly unknown?: readonly string[];
  /** True once the user agreed to mix samplings on one surface, false once that was denied. */
  readonly mix?: boolean;
}

interface ChosenSamplings {
  /** One, or several where mixing was agreed to; newest first. */
  readonly samplings: readonly Sampling[];
  readonly notices: readonly Notice[];
}

/**
 * The sampling behind the surface of one test. The newest is offered, one dated after today only where there is no other.
 * Two of one day, a newest one with too few samples beside a fuller one, and several on one surface are asked about first.
 * What is left out is told, and how it is used too. Throws `QuestionError` (`sampling.P`, also when none has the test; `mix-samplings.P`).
 */
export function chooseSamplings(
  test: "P" | "K" | "CEC",
  samplings: readonly Sampling[],
  choice: SamplingChoice,
): ChosenSamplings {
  const withTest = samplings
    .filter((sampling) => sampling.tests.includes(test))
    .toSorted((a, b) => {
      const [isLate, isOtherLate] = [isAfter(a, choice.today), isAfter(b, choice.today)];
      if (isLate !== isOtherLate) return isLate ? 1 : -1;
      const [one, other] = [a.date ?? "", b.date ?? ""];
      return one < other ? 1 : one > other ? -1 : a.id < b.id ? -1 : 1;
    });
  const newest = withTest[0];
  const chosen =
    choice.chosen === undefined
      ? withTest.slice(0, 1)
      : withTest.filter((sampling) => choice.chosen!.includes(sampling.id));
  if (newest === undefined || chosen.length === 0) throw new QuestionError([noSampling(test, withTest)]);
  if (choice.unknown !== undefined && choice.unknown.length > 0) {
    const seen = `not there: ${choice.unknown.join(", ")}`;
    throw new QuestionError([{ ...noSampling(test, withTest), seen }]);
  }
  const unsure = choice.chosen === undefined ? whyNotNewest(withTest, choice) : null;
  if (unsure !== null) throw new QuestionError([{ ...noSampling(test, withTest), seen: unsure }]);
  if (chosen.length > 1 && choice.mix !== true) throw new QuestionError([mixing(test, chosen)]);

  const notices: Notice[] = [];
  if (choice.chosen === undefined && withTest.length > 1) {
    const undated = withTest.filter(({ date }) => date === undefined);
    const others = undated.map((sampling) => named(sampling)).join(", ");
    const used =
      undated.length === 0
        ? `the newest, ${named(newest)}, is used`
        : newest.date === undefined
          ? `${newest.id} is used, and which is the newest cannot be told: ${others}`
          : `${named(newest)} is used, the newest of those with a date; whether newer cannot be told: ${others}`;
    notices.push({
      code: "newest-sampling-used",
      message: `${withTest.length} samplings have ${test}; ${used}${countsOf(withTest)}${howToUseAll(test, withTest, choice)}`,
      where: newest.id,
    });
  }
  const leftOut = withTest.filter((one) => !chosen.includes(one));
  const isOlder = chosen.length === 1 && (chosen[0]!.date ?? "") < (newest.date ?? "");
  const mixesNothing =
    chosen.length === 1 && choice.mix === true
      ? `; mix-samplings.${test} mixes nothing while one is named alone`
      : "";
  if (choice.chosen !== undefined && leftOut.length > 0 && !isOlder) {
    notices.push({
      code: "sampling-left-out",
      message: `${test} comes from ${chosen.map(withCount).join(" and ")}; left out: ${leftOut.map(withCount).join(", ")}${mixesNothing}`,
      where: chosen[0]!.id,
    });
  }
  for (const sampling of choice.chosen === undefined ? withTest : chosen) {
    if (!isAfter(sampling, choice.today)) continue;
    const left = chosen.includes(sampling) ? "" : " it is not used;";
    notices.push({
      code: "sampling-in-future",
      message: `${named(sampling)} is dated after ${choice.today}, the day of the plan;${left} mend the date that is wrong`,
      where: sampling.id,
    });
  }
  const limitYears = choice.limitYears ?? 4;
  for (const sampling of chosen) {
    if (isOlder) {
      notices.push({
        code: "older-sampling-chosen",
        message: `${test} comes from ${named(sampling)}; ${named(newest)} is newer${countsOf([sampling, ...leftOut])}${mixesNothing}`,
        where: sampling.id,
      });
    }
    if (sampling.date === undefined) {
      notices.push({
        code: "sampling-date-not-stated",
        message: `${sampling.id} ${sampling.unreadDate === undefined ? "does not say when it was taken" : `gives “${sampling.unreadDate}” as its day, which is not read`}; whether it is older than ${limitYears} years cannot be told`,
        where: sampling.id,
      });
    } else if (isOlderThan(sampling.date, choice.today, limitYears)) {
      notices.push({
        code: "sampling-old",
        message: `${sampling.id} was taken on ${sampling.date}, more than ${limitYears} years before ${choice.today}; sample again`,
        where: sampling.id,
      });
    }
    if (sampling.coresToBands === undefined) {
      notices.push({
        code: "cores-to-bands-not-stated",
        message: `${sampling.id} does not say how its cores lay to old bands; a core in a band reads high`,
        where: sampling.id,
      });
    }
  }
  if (chosen.length > 1) notices.push(...mixedNotices(test, chosen));
  return { samplings: chosen, notices };
}

const isAfter = ({ date }: Sampling, today: string): boolean => date !== undefined && date > today;

/** Why the newest is not simply taken; null where it is. */
function whyNotNewest(
  [newest, ...others]: readonly Sampling[],
  { today, leastSamples = 0 }: SamplingChoice,
): string | null {
  const same = others.filter(({ date }) => date !== undefined && date === newest!.date);
  if (same.length > 0) return `${[newest!, ...same].map(named).join(" and ")} are of one day`;
  const isFew = ({ count }: Sampling): boolean => count !== undefined && count < leastSamples;
  const fuller = others.filter((one) => one.count !== undefined && !isFew(one) && !isAfter(one, today));
  if (!isFew(newest!) || fuller.length === 0) return null;
  const have = fuller.map((one) => `${named(one)} has ${one.count}`).join(", ");
  return `the newest, ${named(newest!)}, has ${counted(newest!.count!, "sample")}, fewer than a map takes; ${have}`;
}

/** How many samples each has, the one used first; empty where that is not known. */
function countsOf([used, ...others]: readonly Sampling[]): string {
  if (used?.count === undefined || others.some(({ count }) => count === undefined)) return "";
  return ` (${counted(used.count, "sample")}; ${others.map((one) => `${named(one)}: ${one.count}`).join(", ")})`;
}

/** The answer that takes all of them, one dated after the plan aside; empty where mixing was denied. */
function howToUseAll(test: string, withTest: readonly Sampling[], { today, mix }: SamplingChoice): string {
  const all = withTest.filter((one) => !isAfter(one, today));
  if (all.length < 2 || mix === false) return "";
  const answer = oneWord(`sampling.${test}=${together(all)}`);
  const alone = mix === true ? `mix-samplings.${test} mixes nothing while one is used; ` : "";
  return `; ${alone}where they are one sampling, the answer ${answer}, or samplings in plan.json, takes ${all.length === 2 ? "both" : `all ${all.length}`}`;
}

/** Several as one answer names them. */
const together = (samplings: readonly Sampling[]): string => samplings.map(({ id }) => id).join(", ");

/** Those that may be one sampling in two tables: of the newest's day, where there are several, else all. */
function mayBeOne(withTest: readonly Sampling[]): readonly Sampling[] {
  const same = withTest.filter(({ date }) => date !== undefined && date === withTest[0]!.date);
  return same.length > 1 ? same : withTest;
}

const withCount = (sampling: Sampling): string =>
  `${named(sampling)}${sampling.count === undefined ? "" : ` (${counted(sampling.count, "sample")})`}`;

/** A sampling with its day; that its id ends with where a table holds several is not said twice. */
const named = (sampling: Sampling): string =>
  `${sampling.id.replace(/ \d{4}-\d{2}-\d{2}$/, "")} of ${dayOf(sampling)}`;

const dayOf = ({ date, unreadDate }: Sampling): string =>
  date ?? (unreadDate === undefined ? "a day not stated" : `“${unreadDate}”, a day not read`);

/** Whether a day lies more than so many years before another, by the calendar. */
export function isOlderThan(date: string, today: string, years: number): boolean {
  const [year = 0, ...rest] = today.split("-");
  const limit = [String(Number(year) - years).padStart(4, "0"), ...rest].join("-");
  return date < limit;
}

const noSampling = (test: string, withTest: readonly Sampling[]): Question => ({
  key: `sampling.${test}`,
  text: `Which sampling gives ${test}?`,
  choices: [
    ...withTest.map((sampling) => sampling.id),
    ...(withTest.length > 1 ? [together(mayBeOne(withTest))] : []),
  ],
  seen: withTest.length === 0 ? `no sampling has ${test}` : "the sampling named is not there",
});

const mixing = (test: string, chosen: readonly Sampling[]): Question => ({
  key: `mix-samplings.${test}`,
  text: `May ${chosen.length} samplings be mixed on one map of ${test}?`,
  choices: ["yes", "no"],
  seen: chosen.map((sampling) => named(sampling)).join(", "),
});

function mixedNotices(test: string, chosen: readonly Sampling[]): Notice[] {
  const notices: Notice[] = [
    {
      code: "samplings-mixed",
      message: `the map of ${test} mixes ${chosen.map(withCount).join(" and ")}`,
      where: test,
    },
  ];
  for (const [key, word] of [
    ["depthIn", "depths"],
    ["lab", "laboratories"],
  ] as const) {
    const kinds = [...new Set(chosen.map((sampling) => String(sampling[key] ?? "not stated")))];
    if (kinds.length > 1) {
      notices.push({
        code: `samplings-of-different-${word}`,
        message: `the samplings mixed for ${test} have different ${word}: ${kinds.join(", ")}`,
        where: test,
      });
    }
  }
  return notices;
}
