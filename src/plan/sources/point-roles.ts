import { hasLogColumns } from "../../formats/index.ts";
import { counted } from "../../units/index.ts";
import type { AnswerReader } from "../document/answers.ts";
import type { InputFile } from "./input-file.ts";

/** What the points of a file can be for a plan whose samples they are not. */
export type PointRole = "exclusions" | "unused";

const ROLES: readonly PointRole[] = ["exclusions", "unused"];

const pointsOf = ({ layers, table, questions }: InputFile): number => {
  const shapes = layers.flatMap(({ features }) => features);
  const isPoints = shapes.every(({ geometry }) => geometry?.kind === "point");
  // A log of work done says what it is.
  const isLog = layers.some(({ columns }) => hasLogColumns(columns.map(({ name }) => name)));
  return table === null && questions.length === 0 && isPoints && !isLog ? shapes.length : 0;
};

/** The role of each file of points alone, by path, as it was answered under `role.PATH`. */
export const pointRoles = (
  inputs: readonly InputFile[],
  reader: AnswerReader,
): ReadonlyMap<string, PointRole> =>
  new Map(
    inputs.flatMap((input) => {
      const role = ROLES.find((one) => one === reader.answered(`role.${input.path}`));
      return role === undefined || pointsOf(input) === 0 ? [] : [[input.path, role] as const];
    }),
  );

/** Asks what the points of each file are; `known`: files that were answered for, or that hold the places of samples. */
export function askPointRoles(
  inputs: readonly InputFile[],
  known: readonly string[],
  reader: AnswerReader,
): void {
  for (const input of inputs) {
    const count = pointsOf(input);
    if (count === 0 || known.includes(input.path)) continue;
    const text = `What are the points of ${input.path}: places to keep clear of, or nothing that the plan uses?`;
    reader.addOpen({
      key: `role.${input.path}`,
      text,
      choices: ROLES,
      seen: `${counted(count, "point")} without soil tests`,
    });
  }
}
