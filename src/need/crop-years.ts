import { buildUpYearsOf, type Guide, type Nutrient, type OptionAnswers } from "../agronomy/index.ts";
import type { Notice } from "../errors/index.ts";

/** Where a field stands in the years over which its tests are raised. */
export interface BuildUpYear {
  /** 1 in the first season the test serves. */
  readonly year: number;
  readonly of: number;
  /** Over: the raise stops until a new test. */
  readonly isOver: boolean;
  readonly inWords: string;
  readonly notices: readonly Notice[];
}

/**
 * The year of build-up of a season; undefined where the guide builds nothing up.
 * `firstSeasonYear` is the first season the test in use serves; a new test starts the count again.
 */
export function buildUpYear(
  guide: Guide,
  firstSeasonYear: number,
  seasonYear: number,
  options: OptionAnswers = {},
): BuildUpYear | undefined {
  const years = buildUpYearsOf(guide, options);
  if (years === undefined) return undefined;
  const year = seasonYear - firstSeasonYear + 1;
  const isOver = year > years;
  return {
    year,
    of: years,
    isOver,
    inWords: isOver
      ? `the ${years} years of build-up ended with ${firstSeasonYear + years - 1}; removal alone until a new test`
      : `year ${year} of ${years} of build-up`,
    notices: isOver
      ? [
          {
            code: "build-up-over",
            message: `season ${seasonYear} is year ${year} after the test of ${guide.title}'s ${years} years of build-up: nothing more is built up without a new test`,
            where: guide.id,
          },
        ]
      : [],
  };
}

/** An earlier application that was meant for more than its own season. */
export interface CoveringApplication {
  readonly nutrient: Nutrient;
  readonly seasonYear: number;
  /** Crop years it was made for, its own season counted. */
  readonly yearsCovered: number;
}

/** Last season a nutrient is covered through by earlier applications; undefined when by none. */
export function coveredThrough(
  nutrient: Nutrient,
  applications: readonly CoveringApplication[],
): number | undefined {
  const ends = applications
    .filter((application) => application.nutrient === nutrient)
    .map((application) => application.seasonYear + application.yearsCovered - 1);
  return ends.length === 0 ? undefined : Math.max(...ends);
}

interface CoveredNeed {
  readonly lbPerAc: Float64Array;
  readonly coveredThrough: number | undefined;
  readonly notices: readonly Notice[];
}

/** The need of a season, zero where an application of an earlier season still covers it; NaN stays NaN. */
export function needAfterCover(
  nutrient: Nutrient,
  lbPerAc: Float64Array,
  seasonYear: number,
  applications: readonly CoveringApplication[],
): CoveredNeed {
  const earlier = applications.filter((application) => application.seasonYear < seasonYear);
  const end = coveredThrough(nutrient, earlier);
  if (end === undefined || end < seasonYear) return { lbPerAc, coveredThrough: end, notices: [] };
  return {
    lbPerAc: lbPerAc.map((rate) => (Number.isNaN(rate) ? rate : 0)),
    coveredThrough: end,
    notices: [
      {
        code: "nutrient-covered",
        message: `${nutrient} was applied for the years through ${end}: the need of ${seasonYear} is zero`,
        where: nutrient,
      },
    ],
  };
}
