import { sum } from "../../numeric/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { EnteredLine } from "./applied-types.ts";

/** What a line has and what its readings give are of the same ground where their acres differ by no more (ours). */
export const SAME_GROUND_SHARE = 0.02;
/** The same of lines that somebody typed (ours). */
export const SAME_TYPED_GROUND_SHARE = 0.05;

export const lbOf = (lines: readonly EnteredLine[]): number => sum(lines.map(({ lb }) => lb));
export const acOf = (lines: readonly EnteredLine[]): number => sum(lines.map(({ areaAc }) => areaAc));

/** Typed or weighed, with no log behind it: nothing says where its pounds lie. */
export const isWithoutLog = ({ log, span }: EnteredLine): boolean => log === undefined && span === undefined;

/** Whether a field has room for the ground of lines beside what a log covers. */
export const hasRoomBeside = (
  { checked }: FieldResult,
  coveredAc: number,
  lines: readonly EnteredLine[],
): boolean => coveredAc + acOf(lines) <= (1 + SAME_GROUND_SHARE) * checked.areaAc;
